// Candidates that let places of the page use another token: instead of a literal, or of a token meant for something else.
import { WHITE } from '../../colour/color.ts';
import { over } from '../../colour/composite.ts';
import { deltaEOk } from '../../colour/lightness.ts';
import { fitOf, hueStrain, isGrey, isOtherHue, NEAR, ONE_COLOUR, seenDistance, SIMILAR, strainOf } from '../../tokens/match/fit.ts';
import type { Candidate, Evidence, Ground, IsOpen, Proposal, Weighing } from './candidate.ts';
import { best, openWeighing, partOf, visibility } from './candidate.ts';
import type { KnownSite } from './known-site.ts';
import {
  backsOf,
  changesNothing,
  colorNow,
  isLost,
  isOtherTint,
  isMergedThere,
  knownOf,
  readsThere,
  turnsOver,
} from './known-site.ts';
import type { Case } from '../cases/case.ts';
import type { Change, InkUse, UseSite } from '../recolor/change.ts';
import { isOwn } from '../recolor/make-recoloring.ts';
import { inksFor } from '../recolor/inks-for.ts';
import { FOREIGN, isForeignTo } from './foreign-name.ts';
import { isOnSomething, madeFor, saysTheSame } from './named-for.ts';
import { refKey } from '../cases/paint-ref.ts';
import { isSameRamp, isStep } from './same-ramp.ts';
import { isCalledAfter, isWordsInk, wordsThere } from './icon-inks.ts';
import { isCalledFor, kindsIn, mayServeAs, wordsIn } from '../cases/name-words.ts';
import { familyOf, groupOf } from '../cases/usage.ts';

/** Tokens tried for one place; nearest in the reference theme first, of equals those in use. */
const MOST_TRIED = 60;
/** What replacing costs (ours, on planted faults): a literal, a token used as what it is not meant for, one used nowhere else, any other. */
const BASE = { literal: 0.8, strange: 0.7, alone: 1.5, plain: 1 } as const;
/** What speaks against bystanders, when a place gets the surface that what lies on it belongs to (ours). */
const AS_MEANT = 0.2;
/** What it costs when a surface comes to look like the one it lies on (ours). */
const MERGED = 0.8;
/** What it costs to change a surface that others are read on, for what cannot be read on it (ours). */
const BLAMED = 1.5;
/** What speaks for a token that the place of a literal bears the name of, `.hint` for `mark.hint`: about as much as others using it more (ours). */
const CALLED = 0.15;
/** What speaks for a token of the kind of thing that the place is: more than that others are seen on the same ground (ours). */
const OF_KIND = 0.6;
/** What speaks against a text's token for an icon, and the other way round (ours). */
const OTHER_INK = 0.25;
/** What speaks for a token whose name says that it is read on what the place lies on (ours). */
const MADE_FOR_IT = 0.3;
/** A panel whose inks change with it is more to explain. */
const PER_INK = 0.1;

export function proposeUse(ground: Ground, site: UseSite): Proposal {
  const key = site.side === 'fore' ? `use ${site.cases.join(',')}` : `use surface ${refKey(site.ref)} ${site.cases.join(',')}`;
  return { key, propose: (isOpen) => tryTokens(ground, isOpen, site) };
}

function tryTokens(ground: Ground, isOpen: IsOpen, site: UseSite): Candidate | null {
  const { world, usage } = ground;
  const place = knownOf(ground, isOpen, site);
  // What lies around is not known: nobody can say which surface would do.
  const failing = place?.cases.filter((one) => world.faultsOf(one).some(isOpen)) ?? [];
  if (place === null || (site.side === 'surface' && failing.every((one) => one.backFixed))) return null;
  const { role, current, there } = place;
  const now = colorNow(ground, place, there);
  const used = usage.as(role);
  const idle = usage
    .idleAs(role)
    .filter((token) => !used.has(token) && (isAskedFor(ground, place, token) || (current < 0 && place.isSound)));
  const lent = wordsThere(ground, place);
  const options = [...new Set([...used.keys(), ...idle, ...lent])].flatMap((token, at) => {
    const isOut = token === current || !covers(ground, site, token) || !isAsWhole(ground, place, token);
    const color = isOut ? null : world.index.colorOf(there, token);
    const distance = color === null ? Infinity : seenDistance(color, now, place.seenOn);
    // A literal that is the very colour of a token nobody uses yet was written before the token, or beside it.
    const isMet = at < used.size || lent.has(token);
    return distance > (isMet || isAskedFor(ground, place, token) ? Number.MAX_VALUE : ONE_COLOUR)
      ? []
      : [{ token, distance, isIdle: at >= used.size }];
  });
  // Of tokens that look alike the one that is in use, then the one that is called after what it is to be.
  const rank = ({ token, isIdle }: (typeof options)[number]): number =>
    Number(isIdle) * 2 + Number(!isCalledFor(role, world.index.pathOf(token)));
  options.sort((a, b) => a.distance - b.distance || rank(a) - rank(b) || a.token - b.token);
  const keepsHue = options.some(({ token }) => !isOfOtherHue(ground, place, token) && readsThere(ground, isOpen, place, token));
  const tried = options.filter(({ token }) => !keepsHue || !isOfOtherHue(ground, place, token)).slice(0, MOST_TRIED);
  const bestOf = (isForeign: boolean): Candidate | null =>
    best(
      tried
        .filter(({ token }) => isForeign === speaksAgainst(ground, place, token))
        .flatMap(({ token, distance }) => waysWith(ground, isOpen, place, token, distance)),
    );
  return bestOf(false) ?? bestOf(true);
}

/** Its name says something else, or not what is meant. */
function speaksAgainst(ground: Ground, place: KnownSite, token: number): boolean {
  const { index } = ground.world;
  const { site, role, current, names, meant } = place;
  if (!saysTheSame(index, token, meant)) return true;
  // What it says besides is said of what it is read on.
  if (isMadeFor(ground, place, token) || isCalledAfter(ground, place, token)) return false;
  // A border without a colour of its own takes the ink: that is no use of a text's token as a border's.
  if (!mayServeAs(role, index.pathOf(token)) && ground.usage.isStrangeAs(role, token)) return true;
  // What is plain where it is as meant says nothing that a colour says.
  if (current < 0 && isOfOtherHue(ground, place, token) && isGrey(colorNow(ground, place, place.there))) return true;
  return (role === 'surface' && current < 0 && isOnSomething(index, token)) || isForeignTo(index, token, { ref: site.ref, names });
}

/** It says the same as the token in use, after which the rule is called. */
function isMeant({ world: { index } }: Ground, { meant }: KnownSite, token: number): boolean {
  return meant.length > 0 && saysTheSame(index, token, meant);
}

/** Its name says that it is read on what the place lies on. */
function isMadeFor({ world: { index } }: Ground, { role, grounds }: KnownSite, token: number): boolean {
  return role !== 'surface' && grounds.some((each) => madeFor(index, each).has(token));
}

/** What is drawn red is not drawn grey or green, where names do not ask for it. */
function isOfOtherHue(ground: Ground, place: KnownSite, token: number): boolean {
  const color = ground.world.index.colorOf(place.there, token);
  if (place.role === 'surface' || place.role === 'shadow' || color === null || isAskedFor(ground, place, token)) return false;
  return isOtherHue(colorNow(ground, place, place.there), color);
}

/** By its name; no use needs to tell. */
function isAskedFor(ground: Ground, place: KnownSite, token: number): boolean {
  return isMeant(ground, place, token) || isMadeFor(ground, place, token);
}

/** What hides what is below is not replaced by what lets it through: what would be seen there nobody knows. */
function covers({ world: { index } }: Ground, { side, ref }: UseSite, token: number): boolean {
  if (side === 'fore' || ref.color.alpha < 1) return true;
  return index.table.themes.every((_, theme) => (index.colorOf(theme, token)?.alpha ?? 1) === 1);
}

/** A token of a whole shadow or border stands for no colour, nor a colour for it; a shadow's own declaration may take either. */
function isAsWhole({ world: { index } }: Ground, { role, current }: KnownSite, token: number): boolean {
  const isComposite = (each: number): boolean => index.table.tokens[each]?.isComposite === true;
  return role === 'shadow' || isComposite(token) === isComposite(current);
}

/** The token alone; on a surface that something is said of also together with inks for what lies there. */
function waysWith(ground: Ground, isOpen: IsOpen, place: KnownSite, token: number, distance: number): readonly (Weighing | null)[] {
  const { world, usage } = ground;
  const { site, cases, role, current } = place;
  const fit = fitHere(ground, place, token, distance);
  if (!fit.known && (current >= 0 || distance > SIMILAR)) return [];
  if (changesNothing(ground, isOpen, place, token)) return [];
  if (isOtherTint(ground, place, token) || turnsOver(ground, place, token) || isLost(ground, place, token)) return [];
  const isStrange = current >= 0 && (usage.isStrangeAs(role, current) || fit.partner);
  const isAlone = current >= 0 && !hasHealthyUses(ground, isOpen, place);
  // What lies on a surface that the set has an ink for is to have that one, however far it is from what is there.
  const isProven = current >= 0 && isMadeFor(ground, place, token) && !isMadeFor(ground, place, current);
  const base = current < 0 ? BASE.literal : isStrange || isProven ? BASE.strange : isAlone ? BASE.alone : BASE.plain;
  const pairs = new Map(
    cases.map((one) => {
      const [behind = WHITE] = backsOf(one);
      const next = world.index.colorOf(one.theme, token);
      return [one.theme, [over(colorNow(ground, place, one.theme), behind), next === null ? null : over(next, behind)] as const];
    }),
  );
  const isForeign = speaksAgainst(ground, place, token);
  // A literal that is the token’s colour where it is as meant only failed to follow it elsewhere, unless the name says it is by chance.
  const isFrozen = current < 0 && place.isSound && distance <= ONE_COLOUR && !isForeign;
  const size =
    isFrozen || isProven ? 0 : Math.max(...[...pairs.values()].map(([one, other]) => (other === null ? 1 : deltaEOk(one, other))));
  const visible = (one: Case): number => {
    const [before, after] = pairs.get(one.theme) ?? [];
    const seen = before === undefined || after === undefined || after === null ? 1 : visibility(before, after);
    return seen * (fit.partner || (isFrozen && place.isAtFault) ? AS_MEANT : 1);
  };
  // Names go before colours. The colour of what is not meant for this says no more than that the place is plain, where it is.
  const isNamed = isProven || place.meant.length > 0 || (isStrange && !isGrey(colorNow(ground, place, place.there)));
  const isOneRamp = current >= 0 && isStep(world.index, token) && isSameRamp(world.index, token, current);
  const compared = isStrange ? [...pairs.keys()] : [place.there];
  const strayed = isNamed ? 0 : Math.max(0, ...compared.map((theme) => strainIn(ground, place, { theme, token, isOneRamp })));
  const evidence: Evidence = { ...(isStrange ? { role: 'strange' } : {}), ...(isForeign ? { foreign: true } : {}) };
  const merges = place.role === 'surface' && place.grounds.includes(token) && !isMergedThere(ground, place, token);
  // A step that is lost or too hard is not mended by having none.
  if (merges && place.isParted) return [];
  const way = (inks: readonly InkUse[]): Weighing | null => {
    const change: Change = { kind: 'use', site, token, inks, partner: fit.partner };
    const cost =
      base +
      (isProven ? 0 : strainOf(fit, distance, current < 0 && place.isSound)) +
      strayed +
      (place.isBlamed ? BLAMED : 0) +
      (isForeign ? FOREIGN : 0) +
      (merges ? MERGED : 0) +
      PER_INK * inks.length -
      // Of tokens that would do alike, what the place is called says which was meant, and what it lies on.
      (current < 0 && callsItself(place, world.index.pathOf(token)) ? CALLED : 0) -
      (current < 0 && isOfKind(place, world.index.pathOf(token)) ? OF_KIND : 0) -
      (current < 0 && (isMadeFor(ground, place, token) || isCalledAfter(ground, place, token)) ? MADE_FOR_IT : 0) +
      (current < 0 && isWordsInk(ground, place, token) ? OTHER_INK : 0);
    const parts = [partOf(ground, change, 'usage')] as const;
    // Where new inks alone mend what is wrong there, the surface has no part in it.
    const own = inks.length === 0 || site.side === 'fore' ? {} : { must: (one: Case) => isOwn(site, one) };
    return openWeighing(ground, isOpen, { parts, base: cost, size, evidence, visible, ...own });
  };
  // A surface that nothing is said of is not changed together with what is drawn on it: what is drawn there is at fault.
  if (site.side === 'fore' || !place.isAtFault) return [way([])];
  const inks = inksFor(ground, isOpen, { site, token, cases });
  return inks.length === 0 ? [way([])] : [way([]), way(inks)];
}

function strainIn(
  ground: Ground,
  place: KnownSite,
  { theme, token, isOneRamp }: { readonly theme: number; readonly token: number; readonly isOneRamp: boolean },
): number {
  const other = ground.world.index.colorOf(theme, token);
  return other === null ? 0 : hueStrain(colorNow(ground, place, theme), other, isOneRamp);
}

/** The last part of a token’s path says what it is for: the others name whole groups. */
function callsItself({ words }: KnownSite, path: string): boolean {
  const named = wordsIn(path.split('.').at(-1) ?? path);
  return named.length > 0 && named.every((word) => words.has(word));
}

/** Its name speaks of the kind of thing that the place is, and of no other: `--button-face` for a button. */
function isOfKind({ kinds }: KnownSite, path: string): boolean {
  const own = kindsIn(wordsIn(path));
  return own.length > 0 && own.every((kind) => kinds.includes(kind));
}

/** Whether the token is right in other places of the themes in which it fails here. */
function hasHealthyUses({ world }: Ground, isOpen: IsOpen, { site, cases, current, role }: KnownSite): boolean {
  const own = new Set(site.cases);
  const failing = new Set(cases.flatMap((one) => (world.faultsOf(one).some(isOpen) ? [one.theme] : [])));
  return [...failing].some((theme) =>
    world.casesOf(theme, current).some((id) => {
      const one = world.cases[id];
      if (one === undefined || own.has(id) || one.role !== role || one.findings.size > 0) return false;
      return one.fore.kind === 'token' && one.fore.token === current;
    }),
  );
}

/** How natural a token would be here. `partner`: what lies here belongs to it. */
function fitHere(
  ground: Ground,
  place: KnownSite,
  token: number,
  distance: number,
): { readonly cost: number; readonly known: boolean; readonly partner: boolean } {
  const { usage, world } = ground;
  const { current, role, grounds } = place;
  const { index } = world;
  const drawnAs = wordsThere(ground, place).has(token) ? 'ink' : role;
  const there = grounds.map((each) => usage.on(drawnAs, each));
  const partner = isPartner(ground, place, token);
  const fit = fitOf({
    uses: there.reduce((sum, each) => sum + (each.get(token) ?? 0), 0),
    most: there.reduce((sum, each) => sum + Math.max(0, ...each.values()), 0),
    isBareStep: index.stepOf(token) !== null && (current < 0 || index.stepOf(current) === null),
    isOtherRamp: !isSameRamp(index, token, current),
    isPartner: partner,
    isRelated:
      isAskedFor(ground, place, token) ||
      (current >= 0
        ? groupOf(index.pathOf(token)) === groupOf(index.pathOf(current))
        : isOfKind(place, index.pathOf(token)) || (place.isSound && distance < NEAR)),
    isIdle:
      (isAskedFor(ground, place, token) || (current < 0 && place.isSound && distance <= ONE_COLOUR)) &&
      usage.idleAs(role).includes(token),
    grounds: usage.groundsOf(role, token),
  });
  return { ...fit, partner };
}

/** Inks lie here that elsewhere lie on this very token, bear its family name, and not that of the one in use. */
function isPartner({ usage, world: { index } }: Ground, { inks, current }: KnownSite, token: number): boolean {
  const family = familyOf(index.pathOf(token));
  if (family === '' || (current >= 0 && familyOf(index.pathOf(current)) === family)) return false;
  return inks.some((ink) => usage.partnersOf(ink).includes(token));
}
