// Token table → numbers and look-ups: tokens and themes by index, colours, chains, and who hangs on whom.
import type { Color } from '../../colour/color.ts';
import { appendTo } from '../counting.ts';
import type { Declared, Definition, TokenTable } from './token-table.ts';

/** Longer alias chains are taken for loops. */
const LONGEST_CHAIN = 64;

export interface StepPlace {
  /** Index into `table.ramps`. */
  readonly ramp: number;
  /** From 0, in the order of the ramp. */
  readonly position: number;
}

export interface TableIndex {
  readonly table: TokenTable;
  /** −1 when there is no such theme. */
  readonly themeAt: (name: string) => number;
  /** Index of a token by its path; −1 when unknown. */
  readonly tokenAt: (path: string) => number;
  /** Index of the token behind a custom property; −1 when there is none. */
  readonly tokenOfProperty: (property: string) => number;
  readonly pathOf: (token: number) => string;
  readonly definitionOf: (theme: number, token: number) => Definition | null;
  /** Null where the chain has no end in that theme. */
  readonly colorOf: (theme: number, token: number) => Color | null;
  /** From the token to the literal, both ends included; empty where the token does not exist. */
  readonly chainOf: (theme: number, token: number) => readonly number[];
  /** The token whose literal decides; −1 where the chain has no end. */
  readonly rootOf: (theme: number, token: number) => number;
  /** All tokens whose chain passes through it, itself first. */
  readonly dependentsOf: (theme: number, token: number) => readonly number[];
  readonly stepOf: (token: number) => StepPlace | null;
  /** Steps of a ramp as token indexes. */
  readonly stepsOf: (ramp: number) => readonly number[];
  /** The themes that the declaration in force in `theme` governs, `theme` among them; ascending. */
  readonly governedBy: (theme: number, token: number) => readonly number[];
}

export function indexTable(table: TokenTable): TableIndex {
  const themes = new Map(table.themes.map((theme, at) => [theme.name, at]));
  const tokens = new Map(table.tokens.map((token, at) => [token.path, at]));
  const properties = new Map<string, number>();
  table.tokens.forEach((token, at) => {
    for (const property of token.properties) if (!properties.has(property)) properties.set(property, at);
  });
  const steps = new Map<number, StepPlace>();
  const ramps = table.ramps.map(({ steps: paths }) => paths.flatMap((path) => tokens.get(path) ?? []));
  ramps.forEach((ramp, at) => {
    ramp.forEach((token, position) => {
      if (!steps.has(token)) steps.set(token, { ramp: at, position });
    });
  });

  const definitionOf = (theme: number, token: number): Definition | null => table.tokens[token]?.definitions[theme] ?? null;
  const targets = table.themes.map((_, theme) =>
    Int32Array.from(table.tokens, (_token, at) => {
      const definition = definitionOf(theme, at);
      return definition?.kind === 'alias' ? (tokens.get(definition.target) ?? -1) : -1;
    }),
  );
  const chains = table.themes.map(() => new Map<number, readonly number[]>());
  const users = targets.map((row) => {
    const map = new Map<number, number[]>();
    row.forEach((target, token) => {
      if (target >= 0) appendTo(map, target, token);
    });
    return map;
  });
  const dependents = table.themes.map(() => new Map<number, readonly number[]>());

  const walk = (theme: number, token: number): readonly number[] => {
    const chain: number[] = [];
    let at = token;
    while (definitionOf(theme, at) !== null && chain.length < LONGEST_CHAIN) {
      chain.push(at);
      const next = targets[theme]?.[at] ?? -1;
      if (next < 0) break;
      at = next;
    }
    return chain;
  };
  const chainOf = (theme: number, token: number): readonly number[] => remember(chains[theme], token, () => walk(theme, token));
  const rootOf = (theme: number, token: number): number => {
    const end = chainOf(theme, token).at(-1) ?? -1;
    return end >= 0 && definitionOf(theme, end)?.kind === 'literal' ? end : -1;
  };
  const colors = table.themes.map((_, theme) =>
    table.tokens.map((_token, at): Color | null => {
      const root = definitionOf(theme, rootOf(theme, at));
      return root?.kind === 'literal' ? root.color : null;
    }),
  );

  return {
    table,
    themeAt: (name) => themes.get(name) ?? -1,
    tokenAt: (path) => tokens.get(path) ?? -1,
    tokenOfProperty: (property) => properties.get(property) ?? -1,
    pathOf: (token) => table.tokens[token]?.path ?? '',
    definitionOf,
    colorOf: (theme, token) => colors[theme]?.[token] ?? null,
    chainOf,
    rootOf,
    dependentsOf: (theme, token) => remember(dependents[theme], token, () => spread(token, users[theme])),
    stepOf: (token) => steps.get(token) ?? null,
    stepsOf: (ramp) => ramps[ramp] ?? [],
    governedBy: (theme, token) => {
      const own = definitionOf(theme, token)?.declared;
      if (own === undefined) return [theme];
      return table.themes.flatMap((_, at) => (sameDeclaration(own, definitionOf(at, token)?.declared) ? [at] : []));
    },
  };
}

function sameDeclaration(one: Declared, other: Declared | undefined): boolean {
  return other !== undefined && one.id === other.id;
}

function spread(token: number, users: ReadonlyMap<number, readonly number[]> | undefined): readonly number[] {
  const found = new Set([token]);
  for (const each of found) for (const user of users?.get(each) ?? []) found.add(user);
  return [...found];
}

function remember<V>(memory: Map<number, V> | undefined, key: number, make: () => V): V {
  const known = memory?.get(key);
  if (known !== undefined) return known;
  const made = make();
  memory?.set(key, made);
  return made;
}
