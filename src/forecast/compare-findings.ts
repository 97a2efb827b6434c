// Two lists of findings held against each other, place by place: what is new, what is known, what is gone.
import type { Finding } from '../samples/finding.ts';

export interface Compared {
  readonly fresh: readonly Finding[];
  /** Those of `after`. */
  readonly known: readonly Finding[];
  readonly gone: readonly Finding[];
}

/** @param likeOf theme of `after` → the one of `before` that it is held against. Exempt findings count in none. */
export function compareFindings(
  before: readonly Finding[],
  after: readonly Finding[],
  likeOf: (theme: string) => string = (theme) => theme,
): Compared {
  const open = (list: readonly Finding[]): readonly Finding[] => list.filter(({ status }) => status !== 'exempt');
  const earlier = new Map(open(before).map((finding) => [identityOf(finding, finding.theme), finding]));
  const now = open(after);
  const met = new Set(now.map((finding) => identityOf(finding, likeOf(finding.theme))));
  const themes = new Set(after.map(({ theme }) => likeOf(theme)));
  return {
    fresh: now.filter((finding) => !earlier.has(identityOf(finding, likeOf(finding.theme)))),
    known: now.filter((finding) => earlier.has(identityOf(finding, likeOf(finding.theme)))),
    gone: [...earlier].flatMap(([place, finding]) => (themes.has(finding.theme) && !met.has(place) ? [finding] : [])),
  };
}

function identityOf({ page, state, viewport, check, key }: Finding, theme: string): string {
  return JSON.stringify([page, theme, state, viewport, check, key]);
}
