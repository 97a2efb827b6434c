// Two changes at once, where no single one mends without breaking: the second takes care of what the first would break.
import { deltaEOk } from '../colour/lightness.ts';
import type { Candidate, Ground, Part } from './candidate.ts';
import type { Change } from './change.ts';
import { bothRecolorings, recoloringOf } from './change.ts';
import { evaluate } from './evaluate.ts';
import { tokensOf } from './paint-ref.ts';
import type { Fault } from './world.ts';

export interface Pair {
  readonly changes: readonly [Part, Part];
  readonly mended: readonly Fault[];
  /** As of candidates. */
  readonly score: number;
}

/** First changes tried for one fault; the rest scored lower alone. */
const MOST_TRIED = 12;
/** A change that breaks more places than this is not worth a companion (ours). */
const MOST_BROKEN = 8;

/** @param candidates all that were evaluated, harmful ones too @param faults still to be explained */
export function combine(ground: Ground, candidates: readonly Candidate[], faults: readonly Fault[]): readonly Pair[] {
  const open = new Set(faults);
  const pairs: Pair[] = [];
  for (const fault of faults) {
    if (!open.has(fault)) continue;
    const pair = pairFor(ground, candidates, fault, open);
    if (pair === null) continue;
    pairs.push(pair);
    for (const each of pair.mended) open.delete(each);
  }
  return pairs;
}

function pairFor(ground: Ground, candidates: readonly Candidate[], fault: Fault, open: ReadonlySet<Fault>): Pair | null {
  const mending = candidates
    .filter(
      ({ outcome, change }) => outcome.mended.includes(fault) && change.kind !== 'add' && outcome.broken.length <= MOST_BROKEN,
    )
    .toSorted((one, other) => other.score - one.score)
    .slice(0, MOST_TRIED);
  let best: Pair | null = null;
  for (const first of mending) {
    for (const { part: second, size } of companions(ground, first)) {
      const outcome = evaluate(ground.world, bothRecolorings(first.recoloring, second.recoloring));
      if (outcome.broken.length > 0 || !outcome.mended.includes(fault)) continue;
      const gain = outcome.mended.reduce((sum, each) => sum + (open.has(each) ? each.weight : 0), 0);
      const score = (gain * gain) / (gain + outcome.bystanders) / (first.base + 1) / (1 + first.size + size);
      if (score > (best?.score ?? 0)) best = { changes: [first, second], mended: outcome.mended, score };
    }
  }
  return best;
}

interface Companion {
  readonly part: Part;
  readonly size: number;
}

/** Other definitions of the broken places, each pointed at the steps of its ramp. */
function companions(ground: Ground, first: Candidate): readonly Companion[] {
  const { world } = ground;
  const { index } = world;
  const found = new Map<string, Companion>();
  for (const { case: one } of first.outcome.broken) {
    for (const ref of [one.fore, ...one.back.map((layer) => layer.ref)]) {
      for (const token of tokensOf(ref).flatMap((each) => index.chainOf(one.theme, each))) {
        if (('token' in first.change && first.change.token === token) || index.stepOf(token) !== null) continue;
        const now = index.colorOf(one.theme, token);
        const step = index.stepOf(index.rootOf(one.theme, token));
        if (now === null || step === null) continue;
        for (const target of index.stepsOf(step.ramp)) {
          const color = index.colorOf(one.theme, target);
          const key = `${token} ${one.theme} ${target}`;
          if (color === null || found.has(key)) continue;
          const change: Change = { kind: 'alias', token, themes: [one.theme], target };
          const recoloring = recoloringOf(change, index, world.casesOf);
          found.set(key, { part: { change, recoloring, layer: 'token' }, size: deltaEOk(now, color) });
        }
      }
    }
  }
  return [...found.values()];
}
