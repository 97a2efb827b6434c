// A change that could mend findings, and what it does to the colours of a case.
import type { Color } from '../colour/color.ts';
import type { Case } from './case.ts';
import { ascending } from './counting.ts';
import type { PaintRef } from './paint-ref.ts';
import { tokensOf } from './paint-ref.ts';
import type { TableIndex } from './table-index.ts';

/**
 * Places that a declaration in the page is taken to paint. `fore`: what is drawn (ink, glyph, edge, shadow) in these cases.
 * `surface`: these elements' own paint, where it is seen and where others lie on it.
 */
export type UseSite =
  | { readonly side: 'fore'; readonly ref: PaintRef; readonly cases: readonly number[] }
  | { readonly side: 'surface'; readonly ref: PaintRef; readonly cases: readonly number[]; readonly elements: ReadonlySet<number> };

export type Change =
  | { readonly kind: 'value'; readonly token: number; readonly themes: readonly number[]; readonly color: Color }
  | { readonly kind: 'alias'; readonly token: number; readonly themes: readonly number[]; readonly target: number }
  | { readonly kind: 'use'; readonly site: UseSite; readonly token: number }
  /** Takes opacity away from what stands in front. */
  | { readonly kind: 'opacity'; readonly site: UseSite }
  /** Takes a shadow away. */
  | { readonly kind: 'remove'; readonly site: UseSite }
  /** Takes a filter away from the page. */
  | {
      readonly kind: 'filter';
      readonly selector: string;
      readonly filter: string;
      readonly themes: readonly number[];
      readonly cases: readonly number[];
    }
  /** A token that does not exist yet would serve these cases. */
  | { readonly kind: 'add'; readonly cases: readonly number[] }
  | { readonly kind: 'rebuild'; readonly token: number; readonly themes: readonly number[] };

/** Asked for each colour of a touched case. */
export interface Recoloring {
  /** Ids of all cases whose colours may change, ascending. */
  readonly touched: readonly number[];
  /** `at`: −1 for the fore, else the layer. @returns undefined: stays as it is; null: changes in a way that cannot be told */
  colorOf(one: Case, at: number): Color | null | undefined;
  /** Share of a case's samples that it touches, 0–1; all when absent. */
  partOf?(one: Case): number;
  /** Undefined: stays. */
  opacityOf?(one: Case): number | undefined;
  /** Custom property that would paint the fore, where the change gives it one. */
  paintedBy?(one: Case): string | undefined;
  /** Selector of the element whose filter is taken away. */
  clears?(one: Case): string | undefined;
}

/** Cases by theme and token. */
export type CasesOfToken = (theme: number, token: number) => readonly number[];

export function recoloringOf(change: Change, index: TableIndex, casesOf: CasesOfToken): Recoloring {
  switch (change.kind) {
    case 'value':
      return byTokens(change, index, casesOf, () => change.color);
    case 'alias':
      return byTokens(change, index, casesOf, (theme) => index.colorOf(theme, change.target));
    case 'rebuild':
      return rebuild(change, index, casesOf);
    case 'use':
      return use(change, index);
    case 'opacity':
      return {
        touched: change.site.cases,
        colorOf: (one, at) => (at === -1 && hasAlpha(one.fore) ? { ...one.fore.color, alpha: 1 } : undefined),
        opacityOf: () => 1,
      };
    case 'add':
      return { touched: [], colorOf: () => undefined };
    case 'remove':
      return { touched: change.site.cases, colorOf: (one, at) => (at === -1 ? { ...one.fore.color, alpha: 0 } : undefined) };
    case 'filter':
      return { touched: change.cases, colorOf: () => undefined, clears: () => change.selector };
  }
}

function use(change: { readonly site: UseSite; readonly token: number }, index: TableIndex): Recoloring {
  const { site, token } = change;
  const color = (one: Case): Color | null => index.colorOf(one.theme, token);
  const property = index.table.tokens[token]?.properties[0];
  if (site.side === 'fore') {
    return { touched: site.cases, colorOf: (one, at) => (at === -1 ? color(one) : undefined), paintedBy: () => property };
  }
  const own = (one: Case): boolean => one.role === 'surface' && shareOf(one.elements, site.elements) > 0;
  return {
    touched: site.cases,
    colorOf: (one, at) => (at === (own(one) ? -1 : one.back.length - 1) ? color(one) : undefined),
    paintedBy: (one) => (own(one) ? property : undefined),
    partOf: (one) => shareOf(own(one) ? one.elements : one.grounds, site.elements),
  };
}

function shareOf(all: ReadonlySet<number>, some: ReadonlySet<number>): number {
  if (all.size === 0) return 0;
  let met = 0;
  for (const each of all) if (some.has(each)) met += 1;
  return met / all.size;
}

/** A token's alpha is its designer's; only what the page takes off it is taken back. */
function hasAlpha(ref: PaintRef): boolean {
  return ref.kind === 'token' && ref.alpha < 1;
}

function byTokens(
  change: { readonly token: number; readonly themes: readonly number[] },
  index: TableIndex,
  casesOf: CasesOfToken,
  colorIn: (theme: number) => Color | null,
): Recoloring {
  const moved = new Map(change.themes.map((theme) => [theme, new Set(index.dependentsOf(theme, change.token))]));
  const touched = change.themes.flatMap((theme) => [...(moved.get(theme) ?? [])].flatMap((token) => casesOf(theme, token)));
  return {
    touched: ascending(touched),
    colorOf: (one, at) => {
      const tokens = moved.get(one.theme);
      const ref = at === -1 ? one.fore : one.back[at]?.ref;
      if (tokens === undefined || ref === undefined) return undefined;
      // A stale page does not follow its files.
      if (ref.kind === 'stale') return undefined;
      if (!tokensOf(ref).some((token) => tokens.has(token))) return undefined;
      if (ref.kind !== 'token') return null;
      const color = colorIn(one.theme);
      return color === null ? null : { ...color, alpha: color.alpha * ref.alpha };
    },
  };
}

function rebuild(
  change: { readonly token: number; readonly themes: readonly number[] },
  index: TableIndex,
  casesOf: CasesOfToken,
): Recoloring {
  const moved = new Map(change.themes.map((theme) => [theme, new Set(index.dependentsOf(theme, change.token))]));
  return {
    touched: ascending(change.themes.flatMap((theme) => [...(moved.get(theme) ?? [])].flatMap((token) => casesOf(theme, token)))),
    colorOf: (one, at) => {
      const ref = at === -1 ? one.fore : one.back[at]?.ref;
      if (ref?.kind !== 'stale' || moved.get(one.theme)?.has(ref.token) !== true) return undefined;
      const color = index.colorOf(one.theme, ref.token);
      return color === null ? null : { ...color, alpha: color.alpha * ref.alpha };
    },
  };
}

/** Two changes at once; where both speak, the later one. */
export function bothRecolorings(one: Recoloring, other: Recoloring): Recoloring {
  return {
    touched: ascending([...one.touched, ...other.touched]),
    colorOf: (each, at) => {
      const later = other.colorOf(each, at);
      return later === undefined ? one.colorOf(each, at) : later;
    },
    opacityOf: (each) => other.opacityOf?.(each) ?? one.opacityOf?.(each),
    clears: (each) => other.clears?.(each) ?? one.clears?.(each),
  };
}
