// A proposal in the address, so that it is kept, shared by link and undone by the browser: `[[token, theme, to], …]` as JSON;
// of a token that is added, the one it stands behind too.
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import { readChange } from '../../../src/forecast/proposal.ts';

export function writeProposal(changes: readonly ProposedChange[]): string {
  return changes.length === 0
    ? ''
    : JSON.stringify(changes.map(({ token, theme, to, beside }) => [token, theme, to, ...(beside === undefined ? [] : [beside])]));
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
    const [token, theme, to, beside] = each.map(String);
    if (token === undefined || theme === undefined || to === undefined) return [];
    const change = { token, theme, to, ...(beside === undefined ? {} : { beside }) };
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
  return at < 0 ? [...changes, change] : changes.map((each, place) => (place === at ? { ...each, to: change.to } : each));
}

/** Token paths hold no blanks in what is written here: they are encoded. */
export function writePins(pins: readonly string[]): string {
  return pins.map(encodeURIComponent).join(' ');
}

export function readPins(text: string | undefined): readonly string[] {
  return (text ?? '').split(' ').flatMap((part) => {
    try {
      return part === '' ? [] : [decodeURIComponent(part)];
    } catch {
      return [];
    }
  });
}

/** An added token takes with it what was said of it elsewhere, and what points at it. */
export function withoutChange(changes: readonly ProposedChange[], gone: ProposedChange): readonly ProposedChange[] {
  if (gone.beside === undefined) return changes.filter((each) => each !== gone);
  return changes.filter(
    ({ token, to, beside }) => token !== gone.token && beside !== gone.token && to.trim() !== `{${gone.token}}`,
  );
}
