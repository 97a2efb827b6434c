// Why a token ranks where it does, and what to do, in sentences.
import { showRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { TokenGraph } from '../graph.ts';
import { listed, shown } from '../faults/token-fault.ts';
import type { MatchResult, TokenMatch } from './match-result.ts';
import type { MatchQuery } from './match-query.ts';
import { deliberateThemes } from './match-query.ts';

const NEARNESS = {
  same: 'the same colour to the eye',
  near: 'nearly the same colour',
  similar: 'a similar colour, which someone should look at',
  none: 'another colour',
} as const satisfies Record<TokenMatch['confidence'], string>;

export function reasonFor(query: MatchQuery, match: Omit<TokenMatch, 'reason'>): string {
  const { confidence, deltaE, failing, roleKnown, themes, told, paired, semantic } = match;
  const nearness = `${NEARNESS[confidence]} in ${listed(deliberateThemes(query))} (CIEDE2000 ${shown(deltaE)})`;
  const meant = [
    ...(told && query.told !== undefined ? [query.told.by] : []),
    ...(query.role === null ? [] : [roleKnown ? `used as ${query.role}` : 'not met in any role']),
    ...(semantic ? [] : ['a ramp step, which is the same place of the ramp whatever the theme needs']),
    ...(paired && query.partner?.kind === 'token'
      ? [`lies ${query.role === 'surface' ? 'beneath' : 'on'} ${query.partner.path} elsewhere`]
      : []),
  ];
  const role = meant.length === 0 ? '' : `, ${meant.join(', ')}`;
  if (failing.length > 0) {
    return `${nearness}${role}; fails in ${listed(failing.map(({ theme, why }) => `${theme} (${why})`))}`;
  }
  const ratios = themes.flatMap(({ contrast }) => contrast ?? []);
  const kept = ratios.length === 0 ? '' : `; contrast at least ${showRatio(Math.min(...ratios))} in every theme`;
  return `${nearness}${role}${kept}`;
}

export function adviceFor(query: MatchQuery, { matches, gap, wrongRole }: Omit<MatchResult, 'advice'>): string {
  const text = toCssText(query.literal);
  const [best] = matches;
  if (query.told?.token === null) return `No token serves ${text}: ${query.told.by}.`;
  if (!gap && best !== undefined) {
    if (!best.semantic && hasRoles(query.graph))
      return `${best.token} has the colour, but is a step of a ramp: a token for this use is missing, or none was met in it.`;
    return best.confidence === 'similar' ? `${best.token} comes nearest to ${text}; someone should look.` : `Use ${best.token}.`;
  }
  const none = `No token serves ${text}${query.role === null ? '' : ` as ${query.role}`}`;
  const near = matches.find(({ confidence }) => confidence !== 'none');
  if (near !== undefined) {
    return `${none}: ${near.token} is near, but fails in ${listed(near.failing.map(({ theme }) => theme))}. A token is missing.`;
  }
  const [other] = wrongRole;
  if (other !== undefined)
    return `${none}: ${other.token} has the colour, but is meant as ${listed(other.roles)}. A token is missing.`;
  return `${none}: none comes near. A token is missing.`;
}

/** Some token takes its colour from another one: tokens stand for uses. */
export function hasRoles(graph: TokenGraph): boolean {
  return [...graph.tokens.keys()].some((token) => graph.themes.some((theme) => graph.stepOf(token, theme) !== token));
}
