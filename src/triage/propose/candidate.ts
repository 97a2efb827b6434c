// A change that has been evaluated, and how well it explains the faults it mends.
import type { Color } from '../../colour/color.ts';
import { deltaEOk } from '../../colour/lightness.ts';
import type { CauseLayer } from '../../samples/finding.ts';
import type { Case } from '../cases/case.ts';
import type { Change } from '../recolor/change.ts';
import { recoloringOf } from '../recolor/make-recoloring.ts';
import type { Outcome } from '../choose/evaluate.ts';
import { evaluate } from '../choose/evaluate.ts';
import type { RampTrend } from '../tokens/ramp-trend.ts';
import type { RampWatch } from '../tokens/ramp-watch.ts';
import type { Recoloring } from '../recolor/recoloring.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import type { SiblingSteps } from '../tokens/sibling-steps.ts';
import type { TokenUsage } from '../cases/usage.ts';
import type { CaseFault, World } from '../world.ts';

/** What speaks for or against a candidate besides the sums; the sentence that explains a cause is made from it. */
export interface Evidence {
  /** The step leaves the course of its ramp, or keeps to it. */
  readonly course?: 'odd' | 'smooth';
  /** The siblings point elsewhere, or alike. */
  readonly siblings?: 'odd' | 'usual';
  readonly because?: 'steps' | 'ramp';
  /** The token is mostly used as something else. */
  readonly role?: 'strange';
  /** Nothing of the token set would do here. */
  readonly hopeless?: true;
  /** The token's name speaks of something else, or not of what is meant. */
  readonly foreign?: true;
  /** Nothing of the set that would do is like what is there now, or used on what it lies on. */
  readonly unlike?: true;
}

/** A change, and the layer in which it lies. */
export interface Part {
  readonly change: Change;
  readonly recoloring: Recoloring;
  readonly layer: CauseLayer;
}

export interface Candidate {
  /** One change mostly; a panel may need its inks changed with it. */
  readonly parts: readonly [Part, ...Part[]];
  /** All parts at once. */
  readonly recoloring: Recoloring;
  readonly layer: CauseLayer;
  readonly outcome: Outcome;
  /** How far-fetched the explanation is: 1 is plain, more is worse. */
  readonly base: number;
  /** Largest ΔE OK between old and new colour. */
  readonly size: number;
  readonly evidence: Evidence;
  /** Higher explains better. */
  readonly score: number;
}

/** What candidates are made from. */
export interface Ground {
  readonly world: World;
  readonly trend: RampTrend;
  readonly ramps: RampWatch;
  readonly siblings: SiblingSteps;
  readonly usage: TokenUsage;
  /** Tokens of places that are exempt (a lamp to be seen from across the room): never offered for others. */
  readonly exempt: ReadonlySet<number>;
}

/** Tells which faults still need explaining. */
export type IsOpen = (fault: CaseFault) => boolean;

/** A change that might be tried, made concrete for the faults that are open. */
export interface Proposal {
  /** Names what would change; a proposal is made once per key. */
  readonly key: string;
  /** @returns null when nothing of this kind mends any open fault */
  propose(isOpen: IsOpen): Candidate | null;
}

/** A broken place weighs as much as this many that merely look different (ours: a repair that breaks is hardly one). */
const HARM = 12;
/** ΔE OK from which a change is plainly seen: five times just noticeable (CSS Color 4 §13.2). */
const PLAIN = 0.1;

/** ΔE OK and difference of alpha: what hides more is as much another colour as one that is lighter or darker. */
export function apart(one: Color, other: Color): number {
  return deltaEOk(one, other) + Math.abs(one.alpha - other.alpha);
}

export function visibility(before: Color, after: Color): number {
  return Math.min(1, apart(before, after) / PLAIN);
}

/**
 * How well it explains: what it mends, times the share of that in all it touches and in all faults it touches, over how far-fetched
 * and how large it is.
 */
export function scoreOf(part: {
  /** Weight of the open faults that it mends, and of those whose colours it changes in vain. */
  readonly gain: number;
  readonly left: number;
  readonly bystanders: number;
  readonly harm: number;
  readonly base: number;
  readonly size: number;
}): number {
  const { gain, left, bystanders, harm, base, size } = part;
  if (gain === 0) return 0;
  return (((gain * gain) / (gain + bystanders + HARM * harm)) * (gain / (gain + left))) / (base * (1 + size));
}

export function weightIn(faults: readonly CaseFault[], isOpen: IsOpen): number {
  return faults.reduce((sum, fault) => sum + (isOpen(fault) ? fault.weight : 0), 0);
}

export function partOf(ground: Ground, change: Change, layer: CauseLayer): Part {
  return { change, layer, recoloring: recoloringOf(change, ground.world) };
}

/** A change that mends something, not yet looked at in full. */
export interface Weighing {
  /** What it could score at most: as if nothing else changed. */
  readonly most: number;
  /** Evaluates it in full. @param least null when it does not score more than this; 0 unless set */
  readonly weigh: (least?: number) => Candidate | null;
}

/** @returns null when the changes mend no open fault */
export function openWeighing(
  ground: Ground,
  isOpen: IsOpen,
  from: {
    readonly parts: readonly [Part, ...Part[]];
    readonly base: number;
    readonly size: number;
    readonly evidence: Evidence;
    /** How visible the change is where nothing was wrong, 0–1. */
    readonly visible: (one: Case) => number;
    /** Faults that stay although it touches them speak against it; not where it only takes away what lies over everything. */
    readonly mendsAll?: false;
    /** Without mending any of these it is none. */
    readonly must?: (one: Case) => boolean;
  },
): Weighing | null {
  const { world } = ground;
  const { parts, base, size, evidence } = from;
  const recoloring = parts.map((part) => part.recoloring).reduce(bothRecolorings);
  // Most changes that are tried mend nothing: the faults tell, and are few.
  const failing = recoloring.touched.filter((id) => isFailing(world, id, isOpen));
  const among = evaluate(world, { ...recoloring, touched: failing }, { quick: true });
  const gain = weightIn(among.mended, isOpen);
  const { must } = from;
  const isIdle = must !== undefined && !among.mended.some((fault) => isOpen(fault) && must(fault.case));
  if (gain === 0 || isIdle) return null;
  const left = from.mendsAll === false ? 0 : weightIn(among.left, isOpen) * leftShare(evidence);
  const scoreWith = ({ bystanders, harm }: Pick<Outcome, 'bystanders' | 'harm'>): number =>
    scoreOf({ gain, left, bystanders, harm, base, size });
  return {
    most: scoreWith({ bystanders: 0, harm: 0 }),
    weigh: (least = 0) => {
      const outcome = evaluate(world, recoloring, { visible: from.visible, worthIt: (sofar) => scoreWith(sofar) > least });
      const score = scoreWith(outcome);
      return score > least ? { parts, recoloring, layer: parts[0].layer, outcome, base, size, evidence, score } : null;
    },
  };
}

/** What a step’s own course proves stands, though something else is wrong in the same places as well (ours, on planted pairs). */
export function leftShare({ course }: Evidence): number {
  return course === 'odd' ? 0.3 : 1;
}

function isFailing(world: World, id: number, isOpen: IsOpen): boolean {
  const one = world.cases[id];
  return one !== undefined && world.faultsOf(one).some(isOpen);
}

/** The best of several, the most promising looked at first; of equals the first. */
export function best(weighings: Iterable<Weighing | null>): Candidate | null {
  const hopeful = [...weighings].filter((each) => each !== null).toSorted((one, other) => other.most - one.most);
  let found: Candidate | null = null;
  for (const { most, weigh } of hopeful) {
    const least: number = found?.score ?? 0;
    if (most <= least) break;
    found = weigh(least) ?? found;
  }
  return found;
}
