import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/longest-first.ts';

// Two projects: `pure` needs nothing but Node; `browser` drives a real Chromium, the built command line and servers.
const BROWSER = ['tests/browser/**', 'tests/cli/**', 'tests/ui/**', 'tests/scenarios/**', 'tests/package/**'];

export default defineConfig({
  test: {
    reporters: ['default', './tests/closing-line.ts'],
    sequence: { sequencer: LongestFirst },
    // Three files at once on two cores: a file that drives a browser waits for almost half of its time.
    maxWorkers: 3,
    projects: [
      {
        test: {
          name: 'pure',
          include: ['tests/**/*.test.ts'],
          exclude: BROWSER,
          testTimeout: 30_000,
          // Files share a worker and what it has loaded: loading took a third of the time, and none of them changes what another sees.
          isolate: false,
        },
      },
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
