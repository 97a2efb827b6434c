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
  /** Path of the token behind which it is declared: it is a new one, a step more of that one's ramp. A colour, then. */
  readonly beside?: string;
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
export function tableUnder(before: TableIndex, changes: readonly ProposedChange[]): TokenTable {
  const grown = grownTable(before, changes);
  const index = grown === before.table ? before : indexTable(grown);
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

/** The table with the tokens that a proposal adds: behind all others, so that those keep their numbers; in ramps at their places. */
export function grownTable(index: TableIndex, changes: readonly ProposedChange[]): TokenTable {
  const { table } = index;
  const added = new Map<string, { readonly beside: string; readonly definitions: (Definition | null)[] }>();
  for (const change of changes) {
    const { token, beside } = change;
    const neighbour = beside === undefined ? -1 : index.tokenAt(beside);
    const theme = index.themeAt(change.theme);
    const then = readChange(change);
    if (beside === undefined || neighbour < 0 || theme < 0 || then?.kind !== 'literal' || index.tokenAt(token) >= 0) continue;
    const own = added.get(token) ?? { beside, definitions: table.themes.map(() => null) };
    added.set(token, own);
    for (const each of index.governedBy(theme, neighbour)) {
      const next = index.definitionOf(each, neighbour);
      if (next !== null) own.definitions[each] = { ...then, declared: declaredBeside(next.declared, token) };
    }
  }
  if (added.size === 0) return table;
  const besides = [...added].map(([path, { beside }]) => ({ path, beside }));
  return {
    ...table,
    tokens: [
      ...table.tokens,
      ...[...added].map(([path, { beside, definitions }]) => ({
        path,
        properties: propertiesBeside(index, beside, path),
        definitions,
      })),
    ],
    ramps: table.ramps.map((ramp) => ({ ...ramp, steps: ramp.steps.flatMap((step) => [step, ...behind(step)]) })),
  };

  /** A later one behind the same step stands nearer to it: it was added between the two. */
  function behind(step: string): readonly string[] {
    return besides
      .filter(({ beside }) => beside === step)
      .toReversed()
      .flatMap(({ path }) => [path, ...behind(path)]);
  }
}

function lastOf(path: string): string {
  return path.slice(path.lastIndexOf('.') + 1);
}

function declaredBeside(declared: Definition['declared'], token: string): Definition['declared'] {
  const { file, pointer } = declared;
  const group = pointer?.replace(/\/\$value$/, '').replace(/\/[^/]*$/, '');
  return {
    id: `${declared.id}+${token}`,
    ...(file === undefined ? {} : { file }),
    ...(group === undefined ? {} : { pointer: `${group}/${lastOf(token).replaceAll('~', '~0').replaceAll('/', '~1')}` }),
  };
}

/** Those of its neighbour, with its own last name. */
function propertiesBeside(index: TableIndex, beside: string, path: string): readonly string[] {
  const properties = index.table.tokens[index.tokenAt(beside)]?.properties ?? [];
  return properties.flatMap((name) =>
    name.endsWith(lastOf(beside)) ? [name.slice(0, -lastOf(beside).length) + lastOf(path)] : [],
  );
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
