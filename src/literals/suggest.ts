// Literals of all files together → the tokens that could stand in for each, and which may be replaced unseen: those whose first match is
// exact in every theme.
import type { TokenGraph } from '../tokens/graph.ts';
import { toCssText } from '../colour/format-color.ts';
import { listed } from '../tokens/faults/token-fault.ts';
import { exactThemes, matchLiteral } from '../tokens/match/match-literal.ts';
import type { MatchQuery, PairOfTokens, Partner } from '../tokens/match/match-query.ts';
import type { MatchResult, TokenMatch } from '../tokens/match/match-result.ts';
import { hasRoles } from '../tokens/match/match-wording.ts';
import { escapeName } from '../tokens/property-names.ts';
import type { Role, RolesOf } from '../tokens/roles.ts';
import { propertyRole } from './property-role.ts';
import type { ReadSource, SourceLiteral } from './source-literal.ts';
import { isVariable } from './source-literal.ts';
import type { ThemeSigns } from './theme-of-scopes.ts';
import { themeOfScopes } from './theme-of-scopes.ts';

export interface Suggestion {
  readonly file: string;
  readonly literal: SourceLiteral;
  readonly role: Role | null;
  /** The one its rule names, else the one given. */
  readonly theme: string;
  readonly result: MatchResult;
  /** Theme → whether the best match is the literal's colour there, to 8 bits; empty without a match. */
  readonly exact: ReadonlyMap<string, boolean>;
  /** What stands in for the literal if it is replaced; null where a person decides. */
  readonly replacement: string | null;
  /** Why it is not replaced, in a few words; null where it may be. */
  readonly keep: string | null;
}

/** What the last run knows of the place where a literal is written. */
export interface WrittenFacts {
  /** Token of the surface that the place lies on, where it is always the same one. */
  readonly surface?: string;
  /** Least contrast that was asked for there. */
  readonly required?: number;
  /** What its cause says should stand there; null: no token serves. */
  readonly told?: {
    readonly token: string | null;
    readonly by: string;
    readonly without?: string;
    /** Colour that it says stands there now, CSS text. */ readonly from: string;
  };
}

export interface Suggested {
  readonly suggestions: readonly Suggestion[];
  /** Declarations that give a token's own property its value: no literals to be replaced. */
  readonly definitions: number;
}

export function suggestTokens(facts: {
  readonly files: ReadonlyMap<string, ReadSource>;
  readonly graph: TokenGraph;
  /** Where no rule names another. */
  readonly theme: string;
  readonly signs: readonly ThemeSigns[];
  readonly roles?: RolesOf;
  readonly pairs?: readonly PairOfTokens[];
  /** From the last run; undefined where it knows nothing of the line. */
  readonly writtenAt?: (file: string, line: number, color: string) => WrittenFacts | undefined;
  /** Properties the pages of the last run had. */
  readonly onPages?: ReadonlySet<string>;
  /** Token → its custom properties, the preferred one first. */
  readonly namesOf: (token: string) => readonly string[];
}): Suggested {
  const { files, graph, namesOf } = facts;
  const tokenNames = new Set([...graph.tokens.keys()].flatMap((token) => namesOf(token)));
  const uses = mergeUses(files.values());
  const tokenOfName = new Map([...graph.tokens.keys()].flatMap((token) => namesOf(token).map((name) => [name, token] as const)));
  const hasSemantic = hasRoles(graph);
  const defined = definitionsIn(files, tokenNames);
  const known = new Map<string, { readonly result: MatchResult; readonly exact: ReadonlyMap<string, boolean> }>();
  let definitions = 0;
  const suggestions = [...files].flatMap(([file, { literals }]) =>
    literals.flatMap((literal): readonly Suggestion[] => {
      if (tokenNames.has(literal.property)) {
        definitions += 1;
        return [];
      }
      const roles = isVariable(literal.property) ? rolesThrough(literal.property, uses) : null;
      if (literal.named && roles?.size === 0) return [];
      const role = literal.role ?? (roles?.size === 1 ? ([...roles][0] ?? null) : null);
      const theme = themeOfScopes(literal.scopes, facts.signs) ?? facts.theme;
      const written = facts.writtenAt?.(file, literal.line, toCssText(literal.color));
      const { result, exact } = matchOnce(literal, role, theme, written);
      const [best] = result.matches;
      const isNothingAsked = best === undefined && !result.gap;
      const keep = isNothingAsked ? result.advice : (whyKeep(literal, best, exact, uses, namesOf) ?? whyRefuse(best, result));
      const replacement = keep === null && best !== undefined ? varOf(best, namesOf) : null;
      return [{ file, literal, role, theme, result, exact, replacement, keep }];
    }),
  );
  return { suggestions, definitions };

  /** What the rule itself says goes before what the last run saw. */
  function partnerOf({ beside, role }: SourceLiteral, written: WrittenFacts | undefined): Partner | undefined {
    const token = beside?.kind === 'property' ? tokenOfName.get(beside.name) : undefined;
    if (token !== undefined) return { kind: 'token', path: token };
    if (beside?.kind === 'color') return { kind: 'color', color: beside.color, only: true };
    return written?.surface === undefined || role === 'surface' ? undefined : { kind: 'token', path: written.surface };
  }

  /** What would change the app for the worse though the picture is the same today. */
  function whyRefuse(best: TokenMatch | undefined, { gap, advice, tied }: MatchResult): string | null {
    if (best === undefined) return null;
    if (gap) return advice;
    if (tied.length > 0) return `${listed([best.token, ...tied])} are the same in every theme, and nothing says which is meant`;
    if (hasSemantic && !best.semantic)
      return `${best.token} is a step of a ramp: a token for this use is missing, or none was met in it`;
    const [name = ''] = namesOf(best.token);
    if (defined.names.has(name) || facts.onPages?.has(name) === true) return null;
    const where =
      defined.file === null
        ? 'where the properties of the other tokens are'
        : `in ${defined.file}, where those of other tokens are`;
    return `${name} is not defined by the app: define it ${where}`;
  }

  function matchOnce(
    literal: SourceLiteral,
    role: Role | null,
    theme: string,
    written: WrittenFacts | undefined,
  ): NonNullable<ReturnType<typeof known.get>> {
    const { r, g, b, alpha } = literal.color;
    const partner = partnerOf(literal, written);
    const key = JSON.stringify([r, g, b, alpha, role, theme, partner, written]);
    const met = known.get(key);
    if (met !== undefined) return met;
    const query: MatchQuery = {
      graph,
      literal: literal.color,
      role,
      theme,
      ...(facts.roles === undefined ? {} : { roles: facts.roles }),
      ...(facts.pairs === undefined ? {} : { pairs: facts.pairs }),
      ...(partner === undefined ? {} : { partner }),
      ...(written?.required === undefined || partner === undefined ? {} : { required: written.required }),
      ...(written?.told?.from === toCssText(literal.color) ? { told: written.told } : {}),
    };
    const result = matchLiteral(query);
    const [best] = result.matches;
    const made = { result, exact: best === undefined ? new Map<string, boolean>() : exactThemes(query, best) };
    known.set(key, made);
    return made;
  }
}

/** Where the properties of tokens are declared, and the file that holds most of them. */
function definitionsIn(
  files: ReadonlyMap<string, ReadSource>,
  tokenNames: ReadonlySet<string>,
): { readonly names: ReadonlySet<string>; readonly file: string | null } {
  const names = new Set<string>();
  let most: { readonly file: string; readonly count: number } | null = null;
  for (const [file, { defines }] of files) {
    const own = [...(defines?.keys() ?? [])].filter((name) => tokenNames.has(name));
    for (const name of own) names.add(name);
    if (own.length > (most?.count ?? 0)) most = { file, count: own.length };
  }
  return { names, file: most?.file ?? null };
}

function whyKeep(
  literal: SourceLiteral,
  best: TokenMatch | undefined,
  exact: ReadonlyMap<string, boolean>,
  uses: Uses,
  namesOf: (token: string) => readonly string[],
): string | null {
  if (best === undefined || (best.confidence === 'none' && !best.told)) return 'no token comes near';
  if (best.confidence === 'none') return `${best.token} is another colour: the picture would change`;
  if (literal.keep !== null) return literal.keep;
  const apart = [...exact].filter(([, same]) => !same).map(([theme]) => theme);
  if (apart.length > 0) return `${best.token} differs in ${apart.join(', ')}`;
  if (best.failing.length > 0) return `${best.token} fails in ${best.failing.map(({ theme }) => theme).join(', ')}`;
  const name = namesOf(best.token)[0] ?? '';
  if (isVariable(literal.property) && isReached(name, literal.property, uses)) return `${name} itself is made from it`;
  return null;
}

function varOf({ token }: TokenMatch, namesOf: (token: string) => readonly string[]): string {
  return `var(${escapeName(namesOf(token)[0] ?? '')})`;
}

/** Variable → properties and variables whose values mention it. */
type Uses = ReadonlyMap<string, ReadonlySet<string>>;

function mergeUses(files: Iterable<ReadSource>): Uses {
  const merged = new Map<string, Set<string>>();
  for (const { uses } of files) for (const [name, by] of uses) merged.set(name, new Set([...(merged.get(name) ?? []), ...by]));
  return merged;
}

/** Everything that takes its value from a variable, directly or through others. */
function reach(name: string, uses: Uses): ReadonlySet<string> {
  const met = new Set<string>();
  const open = [name];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    for (const by of uses.get(at) ?? []) {
      if (met.has(by)) continue;
      met.add(by);
      if (isVariable(by)) open.push(by);
    }
  }
  return met;
}

function rolesThrough(name: string, uses: Uses): ReadonlySet<Role> {
  return new Set([...reach(name, uses)].flatMap((property) => propertyRole(property) ?? []));
}

function isReached(name: string, from: string, uses: Uses): boolean {
  return name === from || reach(from, uses).has(name);
}
