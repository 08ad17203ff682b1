import { defineConfig } from 'vitest/config'

/** Real editors take their time: one after the other, long limits. Installing the hosts the first time takes minutes. */
export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/editor/**/*.test.ts'],
    globalSetup: ['tests/editor/hosts/setup.ts'],
    testTimeout: 250_000,
    hookTimeout: 250_000,
    fileParallelism: false,
    pool: 'forks',
  },
})
