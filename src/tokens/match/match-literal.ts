// A literal colour → the tokens that could stand in for it, best first, or plainly none (a gap). What a token means goes before how
// near it is: told by the last run's cause, contrast kept in every theme, role known, a role token before a ramp step, met with what
// it lies on; then nearness, own component before global, more used. Names decide nothing.
import { showRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import { groupOf } from '../faults/definition-view.ts';
import type { RolesOf, TokenUse } from '../roles.ts';
import { gatherRoles, rolesThrough } from '../roles.ts';
import type { MatchQuery, ThemeMatch } from './match-query.ts';
import { REQUIRED_BY_ROLE, contrastWith, deliberateThemes, distance, literalIn, themeMatches } from './match-query.ts';
import type { Confidence, Failing, MatchResult, OtherRole, TokenMatch } from './match-result.ts';
import { adviceFor, reasonFor } from './match-wording.ts';

/** Verdicts people care about; none may get worse across one of these. */
const THRESHOLDS = [3, 4.5, 7] as const;
/** CIEDE2000 below which a confidence holds (ours; about 1 is just noticeable, 2 to 3 in casual viewing: from memory, common practice). */
const CONFIDENCE_BELOW = { same: 1, near: 2, similar: 5 } as const;
/** Candidates of another colour that are shown all the same. */
const MOST_FAR = 3;

/** @returns everything near, and a few that are not, to show what there is */
export function matchLiteral(query: MatchQuery): MatchResult {
  const { graph, role } = query;
  if (query.literal.alpha === 0 && !deliberateThemes(query).some((theme) => literalIn(query, theme).alpha > 0))
    return { matches: [], gap: false, wrongRole: [], advice: NOTHING_SEEN };
  const roles = rolesOf(query);
  const steps = new Set(graph.ramps.flatMap((ramp) => ramp.steps));
  const byDistance = [...graph.tokens.keys()]
    .map((token) => ({ token, deltaE: distance(query, token) }))
    .filter(({ deltaE }) => Number.isFinite(deltaE))
    .sort((a, b) => a.deltaE - b.deltaE);
  const found: TokenMatch[] = [];
  const wrongRole: OtherRole[] = [];
  let far = 0;
  for (const { token, deltaE } of byDistance) {
    const isFar = confidenceOf(deltaE) === 'none';
    // The one the run names may stand far down the list.
    if (isFar && far >= MOST_FAR && query.told?.token !== token) continue;
    const known = rolesThrough(graph, roles, token);
    const isTold = query.told?.token === token;
    if (!isTold && role !== null && known.size > 0 && !known.has(role)) {
      if (!isFar) wrongRole.push({ token, roles: [...known].sort(), deltaE });
      continue;
    }
    if (isFar) far += 1;
    found.push(judge(query, token, deltaE, { roleKnown: role !== null && known.has(role), steps }));
  }
  const matches = found.sort((a, b) => compare(query, a, b));
  const [best] = matches;
  const gap =
    best === undefined || query.told?.token === null || (best.confidence === 'none' && !best.told) || best.failing.length > 0;
  return { matches, gap, wrongRole, advice: adviceFor(query, { matches, gap, wrongRole }) };
}

const NOTHING_SEEN = 'It lets everything through: nothing is seen of it, and no token is missing.';

/** From runs, and from pairs: an ink of a pair is meant as ink, icon or edge, its partner as surface. */
function rolesOf({ roles = new Map(), pairs = [] }: MatchQuery): RolesOf {
  if (pairs.length === 0) return roles;
  const told = pairs.flatMap(({ ink, surface }): readonly TokenUse[] => [
    ...INKS.map((role) => ({ token: ink, role, count: 0 })),
    { token: surface, role: 'surface', count: 0 },
  ]);
  const met = [...roles].flatMap(([token, counts]) => [...counts].map(([role, count]): TokenUse => ({ token, role, count })));
  // What pages show it as says more than a pair does: it is asked first.
  return gatherRoles([...met, ...told.filter(({ token }) => !roles.has(token))]);
}

const INKS = ['ink', 'glyph', 'edge'] as const;

/** Theme → whether the match is the literal's colour there, to 8 bits. */
export function exactThemes(query: MatchQuery, match: TokenMatch): ReadonlyMap<string, boolean> {
  return new Map(
    match.themes.map(({ theme, color }) => [theme, color !== null && toCssText(color) === toCssText(literalIn(query, theme))]),
  );
}

/** The match may replace the literal unseen: the same colour in every theme. */
export function isExactEverywhere(query: MatchQuery, match: TokenMatch): boolean {
  return match.failing.length === 0 && [...exactThemes(query, match).values()].every((same) => same);
}

function confidenceOf(deltaE: number): Confidence {
  if (deltaE < CONFIDENCE_BELOW.same) return 'same';
  if (deltaE < CONFIDENCE_BELOW.near) return 'near';
  return deltaE < CONFIDENCE_BELOW.similar ? 'similar' : 'none';
}

function judge(
  query: MatchQuery,
  token: string,
  deltaE: number,
  known: { readonly roleKnown: boolean; readonly steps: ReadonlySet<string> },
): TokenMatch {
  const { graph, theme } = query;
  const { roleKnown, steps } = known;
  const themes = themeMatches(query, token);
  const failing = themes.flatMap((each) => failure(query, each));
  const semantic =
    graph.stepOf(token, theme) !== token || (!steps.has(token) && (steps.size > 0 || graph.users(token).length === 0));
  const told = query.told?.token === token;
  const paired = isPaired(query, token);
  const facts = { token, roleKnown, semantic, told, paired, themes, deltaE, failing, confidence: confidenceOf(deltaE) };
  return { ...facts, reason: reasonFor(query, facts) };
}

function isPaired({ partner, pairs = [], role }: MatchQuery, token: string): boolean {
  if (partner?.kind !== 'token') return false;
  return pairs.some(({ ink, surface }) =>
    role === 'surface' ? surface === token && ink === partner.path : ink === token && surface === partner.path,
  );
}

function failure(query: MatchQuery, { theme, color, contrast }: ThemeMatch): readonly Failing[] {
  if (color === null) return [{ theme, why: 'it has no colour there' }];
  if (contrast === null) return [];
  const required = query.required ?? (query.role === null ? 1 : REQUIRED_BY_ROLE[query.role]);
  if (contrast < required) return [{ theme, why: `contrast ${showRatio(contrast)}, needed ${String(required)}` }];
  // Where the literal is an accident, what it reaches there sets no standard.
  if (!deliberateThemes(query).includes(theme)) return [];
  const before = contrastWith(query, literalIn(query, theme), theme);
  const lost = THRESHOLDS.findLast((threshold) => before !== null && before >= threshold && contrast < threshold);
  if (lost === undefined || before === null) return [];
  return [
    { theme, why: `contrast ${showRatio(contrast)}, below the ${String(lost)} that the literal reaches (${showRatio(before)})` },
  ];
}

/** What the eye can hardly tell apart is told apart by meaning. */
const CONFIDENCE_ORDER = { same: 0, near: 0, similar: 1, none: 2 } as const satisfies Record<Confidence, number>;

function compare(query: MatchQuery, a: TokenMatch, b: TokenMatch): number {
  const uses = (token: string): number => [...(query.roles?.get(token)?.values() ?? [])].reduce((sum, count) => sum + count, 0);
  return (
    Number(b.told) - Number(a.told) ||
    Math.min(a.failing.length, 1) - Math.min(b.failing.length, 1) ||
    CONFIDENCE_ORDER[a.confidence] - CONFIDENCE_ORDER[b.confidence] ||
    Number(b.roleKnown) - Number(a.roleKnown) ||
    Number(b.semantic) - Number(a.semantic) ||
    Number(b.paired) - Number(a.paired) ||
    Math.round(a.deltaE * 10) - Math.round(b.deltaE * 10) ||
    a.failing.length - b.failing.length ||
    Number(isOwn(query, b.token)) - Number(isOwn(query, a.token)) ||
    uses(b.token) - uses(a.token) ||
    query.graph.users(b.token).length - query.graph.users(a.token).length ||
    a.deltaE - b.deltaE ||
    (a.token < b.token ? -1 : 1)
  );
}

function isOwn({ component }: MatchQuery, token: string): boolean {
  for (let group = groupOf(token); group !== ''; group = groupOf(group)) if (group === component) return true;
  return false;
}
