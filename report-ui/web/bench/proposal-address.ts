// A proposal in the address, so that it is kept, shared by link and undone by the browser: `[[token, theme, to], …]` as JSON.
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import { readChange } from '../../../src/forecast/proposal.ts';

export function writeProposal(changes: readonly ProposedChange[]): string {
  return changes.length === 0 ? '' : JSON.stringify(changes.map(({ token, theme, to }) => [token, theme, to]));
}

/** What is not understood is left out: a link may have been cut. */
export function readProposal(text: string | undefined): readonly ProposedChange[] {
  if (text === undefined || text === '') return [];
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    return [];
  }
  if (!Array.isArray(parsed)) return [];
  return parsed.flatMap((each: unknown): ProposedChange[] => {
    if (!Array.isArray(each)) return [];
    const [token, theme, to] = each.map(String);
    if (token === undefined || theme === undefined || to === undefined) return [];
    const change = { token, theme, to };
    return readChange(change) === null ? [] : [change];
  });
}

/** One declaration has one change: the later one takes the place of the earlier. */
export function withChange(
  changes: readonly ProposedChange[],
  change: ProposedChange,
  isSame: (one: ProposedChange, other: ProposedChange) => boolean,
): readonly ProposedChange[] {
  const at = changes.findIndex((each) => isSame(each, change));
  return at < 0 ? [...changes, change] : changes.map((each, place) => (place === at ? change : each));
}
