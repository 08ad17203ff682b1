import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/editor/**'],
    testTimeout: 60_000,
    pool: 'threads',
    // Each file would import the whole pipeline anew; no file leaves anything behind that another could meet.
    isolate: false,
  },
  // Rule pages are read as text by the bundler and by the tests alike.
  assetsInclude: ['**/*.md'],
})
