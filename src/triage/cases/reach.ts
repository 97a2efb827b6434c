// How far a change of a token reaches: the tokens that move with it in some themes, and the cases they paint.
import type { Case } from './case.ts';
import { ascending } from '../counting.ts';
import type { PaintRef } from './paint-ref.ts';
import { tokensOf } from './paint-ref.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** Cases by theme and token. */
export type CasesOfToken = (theme: number, token: number) => readonly number[];

export interface Reach {
  /** Ids of the cases, ascending. */
  readonly touched: readonly number[];
  /** Whether a paint of a case is made from one of the tokens. */
  moves(one: Case, ref: PaintRef): boolean;
}

export type ReachOf = (token: number, themes: readonly number[]) => Reach;

/** Remembers what it worked out: the same token is tried with many values. */
export function openReach(index: TableIndex, casesOf: CasesOfToken): ReachOf {
  const known = new Map<string, Reach>();
  return (token, themes) => {
    const key = `${token} ${themes.join(',')}`;
    let reach = known.get(key);
    if (reach === undefined) known.set(key, (reach = reachOf(index, casesOf, token, themes)));
    return reach;
  };
}

function reachOf(index: TableIndex, casesOf: CasesOfToken, token: number, themes: readonly number[]): Reach {
  const moved = new Map(themes.map((theme) => [theme, new Set(index.dependentsOf(theme, token))]));
  return {
    touched: ascending(themes.flatMap((theme) => [...(moved.get(theme) ?? [])].flatMap((each) => casesOf(theme, each)))),
    moves: (one, ref) => {
      const tokens = moved.get(one.theme);
      return tokens !== undefined && tokensOf(ref).some((each) => tokens.has(each));
    },
  };
}
