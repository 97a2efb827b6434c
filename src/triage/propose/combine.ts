// Two changes at once, where no single one mends without breaking: the second takes care of what the first would break, or both are needed.
import { deltaEOk } from '../../colour/lightness.ts';
import type { Candidate, Ground, Part } from './candidate.ts';
import { apart, partOf } from './candidate.ts';
import type { Case } from '../cases/case.ts';
import type { Change, UseSite } from '../recolor/change.ts';
import { evaluate } from '../choose/evaluate.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import { tokensOf } from '../cases/paint-ref.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import { groundOf } from '../cases/usage.ts';
import type { CaseFault } from '../world.ts';

export interface Pair {
  readonly changes: readonly [Part, Part];
  readonly mended: readonly CaseFault[];
  /** As of candidates. */
  readonly score: number;
}

/** First changes tried for one fault; the rest scored lower alone. */
const MOST_TRIED = 12;
/** A change that breaks more places than this is not worth a companion (ours). */
const MOST_BROKEN = 8;

/** @param candidates all that were evaluated, harmful ones too @param faults still to be explained */
export function combine(ground: Ground, candidates: readonly Candidate[], faults: readonly CaseFault[]): readonly Pair[] {
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

/** @returns null when no two changes mend the fault without breaking anything */
export function pairFor(
  ground: Ground,
  candidates: readonly Candidate[],
  fault: CaseFault,
  open: ReadonlySet<CaseFault>,
): Pair | null {
  const mending = candidates
    .filter(
      ({ outcome, parts }) =>
        outcome.mended.includes(fault) &&
        parts.length === 1 &&
        parts[0].change.kind !== 'add' &&
        outcome.broken.length <= MOST_BROKEN,
    )
    .toSorted((one, other) => other.score - one.score)
    .slice(0, MOST_TRIED);
  const tried: (readonly [Option, Option])[] = [
    ...mending.flatMap((first) =>
      companions(ground, first).map((second) => [{ ...first.parts[0], size: first.size }, second] as const),
    ),
    ...(mending.length === 0 && !merelyStayed(fault) ? halves(ground, fault.case) : []),
  ];
  let best: Pair | null = null;
  for (const [first, second] of tried) {
    const outcome = evaluate(ground.world, bothRecolorings(first.recoloring, second.recoloring));
    if (outcome.broken.length > 0 || !outcome.mended.includes(fault)) continue;
    const gain = outcome.mended.reduce((sum, each) => sum + (open.has(each) ? each.weight : 0), 0);
    const score = (gain * gain) / (gain + outcome.bystanders) / 2 / (1 + first.size + second.size);
    if (score > (best?.score ?? 0)) best = { changes: [first, second], mended: outcome.mended, score };
  }
  return best;
}

/** What is drawn there can be read: nothing behind it is to change because it stayed what it was. */
function merelyStayed({ check, case: one }: CaseFault): boolean {
  return check === 'unthemed' && one.role !== 'surface';
}

/** A change that is tried together with another. */
interface Option extends Part {
  readonly size: number;
}

/** Other definitions of the places that the first change breaks, each pointed at the steps of its ramp. */
function companions(ground: Ground, first: Candidate): readonly Option[] {
  const found = new Map<string, Option>();
  for (const { case: one } of first.outcome.broken) {
    for (const ref of [one.fore, ...one.back.map((layer) => layer.ref)]) {
      for (const [key, option] of aliasOptions(ground, one, ref)) {
        if (!isSameToken(first.parts[0].change, option.change)) found.set(key, option);
      }
    }
  }
  return [...found.values()];
}

function isSameToken(one: Change, other: Change): boolean {
  return 'token' in one && 'token' in other && one.token === other.token;
}

/** Changes that are not enough alone: opacity away and another colour, or another colour in front and another behind. */
function halves(ground: Ground, one: Case): readonly (readonly [Option, Option])[] {
  const family = ground.world.familyOf(one).map((each) => each.id);
  const site = { side: 'fore', ref: one.fore, cases: family } as const;
  const fore = [...aliasOptions(ground, one, one.fore).values(), ...useOptions(ground, one, site)];
  if (one.foreOpacity < 1) {
    const opaque = optionOf(ground, { kind: 'opacity', site }, 'usage', 0);
    return fore.map((each) => [each, opaque] as const);
  }
  const top = one.back.at(-1);
  const back = top === undefined ? [] : [...aliasOptions(ground, one, top.ref).values()];
  return fore.flatMap((each) => back.map((other) => [each, other] as const));
}

/** Natural tokens for the place, nearest first. */
function useOptions(ground: Ground, one: Case, site: UseSite): readonly Option[] {
  const { index } = ground.world;
  return (
    [...ground.usage.on(one.role, groundOf(one)).keys()]
      .flatMap((token) => {
        const color = index.colorOf(one.theme, token);
        return color === null ? [] : [{ token, size: apart(color, one.fore.color) }];
      })
      // What changes nothing is no half of anything.
      .filter(({ size }) => size > 0)
      .toSorted((a, b) => a.size - b.size || a.token - b.token)
      .slice(0, MOST_TRIED)
      .map(({ token, size }) => optionOf(ground, { kind: 'use', site, token, inks: [], partner: false }, 'usage', size))
  );
}

function aliasOptions(ground: Ground, one: Case, ref: PaintRef): ReadonlyMap<string, Option> {
  const { index } = ground.world;
  const found = new Map<string, Option>();
  for (const token of tokensOf(ref).flatMap((each) => index.chainOf(one.theme, each))) {
    if (index.stepOf(token) !== null) continue;
    const now = index.colorOf(one.theme, token);
    const step = index.stepOf(index.rootOf(one.theme, token));
    if (now === null || step === null) continue;
    for (const target of index.stepsOf(step.ramp)) {
      const color = index.colorOf(one.theme, target);
      if (color === null || apart(now, color) === 0) continue;
      const change: Change = { kind: 'alias', token, themes: [one.theme], target };
      found.set(`${token} ${one.theme} ${target}`, optionOf(ground, change, 'token', deltaEOk(now, color)));
    }
  }
  return found;
}

function optionOf(ground: Ground, change: Change, layer: Part['layer'], size: number): Option {
  return { ...partOf(ground, change, layer), size };
}
