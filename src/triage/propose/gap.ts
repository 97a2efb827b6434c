// A token that is missing: the places that nothing in the set serves, and what the missing token must be in every theme.
import type { Color, Opaque } from '../../colour/color.ts';
import { opaque } from '../../colour/color.ts';
import { contrastRatio, relativeLuminance } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { Candidate, Evidence, Ground, IsOpen, Proposal } from './candidate.ts';
import { partOf, scoreOf, weightIn } from './candidate.ts';
import { appendTo } from '../counting.ts';
import type { Case } from '../cases/case.ts';
import { asPainted, compositeFore } from '../recolor/composite-layers.ts';
import { MARGIN } from '../recolor/judge.ts';
import { isForeignTo, namesOfPlace } from './foreign-name.ts';
import { isReadOn, saysTheSame, wordsMeant } from './named-for.ts';
import { groundOf } from '../cases/usage.ts';
import { nearbyColors } from './nearby-colors.ts';
import { isOtherHue } from '../../tokens/match/fit.ts';
import { throughFilters } from '../recolor/through-filters.ts';
import type { CaseFault, World } from '../world.ts';

/** A new token is the last thing to ask for; where nothing of the set would do, the first (ours, on planted faults). */
const BASE = { hopeless: 0.75, unnatural: 2.5 } as const;

/** @param faults on one surface or of one family: what one new token may have to serve */
export function proposeGap(ground: Ground, key: string, faults: readonly CaseFault[]): Proposal {
  return { key: `gap ${key}`, propose: (isOpen) => tryGap(ground, isOpen, faults) };
}

/** Tokens in use can be read there, but none suits that is like what is there now, or used on what it lies on. */
export function unlikeGap(ground: Ground, isOpen: IsOpen, faults: readonly CaseFault[]): Candidate | null {
  const open = mayLackToken(ground, isOpen, faults).filter(({ case: one }) => !one.foreFixed && !one.backFixed);
  return madeGap(ground, isOpen, { faults: onePerToken(ground, open), base: BASE.unnatural, evidence: { unlike: true } });
}

function tryGap(ground: Ground, isOpen: IsOpen, faults: readonly CaseFault[]): Candidate | null {
  const open = mayLackToken(ground, isOpen, faults);
  const served = openService(ground);
  const hopeless = open.filter((fault) => served(fault.case) === 'hopeless');
  const unserved = onePerToken(ground, hopeless.length > 0 ? hopeless : open.filter((fault) => served(fault.case) === 'unnatural'));
  return hopeless.length > 0
    ? madeGap(ground, isOpen, { faults: unserved, base: BASE.hopeless, evidence: { hopeless: true } })
    : madeGap(ground, isOpen, { faults: unserved, base: BASE.unnatural, evidence: {} });
}

/** Where opacity takes the contrast away, no token can give it back; and of a colour that nobody knows nothing can be asked. */
function mayLackToken(ground: Ground, isOpen: IsOpen, faults: readonly CaseFault[]): readonly CaseFault[] {
  return faults.filter(
    (fault) =>
      isOpen(fault) &&
      isContrast(fault) &&
      fault.case.foreOpacity === 1 &&
      fault.case.fore.kind !== 'unknown' &&
      !liesOnOddStep(ground, fault.case),
  );
}

function madeGap(
  ground: Ground,
  isOpen: IsOpen,
  from: { readonly faults: readonly CaseFault[]; readonly base: number; readonly evidence: Evidence },
): Candidate | null {
  const { faults: unserved, base, evidence } = from;
  if (weightIn(unserved, isOpen) === 0) return null;
  const unread = new Set(unserved.map((fault) => fault.case));
  // It has a colour in each theme: what stayed there follows then, though it lies on something else there.
  const families = new Set([...unread].flatMap((one) => ground.world.familyOf(one)));
  const declared = new Set([...unread].flatMap((one) => declarationOf(one) ?? []));
  const stuck = ground.world.faults.filter(
    (fault) =>
      fault.check === 'unthemed' && isOpen(fault) && (families.has(fault.case) || declared.has(declarationOf(fault.case) ?? '')),
  );
  const gain = weightIn([...unserved, ...stuck], isOpen);
  const outcome = { mended: [...unserved, ...stuck], broken: [], left: [], unsure: [], gain, bystanders: 0, harm: 0 };
  const cases = [...new Set([...unread, ...stuck.map((fault) => fault.case)])];
  const part = partOf(ground, { kind: 'add', cases: cases.map((one) => one.id) }, 'gap');
  return {
    parts: [part],
    recoloring: part.recoloring,
    layer: 'gap',
    outcome,
    base,
    size: 0,
    evidence,
    score: scoreOf({ gain, left: 0, bystanders: 0, harm: 0, base, size: 0 }),
  };
}

/** Of a literal the declaration that writes it out; null where it was not looked up. */
function declarationOf({ fore, role, wrote }: Case): string | null {
  const own = wrote.at(-1);
  return fore.kind === 'literal' && own !== undefined ? `${role} ${toCssText(fore.color)} ${JSON.stringify(own)}` : null;
}

/** Where no one colour would do on all that they lie on: those on the ground that most of them share. */
function onePerToken(ground: Ground, faults: readonly CaseFault[]): readonly CaseFault[] {
  const cases = [...new Set(faults.map((fault) => fault.case))];
  if (cases.length === 0 || demandsOf(ground.world, cases).every(({ suggestion }) => suggestion !== null)) return faults;
  const lying = new Map<string, CaseFault[]>();
  const groundsOf = new Map(cases.map((one) => [one, ground.world.familyOf(one).map(seenOn).join(' ')]));
  for (const fault of faults) appendTo(lying, groundsOf.get(fault.case) ?? '', fault);
  const weight = (list: readonly CaseFault[]): number => list.reduce((sum, fault) => sum + fault.weight, 0);
  return [...lying.values()].reduce((most, list) => (weight(list) > weight(most) ? list : most), []);
}

function seenOn({ theme, seenBacks }: Case): string {
  return `${String(theme)} ${seenBacks.map(toCssText).join(',')}`;
}

/** A step that left its course is to be put back before anything new is asked for. */
function liesOnOddStep({ trend, world: { index } }: Ground, one: Case): boolean {
  return [one.fore, ...one.back.map((layer) => layer.ref)].some(
    (ref) => ref.kind === 'token' && trend.courseOf(one.theme, index.rootOf(one.theme, ref.token))?.odd === true,
  );
}

export function isContrast(fault: CaseFault): boolean {
  return (fault.check === 'text-contrast' || fault.check === 'graphic-contrast') && fault.case.required > 0;
}

type Service = 'hopeless' | 'unnatural' | 'served';

/** Does any token read in all themes where a case's family fails? A step may be right in one theme and wrong in the next. */
function openService(ground: Ground): (one: Case) => Service {
  const { world, usage } = ground;
  const { index } = world;
  const known = new Map<string, Service>();
  const saysWhatIsMeant = ({ fore, role }: Case): boolean =>
    fore.kind === 'literal' || (fore.kind === 'token' && !usage.isStrangeAs(role, fore.token));
  const service = (one: Case): Service => {
    const failing = world.familyOf(one).filter((each) => each.backFixed === one.backFixed && world.faultsOf(each).some(isContrast));
    const readsIn = (each: Case, token: number): boolean => {
      const color = index.colorOf(each.theme, token);
      return color !== null && each.seenBacks.every((back) => contrastOver(color, each, back) >= each.required);
    };
    const reads = (token: number): boolean => failing.every((each) => readsIn(each, token));
    const meant = wordsMeant(index, one);
    const idle = meant.length > 0 ? usage.idleAs(one.role) : [];
    const names = namesOfPlace(one);
    // A token that is meant for this says by its colour what another one must be, unless its name does.
    const now = meant.length === 0 && saysWhatIsMeant(one) ? one.fore.color : null;
    const isKin = (token: number): boolean => {
      const color = index.colorOf(one.theme, token);
      return now === null || color === null || !isOtherHue(now, color);
    };
    const suits = (token: number): boolean =>
      saysTheSame(index, token, meant) && isKin(token) && !isForeignTo(index, token, { ref: one.fore, names });
    if ([...usage.as(one.role).keys(), ...idle].some((token) => suits(token) && reads(token))) return 'served';
    // The set has a token for what is read there, which points elsewhere than it should.
    const below = groundOf(one);
    const isThere = below >= 0 && index.table.tokens.some((_, token) => isReadOn(index, token, below));
    if (isThere && failing.every((each) => index.table.tokens.some((_, token) => readsIn(each, token)))) return 'served';
    return index.table.tokens.some((_, token) => index.stepOf(token) === null && reads(token)) ? 'unnatural' : 'hopeless';
  };
  const keyOf = (one: Case): string => `${one.backFixed ? 'fixed' : ''}${one.family}`;
  return (one) => {
    let found = known.get(keyOf(one));
    if (found === undefined) known.set(keyOf(one), (found = service(one)));
    return found;
  };
}

/** @param back as seen, i.e. through the filters that lie over the place */
function contrastOver(color: Color, { filters }: Case, back: Opaque): number {
  const ink = compositeFore({ ...throughFilters(filters)(opaque(color)), alpha: color.alpha }, { opacity: 1, share: 1 }, back);
  return contrastRatio({ ink, background: back });
}

/** What the missing token must be in one theme. */
export interface Demand {
  readonly theme: number;
  /** The hardest of the surfaces it lies on. */
  readonly on: Opaque;
  readonly contrast: number;
  /** The colour nearest to the present one that reads there; null when none does, not even black or white. */
  readonly suggestion: Color | null;
}

/** @param cases of that world @returns one for each theme in which the places exist, whether or not they fail there */
export function demandsOf(world: World, cases: readonly Case[]): readonly Demand[] {
  const families = new Set(cases.map((one) => one.family));
  const all = [...families].flatMap((family) => {
    const one = cases.find((each) => each.family === family);
    return one === undefined ? [] : world.familyOf(one);
  });
  return world.index.table.themes.flatMap((_, theme) => {
    const here = all.filter((one) => one.theme === theme);
    const [first] = here;
    if (first === undefined) return [];
    const contrast = Math.max(...here.map((one) => one.required));
    const backs = here.flatMap((one) => one.seenBacks);
    // What lets through what is behind is told as it is seen: one that hides it takes its place.
    const isSeenThrough = first.fore.color.alpha < 1 && first.filters.length === 0;
    const color = isSeenThrough ? first.seenFore : first.fore.color;
    const reads = (tried: Color): boolean =>
      here.every((one) => one.seenBacks.every((back) => contrastOver(tried, one, back) >= one.required * MARGIN));
    const suggestion = reads(color)
      ? color
      : (nearbyColors({ ...color, alpha: 1 }, false).find((tried) => reads(tried.color))?.color ?? null);
    const painted = suggestion === null ? null : asPainted(suggestion);
    return [{ theme, on: asPainted(hardest(backs) ?? first.seenFore), contrast, suggestion: painted }];
  });
}

/** On a middling surface least contrast is to be had: √((1 + .05) × .05) − .05 is the middle of the scale (derived). */
const MIDDLE_LUMINANCE = 0.1791;

function hardest(backs: readonly Opaque[]): Opaque | null {
  const off = (color: Opaque): number => Math.abs(Math.log((relativeLuminance(color) + 0.05) / (MIDDLE_LUMINANCE + 0.05)));
  return backs.toSorted((one, other) => off(one) - off(other))[0] ?? null;
}
