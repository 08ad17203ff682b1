// How what only this checkout runs (bench, faults, fuzz, endurance) is bundled: through a loader of TypeScript it would be
// several times slower.
/** @type {import('esbuild').BuildOptions} */
export const forNode = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  mainFields: ['module', 'main'],
  logLevel: 'warning',
  loader: { '.md': 'text', '.css': 'text' },
}
