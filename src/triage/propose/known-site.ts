// What is known of places that might take another token, before any is tried.
import type { Color, Opaque } from '../../colour/color.ts';
import { BLACK, WHITE } from '../../colour/color.ts';
import { over } from '../../colour/composite.ts';
import { contrastRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import { cieLightness, MIDDLE_LIGHTNESS } from '../../colour/lightness.ts';
import { isOtherHue, ONE_COLOUR, seenDistance } from '../../tokens/match/fit.ts';
import { losesStep } from '../../checks/separation.ts';
import type { Ground, IsOpen } from './candidate.ts';
import type { Case, Role } from '../cases/case.ts';
import { kindsIn, wordsIn } from '../cases/name-words.ts';
import { lastPart } from '../cases/selectors.ts';
import { groundOf } from '../cases/usage.ts';
import type { UseSite } from '../recolor/change.ts';
import { isOwn } from '../recolor/make-recoloring.ts';
import { namesOfPlace } from './foreign-name.ts';
import { wordsMeant } from './named-for.ts';

/** CIE L* by which two tones differ that are no shades of one (ours). */
const TURNED = 20;

export interface KnownSite {
  readonly site: UseSite;
  readonly cases: readonly Case[];
  readonly role: Role;
  /** Token in use; −1 for a literal. */
  readonly current: number;
  /** Theme in which the present colour is as meant: the reference, unless that is where it fails. */
  readonly there: number;
  readonly isSound: boolean;
  /** A surface that nothing is said of there itself. */
  readonly stands: boolean;
  /** What lies behind there. */
  readonly seenOn: readonly Opaque[];
  /** Something is said of the surface itself, not only of what is drawn on it. */
  readonly isAtFault: boolean;
  /** Of its step to what it lies on. */
  readonly isParted: boolean;
  /** Nothing is, and other things of the kind that fails are drawn on such surfaces without fault. */
  readonly isBlamed: boolean;
  /** Surface tokens that it lies on. */
  readonly grounds: readonly number[];
  /** Ink tokens that lie on it. */
  readonly inks: readonly number[];
  /** What ids and classes call it. */
  readonly words: ReadonlySet<string>;
  /** Words of the token in use that mean something here. */
  readonly meant: readonly string[];
  /** What rules, elements and roles call it. */
  readonly names: readonly string[];
  /** What kinds of things they say it is; an id is a name of its own. */
  readonly kinds: readonly string[];
}

export function knownOf(ground: Ground, isOpen: IsOpen, site: UseSite): KnownSite | null {
  const { world } = ground;
  const { reference } = world.index.table;
  const cases = site.cases.flatMap((id) => world.cases[id] ?? []);
  const painted = cases.filter((one) => isPainted(site, one));
  const rank = (one: Case): number => (one.theme === reference ? -1 : one.theme);
  const own = painted.length > 0 ? painted : cases;
  const [shown] = own.toSorted((one, other) => rank(one) - rank(other));
  if (shown === undefined) return null;
  const sound = own.find((one) => one.theme === reference && !world.faultsOf(one).some(isOpen));
  const upon = site.side === 'fore' ? [] : cases.filter((one) => !isOwn(site, one));
  const isAtFault = painted.some((one) => world.faultsOf(one).some(isOpen));
  const failing = upon.filter((one) => world.faultsOf(one).some(isOpen));
  return {
    site,
    cases,
    isAtFault,
    isParted: painted.some((one) => world.faultsOf(one).some((fault) => isOpen(fault) && fault.check === 'separation')),
    isBlamed: !isAtFault && failing.length > 0 && failing.every((one) => ground.usage.on(one.role, groundOf(one)).size > 0),
    role: site.side === 'surface' ? 'surface' : shown.role,
    current: site.ref.kind === 'token' || site.ref.kind === 'stale' ? site.ref.token : -1,
    there: (sound ?? shown).theme,
    isSound: sound !== undefined,
    stands: site.side === 'surface' && painted.some((one) => one.theme === reference && !world.faultsOf(one).some(isOpen)),
    seenOn: backsOf(sound ?? shown),
    grounds: distinct(painted.map(groundOf)),
    inks: distinct(upon.map((one) => (one.fore.kind === 'token' ? one.fore.token : -1))),
    meant: [...new Set(painted.flatMap((one) => wordsMeant(world.index, one)))],
    names: [...new Set(painted.flatMap(namesOfPlace))],
    kinds: [...new Set(painted.flatMap(kindsOf))],
    words: new Set(painted.flatMap((one) => namesOf(one.place.sample?.selector ?? '').flatMap(wordsIn))),
  };
}

function kindsOf(one: Case): readonly string[] {
  const ids = new Set(
    lastPart(one.place.sample?.selector ?? '')
      .match(/#[\w-]+/gu)
      ?.flatMap(wordsIn) ?? [],
  );
  return kindsIn(namesOfPlace(one).filter((name) => !ids.has(name)));
}

/** Of the element itself, not of those around it. */
function namesOf(selector: string): readonly string[] {
  return lastPart(selector).match(/[#.][\w-]+/gu) ?? [];
}

/** Where it is not known: a veil is not the opaque colour that it makes on a white page. */
export function backsOf({ seenBacks }: Case): readonly Opaque[] {
  return seenBacks.length > 0 ? seenBacks : [WHITE, BLACK];
}

function distinct(tokens: readonly number[]): readonly number[] {
  return [...new Set(tokens)].filter((token) => token >= 0);
}

export function colorNow({ world: { index } }: Ground, { site, current }: KnownSite, theme: number): Color {
  return current < 0 ? site.ref.color : (index.colorOf(theme, current) ?? site.ref.color);
}

/** A white surface that is written out is no yellow one, nor a red one green. */
export function isOtherTint({ world: { index } }: Ground, { role, current, site, there }: KnownSite, token: number): boolean {
  const color = index.colorOf(there, token);
  return role === 'surface' && current < 0 && color !== null && isOtherHue(site.ref.color, color);
}

/** A surface that is as meant keeps its tone there: a bar that is dark on a light page was made so. */
export function turnsOver(ground: Ground, place: KnownSite, token: number): boolean {
  const color = ground.world.index.colorOf(place.there, token);
  if (!place.stands || color === null) return false;
  const [behind = WHITE] = place.seenOn;
  const [now, then] = [colorNow(ground, place, place.there), color].map((each) => cieLightness(over(each, behind)));
  return (
    now !== undefined && then !== undefined && now < MIDDLE_LIGHTNESS !== then < MIDDLE_LIGHTNESS && Math.abs(now - then) >= TURNED
  );
}

/** Of the very colour that is there already, wherever something is wrong: nobody would see that it was mended. */
export function changesNothing({ world }: Ground, isOpen: IsOpen, { cases, site }: KnownSite, token: number): boolean {
  const failing = cases.filter((one) => isPainted(site, one) && world.faultsOf(one).some(isOpen));
  return (
    failing.length > 0 &&
    failing.every((one) => {
      const color = world.index.colorOf(one.theme, token);
      return color !== null && toCssText(color) === toCssText(one.fore.color);
    })
  );
}

/** Wherever something is wrong, by what is asked there. */
export function readsThere({ world }: Ground, isOpen: IsOpen, { cases, site }: KnownSite, token: number): boolean {
  const failing = cases.filter((one) => isPainted(site, one) && world.faultsOf(one).some(isOpen));
  return failing.every((one) => {
    const color = world.index.colorOf(one.theme, token);
    return (
      color !== null && one.seenBacks.every((back) => contrastRatio({ ink: over(color, back), background: back }) >= one.required)
    );
  });
}

function isPainted(site: UseSite, one: Case): boolean {
  return site.side === 'fore' || isOwn(site, one);
}

/** Where it is as meant, it looks like what it lies on. */
export function isMergedThere(ground: Ground, place: KnownSite, token: number): boolean {
  const { isSound, there, seenOn } = place;
  const color = ground.world.index.colorOf(there, token);
  return isSound && color !== null && seenDistance(color, colorNow(ground, place, there), seenOn) <= ONE_COLOUR;
}

/** A surface that its colour alone tells from its ground where it is as meant would be told no longer. */
export function isLost(ground: Ground, place: KnownSite, token: number): boolean {
  const { isSound, there, seenOn, site, cases } = place;
  const color = ground.world.index.colorOf(there, token);
  if (site.side === 'fore' || !isSound || color === null) return false;
  if (cases.some((one) => isOwn(site, one) && one.facts.edged)) return false;
  const now = colorNow(ground, place, there);
  return seenOn.every((back) => losesStep({ fore: over(now, back), back }, { fore: over(color, back), back }));
}
