// npm run mutate -- --mutate src/gate/criteria.ts: changes the code in small ways and tells which changes no test notices. On request only:
// all of the core takes hours. Reports lie in reports/ (ignored). It leaves the other cores to you.
/** Which folder's own tests are asked; all of them unless set (`tests/mutate.config.ts`). */
const folder = process.env['GLOAM_MUTATED'];

export default {
  plugins: ['@stryker-mutator/vitest-runner'],
  testRunner: 'vitest',
  vitest: { configFile: 'tests/mutate.config.ts' },
  mutate: ['src/{checks,colour,gate,pictures,tokens,triage}/**/*.ts'],
  coverageAnalysis: 'perTest',
  // Tables and parameters are made when a module is loaded: each of them would cost a run of all tests.
  ignoreStatic: true,
  concurrency: 1,
  timeoutMS: 5_000,
  reporters: ['clear-text', 'json'],
  clearTextReporter: { allowColor: false, reportTests: false },
  jsonReporter: { fileName: folder === undefined ? 'reports/mutation.json' : `reports/mutation-${folder}.json` },
  tempDirName: 'reports/under-way',
  ignorePatterns: ['dist', 'docs/pictures', 'reports'],
};
