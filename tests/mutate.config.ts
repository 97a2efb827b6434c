// Tests that mutated code is held against (`npm run mutate`): the pure ones of the core; with GLOAM_MUTATED=triage those of that folder alone.
import { defineConfig } from 'vitest/config';
import { BaseSequencer } from 'vitest/node';
import type { TestSpecification } from 'vitest/node';

const folders = process.env['GLOAM_MUTATED'] ?? '{checks,colour,gate,pictures,tokens,triage,tables,explore}';

/** Slow ones, in the order they are asked: most changes are noticed by a quick test, and the first that fails ends the run. */
const SLOW = [
  'tokens/growth',
  'tokens/hostile',
  'tokens/fuzz',
  'pictures/explain-regions',
  'triage/page-tables',
  'triage/whole-causes',
];

class ShortestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return [...sorted].sort((a, b) => rankOf(a) - rankOf(b));
  }
}

const rankOf = ({ moduleId }: TestSpecification): number => SLOW.findIndex((name) => moduleId.includes(`/tests/${name}`));

export default defineConfig({
  test: {
    include: [`tests/${folders}/**/*.test.ts`],
    // Twenty apps with planted faults, triaged anew for each change: a quarter of an hour for fifty of them. What it notices comes on top.
    exclude: ['tests/triage/planted-faults.test.ts'],
    sequence: { sequencer: ShortestFirst },
    // What files import is loaded once for each change.
    isolate: false,
    testTimeout: 30_000,
  },
});
