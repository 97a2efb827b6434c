// The order of test files: the long ones first, so that no worker is left alone with one in the end. Without it a fresh checkout goes by
// the size of files, and small files with large tables come last.
import { BaseSequencer } from 'vitest/node';
import type { TestSpecification } from 'vitest/node';

/** Files that take more than twenty seconds on two cores, the longest first (measured; only their order counts). */
const LONGEST = [
  'cli/docs-commands',
  'cli/unchanged',
  'browser/false-green/false-green',
  'cli/many-machines',
  'browser/session/hostile',
  'browser/session/robustness',
  'browser/checks/harbour',
  'ui/own-looks',
  'cli/init-libraries',
  'cli/init-explore',
  'ledger/killed',
  'browser/dye/tracing',
  'browser/session/theme-ways',
  'ui/screens',
  'ui/access',
  'browser/session/steadiness',
  'cli/nights',
  'cli/forecast',
  'cli/exempt',
  'cli/first-half-hour',
  'cli/framework-repairs',
  'cli/init',
  'cli/night',
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
