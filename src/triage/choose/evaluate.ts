// A change → what it would mend and break on all cases of all themes, by the same sums and checks that found the faults.
import type { Judge } from '../../checks/check.ts';
import type { Opaque } from '../../colour/color.ts';
import { cieLightness, deltaEOk } from '../../colour/lightness.ts';
import type { CheckId } from '../../samples/finding.ts';
import type { Case } from '../cases/case.ts';
import type { Recoloring } from '../recolor/recoloring.ts';
import type { SeenCase } from '../recolor/judge.ts';
import { answerOf, losesStepTo, seen } from '../recolor/judge.ts';
import { pairsOf, recolor } from '../recolor/recolor.ts';
import type { Answer, CaseFault, World } from '../world.ts';
import { weightOf } from '../world.ts';

/** What is under no duty (decoration, inactive controls) counts less when it comes to look different (ours). */
const UNJUDGED = 0.3;

/** A surface that is not told from its ground is a smaller harm than a text that cannot be read, or a white block on black (ours). */
const MERELY_MERGED = 0.2;

export interface Broken {
  readonly case: Case;
  readonly check: CheckId;
  /** Samples that pass now. */
  readonly places: number;
}

export interface Outcome {
  /** Ascending by id. */
  readonly mended: readonly CaseFault[];
  readonly broken: readonly Broken[];
  /** Faults whose colours it changes, and that stay faults. */
  readonly left: readonly CaseFault[];
  /** Faults that it touches in a way that cannot be told. */
  readonly unsure: readonly CaseFault[];
  /** Weight of the faults it mends. */
  readonly gain: number;
  /** Weight of what passes and would look different all the same. */
  readonly bystanders: number;
  /** Weight of what would break. */
  readonly harm: number;
}

export interface EvaluateOptions {
  /** Only faults, and what can be told of texts and graphics without the reference: enough to search with, many times quicker. */
  readonly quick?: boolean;
  /** Share of a bystander's weight that counts, by theme: how visible the change is there, 0–1. */
  readonly visible?: (one: Case) => number;
  /** False when so much harm and so many bystanders are too much: the rest is not looked at, and the harm is infinite. */
  readonly worthIt?: (sofar: { readonly bystanders: number; readonly harm: number }) => boolean;
}

export function evaluate(world: World, change: Recoloring, options: EvaluateOptions = {}): Outcome {
  const mended: CaseFault[] = [];
  const left: CaseFault[] = [];
  const unsure: CaseFault[] = [];
  const broken: Broken[] = [];
  let bystanders = 0;
  let harm = 0;
  for (const id of change.touched) {
    const one = world.cases[id];
    if (one === undefined) continue;
    if (options.worthIt?.({ bystanders, harm }) === false) {
      harm = Infinity;
      break;
    }
    const after = seenUnder(one, change);
    const faults = world.faultsOf(one);
    if (after === 'same') {
      // A literal that is the token's own colour there stays as it was, and follows from now on.
      if (change.paintedBy?.(one) !== undefined && (change.partOf?.(one) ?? 1) === 1)
        mended.push(...faults.filter(({ check }) => check === 'unthemed'));
      continue;
    }
    if (after === 'unsure') {
      unsure.push(...faults);
      continue;
    }
    const part = change.partOf?.(one) ?? 1;
    const reference = once(() => referenceUnder(world, one, change));
    for (const fault of faults) {
      if (part < 1) continue;
      const verdict = verdictOn(world, fault, { after, reference, change });
      if (verdict === 'mended') mended.push(fault);
      else if (verdict === 'left') left.push(fault);
    }
    let harmed = false;
    for (const judge of options.quick === true ? quickDutiesOf(world, one) : world.dutiesOf(one)) {
      const places = Math.ceil((one.samples - (one.findings.get(judge.id)?.length ?? 0)) * part);
      if (places === 0) continue;
      const there = options.quick === true ? nothing : reference;
      if (
        breaks(world, judge, one, { after, reference: there }) &&
        change.isKnownElsewhere?.(one, judge.id, after.pairs) !== true
      ) {
        broken.push({ case: one, check: judge.id, places });
        harm += weightOf(places) * (judge.id === 'separation' && after.painted !== undefined ? MERELY_MERGED : 1);
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
    harm,
  };
}

/** Findings mended and places broken, as the exports count them. */
export function countsOf(outcome: Outcome): { readonly fixes: number; readonly breaks: number } {
  return {
    fixes: outcome.mended.reduce((sum, fault) => sum + fault.findings.length, 0),
    breaks: outcome.broken.reduce((sum, each) => sum + each.places, 0),
  };
}

function quickDutiesOf(world: World, one: Case): readonly Judge[] {
  return one.facts.kind === 'text' || one.facts.kind === 'graphic' ? world.dutiesOf(one) : NO_DUTIES;
}

const NO_DUTIES: readonly Judge[] = [];
const nothing = (): null => null;

interface Under {
  readonly after: SeenCase;
  readonly reference: () => SeenCase | null;
}

/** Only what fires by our own sums before, and does not after, counts as mended. */
function verdictOn(
  world: World,
  { case: one, check }: CaseFault,
  { after, reference, change }: Under & { readonly change: Recoloring },
): 'mended' | 'left' | 'unclear' {
  const judge = world.judges.get(check);
  const now = judge === undefined ? 'no' : answerNow(world, judge, one);
  // Beside others of its colour that changed it is told of the whole view; what is painted by a token is not told at all.
  if (check === 'unthemed' && now === 'no' && after.painted !== undefined && one.role !== 'surface') return 'mended';
  if (judge === undefined || now === 'no') return 'unclear';
  if (check === 'unthemed' && after.painted === undefined && !follows(one, after)) return 'left';
  const then = answerOf(world, judge, after, reference, 'repaired');
  // What the run found to be one of a crowd is so as long as it has a part in it.
  const stays = then === 'yes' || (then === 'part' && now === 'part');
  return stays && change.sharesFault?.(one, check) !== true ? 'left' : 'mended';
}

/** ΔE OK below which a colour has hardly left what it was in the other theme: a few times just noticeable (ours). */
const LEAST_TURN = 0.05;

/** Another shade of a value that stayed follows no theme: a surface has to come much nearer to what is around it, all else to change plainly. */
function follows(one: Case, { pairs: [pair] }: SeenCase): boolean {
  const [back] = one.seenBacks;
  if (pair === undefined || back === undefined) return true;
  // What lies behind does not stay for its sake, nor go.
  if (deltaEOk(pair.fore, one.seenFore) < LEAST_TURN) return false;
  const step = (fore: Opaque, behind: Opaque): number => Math.abs(cieLightness(fore) - cieLightness(behind));
  return one.role !== 'surface' || step(pair.fore, pair.back) <= step(one.seenFore, back) / 2;
}

function breaks(world: World, judge: Judge, one: Case, { after, reference }: Under): boolean {
  if (judge.id === 'separation' && one.theme === world.index.table.reference)
    return losesStepTo(world, judge, after, seen(one, pairsOf(one)));
  if (answerOf(world, judge, after, reference) !== 'yes') return false;
  const now = answerNow(world, judge, one);
  return now === 'no' || (now === 'part' && !one.findings.has(judge.id));
}

/** With the colours as they are; asked for each colour that is tried. */
function answerNow(world: World, judge: Judge, one: Case): Answer {
  const key = `${judge.id} ${one.id}`;
  let known = world.now.get(key);
  if (known === undefined) {
    known = answerOf(world, judge, seen(one, pairsOf(one)), () => referenceNow(world, one));
    world.now.set(key, known);
  }
  return known;
}

function seenUnder(one: Case, change: Recoloring): SeenCase | 'same' | 'unsure' {
  const recolored = recolor(one, change);
  if (recolored.kind !== 'pairs') return recolored.kind;
  return seen(one, recolored.pairs, { painted: change.paintedBy?.(one), cleared: change.clears?.(one) });
}

function referenceNow(world: World, one: Case): SeenCase | null {
  const reference = world.inReference(one);
  return reference === null ? null : seen(reference, pairsOf(reference));
}

function referenceUnder(world: World, one: Case, change: Recoloring): SeenCase | null {
  const now = referenceNow(world, one);
  if (now === null) return null;
  const after = seenUnder(now.case, change);
  return after === 'same' || after === 'unsure' ? now : after;
}

/** Works it out when it is first asked for. */
function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}
