// Candidates that give a token another colour: a step of a ramp, or a literal that no ramp holds.
import type { Color } from '../../colour/color.ts';
import { BLACK } from '../../colour/color.ts';
import { deltaEOk } from '../../colour/lightness.ts';
import type { Candidate, Evidence, Ground, IsOpen, Proposal } from './candidate.ts';
import { apart, best, leftShare, openWeighing, partOf, scoreOf, visibility, weightIn } from './candidate.ts';
import { ascending } from '../counting.ts';
import type { EvaluateOptions, Outcome } from '../choose/evaluate.ts';
import { evaluate } from '../choose/evaluate.ts';
import { inComponents } from './in-components.ts';
import { recoloringOf } from '../recolor/make-recoloring.ts';
import { belies } from './named-for.ts';
import { between, nearbyColors, paintable } from './nearby-colors.ts';
import { LEAST_OFF } from '../../tokens/faults/ramp-course.ts';
import type { StepCourse } from '../tokens/ramp-trend.ts';
import type { Recoloring } from '../recolor/recoloring.ts';
import { componentIn } from '../cases/name-words.ts';
import { tokensOf } from '../cases/paint-ref.ts';
import { strangeShare } from './strange-uses.ts';
import type { CaseFault } from '../world.ts';

/** A step off its course is the plain explanation; one that keeps to it would be bent by the change (ours, on planted faults). */
const BASE = { odd: 0.5, smooth: 1.4, none: 1.1 } as const;
/** What an added override costs over changing the declaration that is there (ours). */
const OVERRIDE = 0.25;
/** What it costs when all that fails are uses that the token is not meant for (ours). */
const STRANGE_USES = 1.5;
/** What it costs to change a colour that many refer to for the few that fail, and the share of them that are few (ours). */
const FOR_MORE = 0.5;
const FEW = 0.5;
/** What speaks against bystanders, when they are put back where the ramp wants them (ours). */
const BACK_ON_COURSE = 0.2;
/** Share of what the best colour mends that the course must mend to be preferred: the rest is then another fault (ours, on planted pairs). */
const NEARLY = 0.6;

/** @param themes where the value is to change; all that the declaration governs, or fewer */
export function proposeValue(ground: Ground, token: number, themes: readonly number[]): Proposal {
  return { key: `value ${token} ${themes.join(',')}`, propose: (isOpen) => tryValues(ground, isOpen, token, themes) };
}

function tryValues(ground: Ground, isStillOpen: IsOpen, token: number, themes: readonly number[]): Candidate | null {
  const { world } = ground;
  // What is faded as well would ask for more than the token is to give.
  const isFaded = ({ case: one }: CaseFault): boolean => one.foreOpacity < 1;
  const solid = openFaults(ground, isStillOpen, token, themes).some((fault) => !isFaded(fault));
  const isOpen = ofTokens((fault) => isStillOpen(fault) && !(solid && isFaded(fault)));
  const { index } = world;
  const [theme = -1] = themes;
  const start = index.colorOf(theme, token);
  if (start === null) return null;
  const course = ground.trend.courseOf(theme, token);
  const evidence: Evidence = course === null ? {} : { course: course.odd ? 'odd' : 'smooth' };
  const governed = index.governedBy(theme, token);
  const faults = openFaults(ground, isOpen, token, themes);
  const base =
    BASE[evidence.course ?? 'none'] +
    (themes.length < governed.length ? OVERRIDE : 0) +
    STRANGE_USES * strangeShare(ground, faults, token) +
    (isMeantForMore(ground, faults, token, theme) ? FOR_MORE : 0);
  const rating = openRating(ground, isOpen, { token, themes, start, base, faults, course });
  const disorders = (color: Color): boolean => ground.ramps.disorders(token, themes, color);
  // A step that left its ramp may be far from what its name says.
  const lies = (color: Color): boolean => course?.odd !== true && belies(index, token, { from: start, to: color });
  const spoils = (color: Color): boolean => disorders(color) || lies(color) || ground.ramps.spoils(token, themes, color);
  const meant = meantColor(start, { course, faults, isClear: clearOf(ground, token), rating, disorders, spoils });
  if (meant === null) return null;
  const change = inComponents(ground, { kind: 'value', token, themes, color: meant }, { isOpen, spoils });
  const { color } = change;
  const seen = visibleAs(start, color, course);
  return best([
    openWeighing(ground, isOpen, {
      parts: [partOf(ground, change, index.stepOf(token) === null ? 'token' : 'ramp')],
      base,
      size: apart(start, color),
      evidence,
      visible: () => seen,
    }),
  ]);
}

/** Where it must have been, if that mends about as much; else the best of all colours that leave the ramp as well ordered as it is. */
function meantColor(
  start: Color,
  by: {
    readonly course: StepCourse | null;
    readonly faults: readonly CaseFault[];
    /** Nothing else on its chains is off course: such a fault says by itself which value would do. */
    readonly isClear: (fault: CaseFault) => boolean;
    readonly rating: Rating;
    readonly disorders: (color: Color) => boolean;
    readonly spoils: (color: Color) => boolean;
  },
): Color | null {
  const { course, faults, isClear, rating, disorders, spoils } = by;
  const meant = [
    ...(course?.odd === true ? [paintable(course.expected)] : []),
    // On dark ground nothing but black is sure to be a shadow.
    ...(faults.every(({ check }) => check === 'glow') ? [{ ...BLACK, alpha: start.alpha }] : []),
  ].filter((color) => !spoils(color));
  const found = search(start, faults, rating, { disorders, spoils });
  const clear = ({ mended }: Rated): number => weightIn(mended, isClear);
  const isRight = (rated: Rated): boolean =>
    rated.gain > 0 && rated.harm === 0 && (found === null || clear(rated) >= NEARLY * clear(found));
  const right = meant.find((color) => isRight(rating.bound(color).rate()));
  if (right !== undefined) return right;
  if (found === null) return null;
  // The course is an estimate: beside it, within what still counts as on it, a step may pass that does not pass quite there. Elsewhere it
  // would be as odd as it is now.
  const strays = (color: Color): boolean => spoils(color) || (course !== null && deltaEOk(color, course.expected) >= LEAST_OFF);
  const near = course?.odd === true && strays(found.color) ? search(start, faults, rating, { disorders, spoils: strays }) : null;
  return near !== null && isRight(near) ? nearest(start, near, rating, strays) : nearest(start, found, rating, spoils);
}

/** What hangs on another step that is off course would ask for a value that suits the wrong one. */
function clearOf({ world: { index }, trend }: Ground, token: number): (fault: CaseFault) => boolean {
  return ({ case: one }) =>
    [one.fore, ...one.back.map(({ ref }) => ref)].every((ref) => {
      const step = ref.kind === 'token' ? index.rootOf(one.theme, ref.token) : -1;
      return step < 0 || step === token || trend.courseOf(one.theme, step)?.odd !== true;
    });
}

interface Rated {
  readonly color: Color;
  readonly mended: readonly CaseFault[];
  readonly gain: number;
  readonly harm: number;
  readonly score: number;
}

/** Three looks at a colour, each dearer and nearer than the one before; none promises less than the next. */
interface Rating {
  /** If it mended all. */
  readonly hope: (color: Color) => number;
  readonly bound: (color: Color) => Bound;
}

/** From the faults; all else is taken to pass still. */
interface Bound {
  readonly most: number;
  /** With all that it would touch; given up, with a score of 0, once it can only come to less than `least`. */
  readonly rate: (least?: number) => Rated;
}

function openRating(
  ground: Ground,
  isOpen: IsOpen,
  of: {
    readonly token: number;
    readonly themes: readonly number[];
    readonly start: Color;
    readonly base: number;
    readonly faults: readonly CaseFault[];
    readonly course: StepCourse | null;
  },
): Rating {
  const { world } = ground;
  const { token, themes, start, base, course } = of;
  const failing = ascending(of.faults.map((fault) => fault.case.id));
  const score = (color: Color, outcome: Pick<Outcome, 'mended' | 'left' | 'bystanders' | 'harm'>): Rated => {
    const gain = weightIn(outcome.mended, isOpen);
    const left = weightIn(outcome.left, isOpen) * leftShare(course?.odd === true ? { course: 'odd' } : {});
    const { bystanders, harm } = outcome;
    return {
      color,
      mended: outcome.mended.filter(isOpen),
      gain,
      harm,
      score: scoreOf({ gain, left, bystanders, harm, base, size: apart(start, color) }),
    };
  };
  const recoloring = (color: Color): Recoloring => recoloringOf({ kind: 'value', token, themes, color }, world);
  // Whoever passes now is a bystander at least; should it fail, it counts for more.
  const around = evaluate(world, recoloring(start), { quick: true, visible: () => 1 }).bystanders;
  const bystandersOf = (color: Color): number => around * visibleAs(start, color, course);
  return {
    hope: (color) => score(color, { mended: of.faults, left: [], bystanders: bystandersOf(color), harm: 0 }).score,
    bound: (color) => {
      const among = evaluate(world, { ...recoloring(color), touched: failing }, { quick: true, visible: () => 0 });
      return {
        most: score(color, { ...among, bystanders: bystandersOf(color), harm: 0 }).score,
        rate: (least = 0) => {
          const seen = visibleAs(start, color, course);
          const worthIt: EvaluateOptions['worthIt'] = (sofar) => score(color, { ...among, ...sofar }).score >= least;
          return score(color, evaluate(world, recoloring(color), { quick: true, visible: () => seen, worthIt }));
        },
      };
    },
  };
}

/** Most promising first; what cannot beat the best any more is not looked at closer. */
function search(
  start: Color,
  faults: readonly CaseFault[],
  { hope, bound }: Rating,
  { disorders, spoils }: { readonly disorders: (color: Color) => boolean; readonly spoils: (color: Color) => boolean },
): Rated | null {
  const paler = faults.some(({ check }) => check === 'neon' || check === 'glow');
  const hopeful = nearbyColors(start, paler)
    .filter(({ color }) => !disorders(color))
    .map(({ color }) => ({ color, most: hope(color) }))
    .sort((one, other) => other.most - one.most);
  let found: Rated | null = null;
  for (const { color, most } of hopeful) {
    const least = found?.score ?? 0;
    if (most <= least) break;
    const bounded = bound(color);
    if (bounded.most <= least || spoils(color)) continue;
    const rated = bounded.rate(least);
    if (rated.score > least) found = rated;
  }
  return found;
}

/** Towards the start as long as it mends as much and scores no worse. */
function nearest(start: Color, found: Rated, { bound }: Rating, spoils: (color: Color) => boolean): Color {
  let [bad, good] = [0, 1];
  let { color } = found;
  for (let halving = 0; halving < 5; halving += 1) {
    const middle = (bad + good) / 2;
    const tried = bound(between(start, found.color, middle)).rate(found.score);
    if (tried.gain >= found.gain && tried.score >= found.score && !spoils(tried.color)) [good, color] = [middle, tried.color];
    else bad = middle;
  }
  return color;
}

function visibleAs(start: Color, color: Color, course: StepCourse | null): number {
  return visibility(start, color) * (isBack(course, color) ? BACK_ON_COURSE : 1);
}

function isBack(course: StepCourse | null, color: Color): boolean {
  return course !== null && course.odd && deltaEOk(color, course.expected) < course.off;
}

/** For a bar whose colour is written out, and that cannot be told from the page, the page is not to change. */
export function ofTokens(isOpen: IsOpen): IsOpen {
  return (fault) => isOpen(fault) && !(fault.check === 'separation' && fault.case.fore.kind === 'literal');
}

/** A colour that no step is, and that what fails refers to by a name of its own, as most do that have nothing to do with it. */
function isMeantForMore({ world: { index } }: Ground, faults: readonly CaseFault[], token: number, theme: number): boolean {
  if (index.stepOf(token) !== null) return false;
  const names = new Set(faults.flatMap(({ case: one }) => [one.fore, ...one.back.map(({ ref }) => ref)].flatMap(tokensOf)));
  const users = index.dependentsOf(theme, token);
  const failing = users.filter((each) => names.has(each));
  const isComponents = componentIn(index.pathOf(token)) === '' && failing.every((each) => componentIn(index.pathOf(each)) !== '');
  return !names.has(token) && (isComponents || failing.length < FEW * (users.length - 1));
}

/** Open faults that a change of the token reaches, by id. */
export function openFaults(ground: Ground, isOpen: IsOpen, token: number, themes: readonly number[]): readonly CaseFault[] {
  const { world } = ground;
  return world.reachOf(token, themes).touched.flatMap((id) => {
    const one = world.cases[id];
    return one === undefined ? [] : world.faultsOf(one).filter(isOpen);
  });
}
