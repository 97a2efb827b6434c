// npm run mutate -- --mutate src/gate/criteria.ts: changes the code in small ways and tells which changes no test notices. On request only:
// all of the core takes hours on two cores. Reports lie in reports/ (ignored).
export default {
  plugins: ['@stryker-mutator/vitest-runner'],
  testRunner: 'vitest',
  vitest: { configFile: 'tests/mutate.config.ts' },
  mutate: ['src/{checks,colour,gate,pictures,tokens,triage}/**/*.ts'],
  coverageAnalysis: 'perTest',
  // Tables and parameters are made when a module is loaded: each of them would cost a run of all tests.
  ignoreStatic: true,
  concurrency: 2,
  timeoutMS: 20_000,
  reporters: ['clear-text', 'json'],
  clearTextReporter: { allowColor: false, reportTests: false },
  jsonReporter: { fileName: 'reports/mutation.json' },
  tempDirName: 'reports/under-way',
  ignorePatterns: ['dist', 'docs/pictures', 'reports'],
};
