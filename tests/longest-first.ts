// The order of test files: the long ones first, so that no worker is left alone with one in the end. Without it a fresh checkout goes by
// the size of files, and small files with large tables come last.
import { BaseSequencer } from 'vitest/node';
import type { TestSpecification } from 'vitest/node';

/** Files that take more than half a minute on two cores, the longest first (measured; only their order counts). */
const LONGEST = [
  'cli/docs-commands',
  'cli/many-machines',
  'cli/unchanged',
  'browser/session/hostile',
  'cli/init-libraries',
  'browser/session/robustness',
  'browser/checks/harbour',
  'cli/nights',
  'ui/own-looks',
  'cli/forecast',
  'cli/framework-repairs',
  'browser/false-green/false-green',
  'cli/run',
  'ledger/killed',
  'ui/access',
  'cli/exempt',
  'browser/dye/tracing',
  'cli/first-half-hour',
  'cli/init-explore',
  'ui/screens',
  'cli/night',
  'browser/session/theme-ways',
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
