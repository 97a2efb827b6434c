// A literal colour → the tokens that could stand in for it, best first, or plainly none (a gap). Order: contrast kept in every
// theme, nearness, role known, semantic before ramp, own component before global, more used.
import { showRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import { groupOf } from '../faults/definition-view.ts';
import { rolesThrough } from '../roles.ts';
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
  const { graph, role, roles = new Map() } = query;
  const byDistance = [...graph.tokens.keys()]
    .map((token) => ({ token, deltaE: distance(query, token) }))
    .filter(({ deltaE }) => Number.isFinite(deltaE))
    .sort((a, b) => a.deltaE - b.deltaE);
  const found: TokenMatch[] = [];
  const wrongRole: OtherRole[] = [];
  let far = 0;
  for (const { token, deltaE } of byDistance) {
    const isFar = confidenceOf(deltaE) === 'none';
    if (isFar && far >= MOST_FAR) break;
    const known = rolesThrough(graph, roles, token);
    if (role !== null && known.size > 0 && !known.has(role)) {
      if (!isFar) wrongRole.push({ token, roles: [...known].sort(), deltaE });
      continue;
    }
    if (isFar) far += 1;
    found.push(judge(query, token, deltaE, role !== null && known.has(role)));
  }
  const matches = found.sort((a, b) => compare(query, a, b));
  const [best] = matches;
  const gap = best === undefined || best.confidence === 'none' || best.failing.length > 0;
  return { matches, gap, wrongRole, advice: adviceFor(query, { matches, gap, wrongRole }) };
}

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

function judge(query: MatchQuery, token: string, deltaE: number, roleKnown: boolean): TokenMatch {
  const { graph, theme } = query;
  const themes = themeMatches(query, token);
  const failing = themes.flatMap((each) => failure(query, each));
  const semantic = graph.stepOf(token, theme) !== token || graph.users(token).length === 0;
  const facts = { token, roleKnown, semantic, themes, deltaE, failing, confidence: confidenceOf(deltaE) };
  return { ...facts, reason: reasonFor(query, facts) };
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

const CONFIDENCE_ORDER = { same: 0, near: 1, similar: 2, none: 3 } as const satisfies Record<Confidence, number>;

function compare(query: MatchQuery, a: TokenMatch, b: TokenMatch): number {
  const uses = (token: string): number => [...(query.roles?.get(token)?.values() ?? [])].reduce((sum, count) => sum + count, 0);
  return (
    Math.min(a.failing.length, 1) - Math.min(b.failing.length, 1) ||
    CONFIDENCE_ORDER[a.confidence] - CONFIDENCE_ORDER[b.confidence] ||
    Number(b.roleKnown) - Number(a.roleKnown) ||
    a.deltaE - b.deltaE ||
    a.failing.length - b.failing.length ||
    Number(b.semantic) - Number(a.semantic) ||
    Number(isOwn(query, b.token)) - Number(isOwn(query, a.token)) ||
    uses(b.token) - uses(a.token) ||
    query.graph.users(b.token).length - query.graph.users(a.token).length ||
    (a.token < b.token ? -1 : 1)
  );
}

function isOwn({ component }: MatchQuery, token: string): boolean {
  for (let group = groupOf(token); group !== ''; group = groupOf(group)) if (group === component) return true;
  return false;
}
