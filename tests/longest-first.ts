// The order of test files: the long ones first, so that no worker is left alone with one in the end. Without it a fresh checkout goes by
// the size of files, and small files with large tables come last.
import { BaseSequencer } from 'vitest/node';
import type { TestSpecification } from 'vitest/node';

/** Files that take more than half a minute on two cores, the longest first (measured; only their order counts). */
const LONGEST = [
  'browser/false-green/false-green',
  'cli/docs-commands',
  'cli/unchanged',
  'cli/exempt',
  'cli/nights',
  'browser/dye/tracing',
  'browser/session/hostile',
  'browser/session/theme-ways',
  'cli/run',
  'cli/init-libraries',
  'browser/checks/harbour',
  'cli/init-explore',
  'ui/own-looks',
  'browser/session/robustness',
  'cli/forecast',
];

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return [...sorted].sort((a, b) => rankOf(a) - rankOf(b));
  }
}

/** Pure files come last: they are short and fill what is left. */
function rankOf({ moduleId, project }: TestSpecification): number {
  const place = LONGEST.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
  if (place !== -1) return place;
  return project.name === 'pure' ? LONGEST.length + 1 : LONGEST.length;
}
