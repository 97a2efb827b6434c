import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/longest-first.ts';
import { postgresPrograms } from './bench/cluster.ts';

// Two projects: `pure` needs nothing but Node; `browser` drives a real Chromium, the built command line and servers.
const POSTGRES = postgresPrograms();
if (POSTGRES === null)
  console.warn(
    'PostgreSQL is not installed: the tests of the store run on SQLite alone. To run them on both, install its server (Debian: apt-get install postgresql), or name its programs with GLOAM_TEST_PG_BIN.',
  );

const BROWSER = ['tests/browser/**', 'tests/cli/**', 'tests/ui/**', 'tests/scenarios/**', 'tests/package/**'];

export default defineConfig({
  test: {
    reporters: ['default', './tests/closing-line.ts'],
    sequence: { sequencer: LongestFirst },
    // Three files at once on two cores: a file that drives a browser waits for almost half of its time.
    maxWorkers: 3,
    // Within a file that says so (`concurrent`): its tests wait for pages to rest most of the time.
    maxConcurrency: 4,
    projects: [
      {
        test: {
          name: 'pure',
          include: ['tests/**/*.test.ts'],
          exclude: [...BROWSER, 'tests/postgres/**'],
          testTimeout: 30_000,
          // Files share a worker and what it has loaded: loading took a third of the time, and none of them changes what another sees.
          isolate: false,
        },
      },
      // The tests of the store once more, on the other engine.
      ...(POSTGRES === null
        ? []
        : [
            {
              test: {
                name: 'postgres',
                include: ['tests/ledger/*.test.ts', 'tests/gate/judge-run.test.ts', 'tests/postgres/*.test.ts'],
                // What they are about is one engine's own.
                exclude: ['blobs', 'damage', 'killed', 'lock', 'migrations'].map((name) => `tests/ledger/${name}.test.ts`),
                globalSetup: './tests/postgres/provide-cluster.ts',
                testTimeout: 60_000,
                isolate: false,
              },
            },
          ]),
      {
        test: {
          name: 'browser',
          include: BROWSER.map((folder) => `${folder}/*.test.ts`),
          testTimeout: 120_000,
          hookTimeout: 120_000,
          // The command line of what was compiled last.
          globalSetup: './bundle-cli.mjs',
          // As above; each file closes the browsers and servers it opened.
          isolate: false,
          // Real browsers on shared cores: wait for a condition up to a deadline, and in CI give a lost tab a second chance.
          expect: { poll: { timeout: 15_000 } },
          retry: process.env['CI'] === undefined ? 0 : 2,
        },
      },
    ],
  },
});
