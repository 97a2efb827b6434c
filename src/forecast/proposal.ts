// A proposal: declarations of tokens that get another colour or point elsewhere, as a list in the order they were thought of.
import type { Color } from '../colour/color.ts';
import { findColor } from '../colour/parse-color.ts';
import { ascending } from '../triage/counting.ts';
import type { Recoloring } from '../triage/recolor/recoloring.ts';
import { movesTo, slotUnder } from '../triage/recolor/token-recoloring.ts';
import type { TableIndex } from '../triage/tokens/table-index.ts';
import { indexTable } from '../triage/tokens/table-index.ts';
import type { Definition, TokenTable } from '../triage/tokens/token-table.ts';
import type { World } from '../triage/world.ts';

export interface ProposedChange {
  /** Token path. */
  readonly token: string;
  /** A theme that its declaration governs; all themes of that declaration change with it. */
  readonly theme: string;
  /** CSS text of a colour, or `{path}` of the token it points at. */
  readonly to: string;
}

/** What a change says; null where it says nothing that is understood. */
export function readChange({
  to,
}: ProposedChange):
  { readonly kind: 'literal'; readonly color: Color } | { readonly kind: 'alias'; readonly target: string } | null {
  const alias = /^\{(.+)\}$/.exec(to.trim())?.[1];
  if (alias !== undefined) return { kind: 'alias', target: alias };
  const color = findColor(to);
  return color === null ? null : { kind: 'literal', color };
}

/** The table as it would be; a later change of one declaration counts. */
export function tableUnder(index: TableIndex, changes: readonly ProposedChange[]): TokenTable {
  const made = new Map<number, Map<number, Definition>>();
  for (const change of changes) {
    const token = index.tokenAt(change.token);
    const theme = index.themeAt(change.theme);
    const then = readChange(change);
    if (token < 0 || theme < 0 || then === null) continue;
    const own = made.get(token) ?? new Map<number, Definition>();
    made.set(token, own);
    for (const each of index.governedBy(theme, token)) {
      const now = index.definitionOf(each, token);
      if (now !== null) own.set(each, { ...then, declared: now.declared });
    }
  }
  const { table } = index;
  return {
    ...table,
    tokens: table.tokens.map((token, at) => {
      const own = made.get(at);
      return own === undefined ? token : { ...token, definitions: token.definitions.map((now, theme) => own.get(theme) ?? now) };
    }),
  };
}

/** @returns the recolouring, and the table as it would be */
export function recoloringOfProposal(
  world: World,
  changes: readonly ProposedChange[],
): { readonly recoloring: Recoloring; readonly after: TableIndex } {
  const { index } = world;
  const after = indexTable(tableUnder(index, changes));
  const moves = movesTo(index, (theme, token) => after.colorOf(theme, token));
  const touched = changes.flatMap((change) => {
    const [token, theme] = [index.tokenAt(change.token), index.themeAt(change.theme)];
    return token < 0 || theme < 0 ? [] : [...world.reachOf(token, index.governedBy(theme, token)).touched];
  });
  return { recoloring: { touched: ascending(touched), colorOf: (one, at) => slotUnder(moves, one, at) }, after };
}
