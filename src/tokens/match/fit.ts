// How well a token suits a place: what it is used as there and elsewhere goes before how near its colour is. Whoever looks for a token
// (causes of a run, tokens for a literal) asks here, so that they cannot disagree.
import type { Color, Opaque } from '../../colour/color.ts';
import { isOpaque, opaque } from '../../colour/color.ts';
import { over } from '../../colour/composite.ts';
import { deltaE2000, toOklch } from '../../colour/lightness.ts';

/** CIEDE2000 that costs as much as a whole other explanation (ours). */
const FAR = 60;
/** What it costs where a colour that is as meant would become plainly another, and where quite another (ours). */
const OTHER = { plainly: 0.3, quite: 0.6 } as const;
/** What a token costs that others use less here than another one (ours, on planted faults). */
const RARE = 0.4;
/** A ramp step, where tokens stand for uses (ours). */
const BARE = 0.8;
/** A step of another ramp than the one in use (ours). */
const OTHER_RAMP = 0.1;
/** What it costs to take a colour that says something else: grey or red for the amber of a warning (ours: less than that it cannot be read). */
const OTHER_HUE = 1.5;
/** OKLCH chroma below which a colour has no hue to speak of, and from which it is plainly a colour (ours: slate greys reach .047). */
const GREY_CHROMA = 0.05;
const PLAIN_CHROMA = 0.08;
/** Degrees by which hues differ that are no steps of one family (ours: red and amber are 30 apart). */
const SAME_HUE_DEG = 25;
/** Surfaces on which a token is met so before it counts as meant for all of them (ours). */
const EVERYWHERE = 3;

/** CIEDE2000 up to which a literal and a token are one colour: half of what is just noticeable (from memory). */
export const ONE_COLOUR = 0.5;
/** CIEDE2000 below which two colours are hardly told apart (ours; 2 to 3 in casual viewing: from memory, common practice). */
export const NEAR = 2;
/** Above this CIEDE2000 a token is no longer similar to the literal it would replace (ours: five times what is just noticeable). */
export const SIMILAR = 5;
/** A colour that is as meant may be replaced by one this far off, if that is what others use there (ours). */
export const RELATED = 16;

export interface FitFacts {
  /** How often it is met in this role on what lies here. */
  readonly uses: number;
  /** The same of the token that is met so most. */
  readonly most: number;
  /** A ramp step, though the place calls for a token with a meaning. */
  readonly isBareStep: boolean;
  readonly isOtherRamp: boolean;
  /** What lies here belongs to it by name and use. */
  readonly isPartner: boolean;
  /** It says what is meant, or is of one group with the token in use; for a literal: its very colour, and used in this role. */
  readonly isRelated: boolean;
  /** Of the very colour of a literal, or what the rule means, and no page uses it yet in any role: that it is met less than others says little. */
  readonly isIdle: boolean;
  /** On how many surfaces it is met in this role. */
  readonly grounds: number;
}

export interface Fit {
  /** Lower suits better; about 0 to 2.5. */
  readonly cost: number;
  /** It is used just so elsewhere. */
  readonly known: boolean;
}

/** How natural a token would be at a place. */
export function fitOf(facts: FitFacts): Fit {
  const { uses, most, isBareStep, isOtherRamp, isPartner, isRelated, isIdle, grounds } = facts;
  const rare = isIdle ? RARE / 2 : most === 0 ? RARE : RARE * (1 - uses / most);
  const stranger = rare + (isBareStep ? BARE : 0) + (isOtherRamp ? OTHER_RAMP : 0);
  if (isPartner) return { cost: stranger - 0.3, known: true };
  if (uses > 0) return { cost: stranger, known: true };
  if (isRelated || isIdle) return { cost: 0.15 + stranger, known: true };
  if (grounds >= EVERYWHERE) return { cost: 0.3 + stranger, known: true };
  return { cost: 1.2 + stranger, known: false };
}

/** @param distance CIEDE2000 from what is there now @param asMeant what is there now is as meant where it is compared */
export function strainOf(fit: Fit, distance: number, asMeant: boolean): number {
  const changed = !asMeant || distance < NEAR ? 0 : distance <= RELATED ? OTHER.plainly : OTHER.quite;
  return fit.cost + Math.min(1, distance / FAR) + changed;
}

/** What it costs that one colour takes the place of another one of no kin. @param isOneRamp steps of a ramp are kin, however its hue runs */
export function hueStrain(one: Color, other: Color, isOneRamp: boolean): number {
  return !isOneRamp && isOtherHue(one, other) ? OTHER_HUE : 0;
}

/** Red and green, or a plain colour and a grey; what is hardly coloured is kin to all that is not plainly so. */
export function isOtherHue(one: Color, other: Color): boolean {
  const [a, b] = [toOklch(one), toOklch(other)];
  const [less, more] = [Math.min(a.chroma, b.chroma), Math.max(a.chroma, b.chroma)];
  if (more < PLAIN_CHROMA) return false;
  if (less < GREY_CHROMA) return true;
  const apart = Math.abs(a.hueDeg - b.hueDeg);
  return Math.min(apart, 360 - apart) > SAME_HUE_DEG;
}

/** No hue to speak of. */
export function isGrey(color: Color): boolean {
  return toOklch(color).chroma < GREY_CHROMA;
}

/** Between reds, ambers, yellows, greens, cyans, blues and purples, degrees of OKLCH (ours). */
const HUE_BOUNDS_DEG = [30, 80, 130, 180, 230, 280, 330];

/** Colours of one family are mostly kin; grey is what is not plainly coloured. Alpha is left out. */
export function hueFamily(color: Color): string {
  const { chroma, hueDeg } = toOklch(color);
  if (chroma < PLAIN_CHROMA) return 'grey';
  return `hue ${String((HUE_BOUNDS_DEG.findLastIndex((bound) => hueDeg >= bound) + 1) % HUE_BOUNDS_DEG.length)}`;
}

/** CIEDE2000 (D65) of two colours as they are seen on each of these grounds: the largest. */
export function seenDistance(one: Color, other: Color, grounds: readonly Opaque[]): number {
  if (isOpaque(one) && isOpaque(other)) return deltaE2000(opaque(one), opaque(other));
  return Math.max(...grounds.map((ground) => deltaE2000(over(one, ground), over(other, ground))));
}
