// Tokens that get other colours → what that does to the paints that hang on them.
import type { Color } from '../../colour/color.ts';
import type { Case } from '../cases/case.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** @returns the colour that a token gets in a theme; undefined: stays as it is; null: changes in a way that cannot be told */
export type TokenMoves = (theme: number, token: number) => Color | null | undefined;

/** Asked again and again for the same few tokens, so it keeps what it has worked out. @param then null where the chain has no end */
export function movesTo(index: TableIndex, then: (theme: number, token: number) => Color | null): TokenMoves {
  const known = index.table.themes.map(() => new Map<number, Color | null | undefined>());
  return (theme, token) => {
    const here = known[theme];
    if (here?.has(token) === true) return here.get(token);
    const [before, after] = [index.colorOf(theme, token), then(theme, token)];
    const found = before !== null && after !== null && isEqual(before, after) ? undefined : after;
    here?.set(token, found);
    return found;
  };
}

/** For `Recoloring.colorOf`. */
export function slotUnder(moves: TokenMoves, one: Case, at: number): Color | null | undefined {
  const ref = at === -1 ? one.fore : one.back[at]?.ref;
  return ref === undefined ? undefined : refUnder(moves, one.theme, ref);
}

export function refUnder(moves: TokenMoves, theme: number, ref: PaintRef): Color | null | undefined {
  switch (ref.kind) {
    case 'token': {
      const color = moves(theme, ref.token);
      return color === undefined || color === null ? color : { ...color, alpha: color.alpha * ref.alpha };
    }
    case 'derived':
      return ref.tokens.some((token) => moves(theme, token) !== undefined) ? null : undefined;
    // A stale page does not follow its files.
    case 'stale':
    case 'literal':
    case 'system':
    case 'unknown':
      return undefined;
  }
}

function isEqual(one: Color, other: Color): boolean {
  return one.r === other.r && one.g === other.g && one.b === other.b && one.alpha === other.alpha;
}
