// A literal colour → the tokens that could stand in for it, best first, or plainly none (a gap). First what the last run's cause says
// and what keeps its contrast in every theme; then how well a token suits the place, by the same measure as the causes of a run
// (`fit.ts`); then own component before global, more used. Names decide nothing: what nothing else tells apart is tied.
import { showRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import { groupOf } from '../faults/definition-view.ts';
import type { RolesOf, TokenUse } from '../roles.ts';
import { gatherRoles, rolesThrough } from '../roles.ts';
import type { FitFacts } from './fit.ts';
import { fitOf, NEAR, ONE_COLOUR, SIMILAR, strainOf } from './fit.ts';
import type { MatchQuery, PairOfTokens, ThemeMatch } from './match-query.ts';
import { REQUIRED_BY_ROLE, contrastWith, deliberateThemes, distance, literalIn, themeMatches } from './match-query.ts';
import type { Confidence, Failing, MatchResult, OtherRole, TokenMatch } from './match-result.ts';
import { adviceFor, reasonFor } from './match-wording.ts';

/** Verdicts people care about; none may get worse across one of these. */
const THRESHOLDS = [3, 4.5, 7] as const;
/** CIEDE2000 below which a confidence holds (ours; about 1 is just noticeable, 2 to 3 in casual viewing: from memory, common practice). */
const CONFIDENCE_BELOW = { same: 1, near: NEAR, similar: SIMILAR } as const;
/** Candidates of another colour that are shown all the same. */
const MOST_FAR = 3;

/** @returns everything near, and a few that are not, to show what there is */
export function matchLiteral(query: MatchQuery): MatchResult {
  const { graph, role } = query;
  if (query.literal.alpha === 0 && !deliberateThemes(query).some((theme) => literalIn(query, theme).alpha > 0))
    return { matches: [], tied: [], gap: false, wrongRole: [], advice: NOTHING_SEEN };
  const { told } = query;
  if (told?.without !== undefined)
    return { matches: [], tied: [], gap: false, wrongRole: [], advice: `No token is missing: ${told.by}, with ${told.without}.` };
  const roles = rolesOf(query);
  const steps = new Set(graph.ramps.flatMap((ramp) => ramp.steps));
  const byDistance = [...graph.tokens.keys()]
    .map((token) => ({ token, deltaE: distance(query, token) }))
    .filter(({ deltaE }) => Number.isFinite(deltaE))
    .sort((a, b) => a.deltaE - b.deltaE);
  const found: TokenMatch[] = [];
  const wrongRole: OtherRole[] = [];
  for (const { token, deltaE } of byDistance) {
    const isFar = confidenceOf(deltaE) === 'none';
    const known = rolesThrough(graph, roles, token);
    const isTold = query.told?.token === token;
    if (!isTold && role !== null && known.size > 0 && !known.has(role)) {
      if (!isFar) wrongRole.push({ token, roles: [...known].sort(), deltaE });
      continue;
    }
    const isMet = known.size > 0;
    found.push(judge(query, token, deltaE, { roleKnown: role !== null && known.has(role), isMet, steps }));
  }
  let far = 0;
  const matches = found
    .sort((a, b) => compare(query, a, b))
    .filter(({ confidence, told }) => confidence !== 'none' || told || (far += 1) <= MOST_FAR);
  const [best] = matches;
  const gap =
    best === undefined || query.told?.token === null || (best.confidence === 'none' && !best.told) || best.failing.length > 0;
  const tied =
    best === undefined ? [] : matches.filter((each) => each !== best && isTied(query, best, each)).map(({ token }) => token);
  return { matches, tied, gap, wrongRole, advice: adviceFor(query, { matches, tied, gap, wrongRole }) };
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
  known: { readonly roleKnown: boolean; readonly isMet: boolean; readonly steps: ReadonlySet<string> },
): TokenMatch {
  const { graph, theme } = query;
  const { roleKnown, isMet, steps } = known;
  const themes = themeMatches(query, token);
  const failing = themes.flatMap((each) => failure(query, each));
  const semantic =
    graph.stepOf(token, theme) !== token || (!steps.has(token) && (steps.size > 0 || graph.users(token).length === 0));
  const told = query.told?.token === token;
  const paired = isPaired(query, token);
  const strain = strainOf(fitOf(factsOf(query, token, { roleKnown, isMet, semantic, deltaE })), deltaE, isSound(query));
  const facts = { token, roleKnown, semantic, told, paired, strain, themes, deltaE, failing, confidence: confidenceOf(deltaE) };
  return { ...facts, reason: reasonFor(query, facts) };
}

function isPaired({ partner, pairs = [], role }: MatchQuery, token: string): boolean {
  if (partner?.kind !== 'token') return false;
  return pairs.some(({ ink, surface }) =>
    role === 'surface' ? surface === token && ink === partner.path : ink === token && surface === partner.path,
  );
}

/** The literal itself reaches what is asked where it is as its author wanted; true where that is not known. */
function isSound(query: MatchQuery): boolean {
  return deliberateThemes(query).every((theme) => {
    const contrast = contrastWith(query, literalIn(query, theme), theme);
    return contrast === null || contrast >= requiredIn(query);
  });
}

function requiredIn({ required, role }: MatchQuery): number {
  return required ?? (role === null ? 1 : REQUIRED_BY_ROLE[role]);
}

function failure(query: MatchQuery, { theme, color, contrast }: ThemeMatch): readonly Failing[] {
  if (color === null) return [{ theme, why: 'it has no colour there' }];
  if (contrast === null) return [];
  const required = requiredIn(query);
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

/** What pages and pairs tell of a token, as the causes of a run are told it. */
function factsOf(
  { partner, pairs = [], role, roles = new Map() }: MatchQuery,
  token: string,
  known: { readonly roleKnown: boolean; readonly isMet: boolean; readonly semantic: boolean; readonly deltaE: number },
): FitFacts {
  const isSurface = role === 'surface';
  const beneath = partner?.kind === 'token' ? partner.path : null;
  const here = pairs.filter(({ ink, surface }) => (isSurface ? ink : surface) === beneath);
  const own = pairs.filter(({ ink, surface }) => (isSurface ? surface : ink) === token);
  const usesOf = (pair: PairOfTokens): number => Math.max(1, pair.uses ?? 0);
  const met = role === null ? 0 : (roles.get(token)?.get(role) ?? 0);
  // Where it is not known what lies beneath, being used in the role at all is what there is to go by.
  const uses = beneath === null ? met : Math.max(0, ...own.filter((pair) => here.includes(pair)).map(usesOf));
  const all =
    beneath === null ? [...roles.values()].map((counts) => (role === null ? 0 : (counts.get(role) ?? 0))) : here.map(usesOf);
  return {
    uses,
    most: Math.max(0, ...all),
    isBareStep: !known.semantic,
    isOtherRamp: false,
    isPartner: false,
    isRelated: known.roleKnown && known.deltaE < NEAR,
    isIdle: !known.isMet && known.semantic && known.deltaE <= ONE_COLOUR,
    grounds: new Set(own.map((pair) => (isSurface ? pair.ink : pair.surface))).size,
  };
}

function compare(query: MatchQuery, a: TokenMatch, b: TokenMatch): number {
  return byMeaning(query, a, b) || (a.token < b.token ? -1 : 1);
}

function byMeaning(query: MatchQuery, a: TokenMatch, b: TokenMatch): number {
  const uses = (token: string): number => [...(query.roles?.get(token)?.values() ?? [])].reduce((sum, count) => sum + count, 0);
  return (
    Number(b.told) - Number(a.told) ||
    Math.min(a.failing.length, 1) - Math.min(b.failing.length, 1) ||
    // Another colour is no suggestion: it is shown for what there is.
    Number(a.confidence === 'none') - Number(b.confidence === 'none') ||
    // What is in use and only similar changes the picture; a token of the very colour that no page uses yet does not.
    Number(isLookedAt(a)) - Number(isLookedAt(b)) ||
    Math.round(a.strain * 1000) - Math.round(b.strain * 1000) ||
    a.failing.length - b.failing.length ||
    Number(isOwn(query, b.token)) - Number(isOwn(query, a.token)) ||
    uses(b.token) - uses(a.token) ||
    query.graph.users(b.token).length - query.graph.users(a.token).length ||
    a.deltaE - b.deltaE
  );
}

/** Someone would have to look whether it will do. */
function isLookedAt({ confidence, semantic, told }: TokenMatch): boolean {
  return !told && (confidence === 'similar' || !semantic);
}

/** Nothing but the name tells them apart. */
function isTied(query: MatchQuery, a: TokenMatch, b: TokenMatch): boolean {
  if (a.told || a.roleKnown || b.roleKnown || byMeaning(query, a, b) !== 0) return false;
  return a.themes.every(({ color }, at) => {
    const other = b.themes[at]?.color ?? null;
    return color !== null && other !== null && toCssText(color) === toCssText(other);
  });
}

function isOwn({ component }: MatchQuery, token: string): boolean {
  for (let group = groupOf(token); group !== ''; group = groupOf(group)) if (group === component) return true;
  return false;
}
