// What is asked when a token is sought for a literal colour, and what a candidate is in one theme.
import type { Color, Opaque } from '../../colour/color.ts';
import { BLACK, WHITE, isOpaque, opaque } from '../../colour/color.ts';
import { over } from '../../colour/composite.ts';
import { contrastRatio } from '../../colour/contrast-ratio.ts';
import type { TokenGraph } from '../graph.ts';
import type { Role, RolesOf } from '../roles.ts';
import { seenDistance } from './fit.ts';

/** What the literal lies on, or for a surface what lies on it. */
export type Partner =
  | { readonly kind: 'token'; readonly path: string }
  /** `only`: it is known in the deliberate themes alone, being a literal itself. */
  | { readonly kind: 'color'; readonly color: Color; readonly only?: true };

export interface MatchQuery {
  readonly graph: TokenGraph;
  readonly literal: Color;
  /** null: not known, and then tokens of all roles will do. */
  readonly role: Role | null;
  /** The theme it was written for. */
  readonly theme: string;
  readonly partner?: Partner;
  /** Least contrast with the partner; by default that of the role. */
  readonly required?: number;
  /** Other themes for which the author wrote a literal of their own: theme → colour. */
  readonly alsoIn?: ReadonlyMap<string, Color>;
  /** What tokens were met as, from runs or configuration. */
  readonly roles?: RolesOf;
  /** Declared in the configuration or met on pages: which inks lie on which surfaces. */
  readonly pairs?: readonly PairOfTokens[];
  readonly told?: Told;
  /** Path of the group of tokens of the component it stands in; these come before global ones. */
  readonly component?: string;
}

/** What the last run's cause of this very literal says it should be. */
export interface Told {
  /** null: it says that none serves. */
  readonly token: string | null;
  readonly by: string;
  /** It says that what the literal draws should not be there: the declaration that takes it away. */
  readonly without?: string;
}

/** An ink and the surface it lies on. */
export interface PairOfTokens {
  readonly ink: string;
  readonly surface: string;
  /** Places it was met at; 0 where it is only declared. */
  readonly uses?: number;
}

export interface ThemeMatch {
  readonly theme: string;
  /** The candidate there; null where it has no colour. */
  readonly color: Color | null;
  /** With the partner; null without one, or where one of them has no colour. */
  readonly contrast: number | null;
}

/** Text 4.5, what identifies a control 3 (WCAG 2.2, SC 1.4.3 and 1.4.11); a surface is judged as what its text needs. */
export const REQUIRED_BY_ROLE = { ink: 4.5, surface: 4.5, edge: 3, glyph: 3, shadow: 1 } as const satisfies Record<Role, number>;

/** Themes in which the literal is what its author wanted. */
export function deliberateThemes({ theme, alsoIn }: MatchQuery): readonly string[] {
  return [...new Set([theme, ...(alsoIn?.keys() ?? [])])];
}

/** What is painted in a theme today. */
export function literalIn(query: MatchQuery, theme: string): Color {
  return query.alsoIn?.get(theme) ?? query.literal;
}

/**
 * Largest CIEDE2000 (D65) over the deliberate themes; translucent colours are compared on their ground, and where that is not known on
 * white and on black: a veil is not the opaque colour that it makes on a white page. Infinity without a colour.
 */
export function distance(query: MatchQuery, token: string): number {
  const deltas = deliberateThemes(query).map((theme) => {
    const color = query.graph.colorOf(token, theme);
    if (color === null) return Infinity;
    const literal = literalIn(query, theme);
    const isKnown = query.role !== 'surface' && partnerIn(query, theme) !== null;
    return seenDistance(color, literal, isKnown ? [groundIn(query, theme)] : [WHITE, BLACK]);
  });
  return Math.max(...deltas);
}

export function themeMatches(query: MatchQuery, token: string): readonly ThemeMatch[] {
  return query.graph.themes.map((theme) => {
    const color = query.graph.colorOf(token, theme);
    return { theme, color, contrast: color === null ? null : contrastWith(query, color, theme) };
  });
}

/** Contrast of a colour with the partner; null where that is not known. */
export function contrastWith(query: MatchQuery, color: Color, theme: string): number | null {
  const partner = partnerIn(query, theme);
  if (partner === null) return null;
  const background = query.role === 'surface' ? onGround(color, WHITE) : groundIn(query, theme);
  return contrastRatio({ ink: over(query.role === 'surface' ? partner : color, background), background });
}

function partnerIn(query: MatchQuery, theme: string): Color | null {
  const { graph, partner } = query;
  if (partner === undefined || (partner.kind === 'color' && partner.only === true && !deliberateThemes(query).includes(theme)))
    return null;
  return partner.kind === 'color' ? partner.color : graph.colorOf(partner.path, theme);
}

/** What translucent colours are laid over: the partner beneath; white, as a canvas is, when nothing is known. */
function groundIn(query: MatchQuery, theme: string): Opaque {
  const partner = query.role === 'surface' ? null : partnerIn(query, theme);
  return partner === null ? WHITE : over(partner, WHITE);
}

function onGround(color: Color, ground: Opaque): Opaque {
  return isOpaque(color) ? opaque(color) : over(color, ground);
}
