// A change → what it would mend and break on all cases of all themes, by the same sums and checks that found the faults.
import type { CheckId } from '../samples/finding.ts';
import type { Case } from './case.ts';
import type { Recoloring } from './recoloring.ts';
import type { Seen } from './judge.ts';
import { DUTIES, fires, MARGIN } from './judge.ts';
import { pairsOf, recolor } from './recolor.ts';
import type { Fault, World } from './world.ts';
import { weightOf } from './world.ts';

/** What is under no duty (decoration, inactive controls) counts less when it comes to look different (ours). */
const UNJUDGED = 0.3;

export interface Broken {
  readonly case: Case;
  readonly check: CheckId;
  /** Samples that pass now. */
  readonly places: number;
}

export interface Outcome {
  /** Ascending by id. */
  readonly mended: readonly Fault[];
  readonly broken: readonly Broken[];
  /** Faults whose colours it changes, and that stay faults. */
  readonly left: readonly Fault[];
  /** Faults that it touches in a way that cannot be told. */
  readonly unsure: readonly Fault[];
  /** Weight of the faults it mends. */
  readonly gain: number;
  /** Weight of what passes and would look different all the same. */
  readonly bystanders: number;
  /** Weight of what would break. */
  readonly harm: number;
}

export interface EvaluateOptions {
  /** Only faults and contrast: enough to search with, many times quicker. */
  readonly quick?: boolean;
  /** Share of a bystander's weight that counts, by theme: how visible the change is there, 0–1. */
  readonly visible?: (one: Case) => number;
}

export function evaluate(world: World, change: Recoloring, options: EvaluateOptions = {}): Outcome {
  const mended: Fault[] = [];
  const left: Fault[] = [];
  const unsure: Fault[] = [];
  const broken: Broken[] = [];
  let bystanders = 0;
  for (const id of change.touched) {
    const one = world.cases[id];
    if (one === undefined) continue;
    const after = seenUnder(one, change);
    const faults = world.faultsOf(one);
    if (after === 'same') continue;
    if (after === 'unsure') {
      unsure.push(...faults);
      continue;
    }
    const part = change.partOf?.(one) ?? 1;
    const reference = referenceUnder(world, one, change);
    for (const fault of faults) {
      if (part < 1) continue;
      const verdict = verdictOn(world, fault, { after, reference, change });
      if (verdict === 'mended') mended.push(fault);
      else if (verdict === 'left') left.push(fault);
    }
    let harmed = false;
    for (const check of one.judged ? DUTIES[one.facts.kind] : []) {
      if (options.quick === true && check !== 'text-contrast' && check !== 'graphic-contrast') continue;
      const places = Math.ceil((one.samples - (one.findings.get(check)?.length ?? 0)) * part);
      if (places === 0 || !world.checks.has(check)) continue;
      if (breaks(world, check, one, { after, reference }) && change.isKnownElsewhere?.(one, check, after.pairs) !== true) {
        broken.push({ case: one, check, places });
        harmed = true;
      }
    }
    if (faults.length > 0 || harmed) continue;
    bystanders += weightOf(one.samples * part) * (options.visible?.(one) ?? 1) * (one.judged ? 1 : UNJUDGED);
  }
  mended.sort((a, b) => a.id - b.id);
  return {
    mended,
    broken,
    left,
    unsure,
    gain: mended.reduce((sum, fault) => sum + fault.weight, 0),
    bystanders,
    harm: broken.reduce((sum, each) => sum + weightOf(each.places), 0),
  };
}

/** Findings mended and places broken, as the exports count them. */
export function countsOf(outcome: Outcome): { readonly fixes: number; readonly breaks: number } {
  return {
    fixes: outcome.mended.reduce((sum, fault) => sum + fault.findings.length, 0),
    breaks: outcome.broken.reduce((sum, each) => sum + each.places, 0),
  };
}

/** Only what fires by our own sums before, and does not after, counts as mended. */
function verdictOn(
  world: World,
  fault: Fault,
  under: { readonly after: Seen; readonly reference: Seen | null; readonly change: Recoloring },
): 'mended' | 'left' | 'unclear' {
  const { after, reference, change } = under;
  const { case: one, check } = fault;
  if (!firesNow(world, check, one)) return 'unclear';
  const stays = fires(world, check, after, reference, MARGIN);
  return stays && change.sharesFault?.(one, check) !== true ? 'left' : 'mended';
}

function breaks(
  world: World,
  check: CheckId,
  one: Case,
  under: { readonly after: Seen; readonly reference: Seen | null },
): boolean {
  return fires(world, check, under.after, under.reference) && !firesNow(world, check, one);
}

/** With the colours as they are; asked for each colour that is tried. */
function firesNow(world: World, check: CheckId, one: Case): boolean {
  const key = `${check} ${one.id}`;
  let known = world.memory.get(key);
  if (known === undefined) {
    known = fires(world, check, { case: one, pairs: pairsOf(one) }, referenceNow(world, one));
    world.memory.set(key, known);
  }
  return known;
}

function seenUnder(one: Case, change: Recoloring): Seen | 'same' | 'unsure' {
  const recolored = recolor(one, change);
  if (recolored.kind !== 'pairs') return recolored.kind;
  const painted = change.paintedBy?.(one);
  const cleared = change.clears?.(one);
  return {
    case: one,
    pairs: recolored.pairs,
    ...(painted === undefined ? {} : { painted }),
    ...(cleared === undefined ? {} : { cleared }),
  };
}

function referenceNow(world: World, one: Case): Seen | null {
  const compares = one.facts.kind === 'surface' || one.facts.kind === 'shadow' || one.findings.has('unthemed') || isFading(one);
  const reference = compares ? world.inReference(one) : null;
  return reference === null ? null : { case: reference, pairs: pairsOf(reference) };
}

/** A decoration may not fade against the reference theme, though no ratio is asked of it. */
function isFading(one: Case): boolean {
  return one.required === 0 && one.findings.has('graphic-contrast');
}

function referenceUnder(world: World, one: Case, change: Recoloring): Seen | null {
  const now = referenceNow(world, one);
  if (now === null) return null;
  const after = seenUnder(now.case, change);
  return after === 'same' || after === 'unsure' ? now : after;
}
