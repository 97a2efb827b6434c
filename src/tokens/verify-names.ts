// Mapped names held against the page: which tokens appear, which are missing, which properties no token accounts for.
import type { GraphValue, TokenGraph } from './graph.ts';
import type { NamePattern } from './property-names.ts';
import { memberNames, propertyNames } from './property-names.ts';

/** Two or more tokens that share one name. */
export interface NameCollision {
  readonly property: string;
  readonly tokens: readonly string[];
  /** They resolve alike in every theme, so that it does no harm. */
  readonly harmless: boolean;
}

export interface VerifiedNames {
  /** Token → the property that stands for it: the first of its names that the page has; of a composite it may be that of a member. */
  readonly found: ReadonlyMap<string, string>;
  readonly missing: readonly { readonly token: string; readonly tried: readonly string[] }[];
  /** Properties of the page that no token accounts for. */
  readonly unknown: readonly string[];
  readonly collisions: readonly NameCollision[];
  /** Property → its tokens. */
  readonly tokensOf: ReadonlyMap<string, readonly string[]>;
}

/** @param pageProperties names of all custom properties met on the page, with the two dashes, in any theme */
export function verifyNames(facts: {
  readonly graph: TokenGraph;
  readonly patterns: readonly NamePattern[];
  readonly pageProperties: Iterable<string>;
}): VerifiedNames {
  const { graph, patterns } = facts;
  const onPage = new Set(facts.pageProperties);
  const found = new Map<string, string>();
  const missing: { token: string; tried: readonly string[] }[] = [];
  const byName = new Map<string, string[]>();
  for (const token of graph.tokens.keys()) {
    const whole = propertyNames(token, patterns);
    const tried = [...whole, ...membersOf(graph, token).flatMap((member) => memberNames(whole, member, patterns[0]?.sep))];
    const name = tried.find((each) => onPage.has(each));
    if (name === undefined) missing.push({ token, tried });
    else found.set(token, name);
    // All members of a composite that the page has are its own; of plain names only the one that stands for it.
    const used = name === undefined || whole.includes(name) ? [name ?? tried[0] ?? ''] : tried.filter((each) => onPage.has(each));
    for (const property of used) {
      const tokens = byName.get(property);
      if (tokens === undefined) byName.set(property, [token]);
      else tokens.push(token);
    }
  }
  const collisions = [...byName]
    .filter(([, tokens]) => tokens.length > 1)
    .map(([property, tokens]) => ({ property, tokens, harmless: resolveAlike(graph, tokens) }));
  const unknown = [...onPage].filter((name) => !byName.has(name)).sort();
  return { found, missing, unknown, collisions, tokensOf: byName };
}

/** Members of a composite, each of which may have a property of its own. */
function membersOf(graph: TokenGraph, token: string): readonly string[] {
  for (const theme of graph.themes) {
    const resolution = graph.resolve(token, theme);
    if (resolution.kind === 'value') return MEMBERS[resolution.value.type] ?? [];
  }
  return [];
}

const MEMBERS: Readonly<Partial<Record<GraphValue['type'], readonly string[]>>> = {
  border: ['color', 'width', 'style'],
  transition: ['duration', 'delay', 'timingFunction'],
  shadow: ['color', 'offsetX', 'offsetY', 'blur', 'spread'],
  typography: ['fontFamily', 'fontSize', 'fontWeight', 'letterSpacing', 'lineHeight'],
};

function resolveAlike(graph: TokenGraph, tokens: readonly string[]): boolean {
  return graph.themes.every((theme) => {
    const values = tokens.map((token) => {
      const resolution = graph.resolve(token, theme);
      return resolution.kind === 'value' ? textOf(resolution.value) : resolution.kind;
    });
    return values.every((value) => value === values[0]);
  });
}

function textOf(value: GraphValue): string {
  return JSON.stringify(value);
}
