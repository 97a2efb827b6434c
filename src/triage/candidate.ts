// A change that has been evaluated, and how well it explains the faults it mends.
import type { Color } from '../colour/color.ts';
import { deltaEOk } from '../colour/lightness.ts';
import type { CauseLayer } from '../samples/finding.ts';
import type { Case } from './case.ts';
import type { Change, Recoloring } from './change.ts';
import { recoloringOf } from './change.ts';
import type { Outcome } from './evaluate.ts';
import { evaluate } from './evaluate.ts';
import type { RampTrend } from './ramp-trend.ts';
import type { SiblingSteps } from './sibling-steps.ts';
import type { TokenUsage } from './usage.ts';
import type { Fault, World } from './world.ts';

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
}

/** A change, and the layer in which it lies. */
export interface Part {
  readonly change: Change;
  readonly recoloring: Recoloring;
  readonly layer: CauseLayer;
}

export interface Candidate extends Part {
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
  readonly siblings: SiblingSteps;
  readonly usage: TokenUsage;
}

/** Tells which faults still need explaining. */
export type IsOpen = (fault: Fault) => boolean;

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

export function visibility(before: Color, after: Color): number {
  return Math.min(1, (deltaEOk(before, after) + Math.abs(before.alpha - after.alpha)) / PLAIN);
}

/**
 * How well it explains: what it mends, times the share of that in all it touches, over how far-fetched and how large it is.
 * @param gain weight of the open faults that it mends
 */
export function scoreOf(part: {
  readonly gain: number;
  readonly bystanders: number;
  readonly harm: number;
  readonly base: number;
  readonly size: number;
}): number {
  const { gain, bystanders, harm, base, size } = part;
  if (gain === 0) return 0;
  return (gain * gain) / ((gain + bystanders + HARM * harm) * base * (1 + size));
}

export function weightIn(faults: readonly Fault[], isOpen: IsOpen): number {
  return faults.reduce((sum, fault) => sum + (isOpen(fault) ? fault.weight : 0), 0);
}

/** Evaluates a change in full. @returns null when it mends no open fault */
export function weigh(
  ground: Ground,
  isOpen: IsOpen,
  from: {
    readonly change: Change;
    readonly layer: CauseLayer;
    readonly base: number;
    readonly size: number;
    readonly evidence: Evidence;
    /** How visible the change is where nothing was wrong, 0–1. */
    readonly visible: (one: Case) => number;
  },
): Candidate | null {
  const { world } = ground;
  const recoloring = recoloringOf(from.change, world.index, world.casesOf);
  const outcome = evaluate(world, recoloring, { visible: from.visible });
  const gain = weightIn(outcome.mended, isOpen);
  if (gain === 0) return null;
  const { change, layer, base, size, evidence } = from;
  const score = scoreOf({ gain, bystanders: outcome.bystanders, harm: outcome.harm, base, size });
  return { change, recoloring, outcome, layer, base, size, evidence, score };
}

/** The best of several; of equals the first. */
export function best(candidates: Iterable<Candidate | null>): Candidate | null {
  let found: Candidate | null = null;
  for (const each of candidates) if (each !== null && each.score > (found?.score ?? 0)) found = each;
  return found;
}
