// The name of a finding that stays the same from night to night, as long as the same thing is wrong at the same place of the same view.
import type { FindingDraft } from '../samples/finding.ts';
import { hashOf } from './blobs.ts';

/** Hex digits kept: 64 bits, so that among a million findings two of one name are less likely than 1 in 30 million. */
const DIGITS = 16;

/**
 * One id per draft, in the order given. What the drafts measured plays no part, so a ratio that moves from 3.1 to 3.2 keeps its
 * finding. Several findings of one check at one place are told apart by the order of their messages, whatever order they come in.
 */
export function findingIds(view: string, drafts: readonly FindingDraft[]): readonly string[] {
  const turns = new Map<string, number>();
  const ids = new Map<number, string>();
  const ordered = drafts.map((draft, index) => ({ index, place: JSON.stringify([draft.check, draft.key]), words: wordsOf(draft) }));
  for (const { index, place } of ordered.toSorted((a, b) => compare(a.words, b.words))) {
    const turn = turns.get(place) ?? 0;
    turns.set(place, turn + 1);
    ids.set(index, hashOf(JSON.stringify([view, place, ...(turn === 0 ? [] : [turn])])).slice(0, DIGITS));
  }
  return drafts.map((_, index) => ids.get(index) ?? '');
}

const wordsOf = (draft: FindingDraft): string => JSON.stringify([draft.message, draft.measured, draft.expected, draft.rect]);

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
