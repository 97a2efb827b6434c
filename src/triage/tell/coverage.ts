// The share of painted colours that go through tokens, by theme, page and owner: from what was painted, not from what is written.
import type { Paint } from '../../samples/paint.ts';
import type { Sample } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';

/** How many painted colours there are, and how many of them a token decides. */
export interface Share {
  readonly painted: number;
  readonly throughTokens: number;
}

export interface CoverageRow extends Share {
  readonly theme: string;
  readonly page: string;
  /** Of the element, else of the page; empty where nobody is named. */
  readonly owner: string;
}

export interface CoverageCounter {
  /** @param owner who owns the page, for elements without an owner of their own */
  add(view: ViewRef, samples: Iterable<Sample>, owner?: string): void;
  /** Sorted by theme, page and owner. */
  rows(): readonly CoverageRow[];
}

export function openCoverage(): CoverageCounter {
  const rows = new Map<string, { theme: string; page: string; owner: string; painted: number; throughTokens: number }>();
  return {
    add: (view, samples, pageOwner = '') => {
      for (const sample of samples) {
        const counts = countsAs(sample);
        if (counts === null) continue;
        const { theme, page } = view;
        const owner = sample.owner ?? pageOwner;
        const key = JSON.stringify([theme, page, owner]);
        const row = rows.get(key) ?? { theme, page, owner, painted: 0, throughTokens: 0 };
        row.painted += 1;
        if (counts) row.throughTokens += 1;
        rows.set(key, row);
      }
    },
    rows: () => [...rows].toSorted(([one], [other]) => (one < other ? -1 : 1)).map(([, row]) => ({ ...row })),
  };
}

/** All rows that a filter leaves, as one. @returns 0–1; 1 where nothing is painted */
export function coverageShare(rows: readonly CoverageRow[], isIn: (row: CoverageRow) => boolean = () => true): number {
  const [painted, through] = rows.filter(isIn).reduce(([all, some], row) => [all + row.painted, some + row.throughTokens], [0, 0]);
  return painted === 0 ? 1 : through / painted;
}

/** @returns whether a token decides; null for what is no choice of the page: the browser's own colours, pictures, what was not traced */
function countsAs(sample: Sample): boolean | null {
  const paint = paintOf(sample);
  if (paint === null || ('exempt' in sample && sample.exempt === 'hidden')) return null;
  const { origin } = paint;
  switch (origin.kind) {
    case 'token':
      // Where the token is missing, the written fallback decides.
      return origin.fallback !== true;
    case 'derived':
    case 'inferred':
      return true;
    case 'literal':
      return false;
    case 'system':
    case 'unknown':
      return null;
  }
}

function paintOf(sample: Sample): Paint | null {
  if (sample.kind === 'picture') return null;
  return sample.kind === 'text' ? sample.ink : sample.paint;
}
