// Would a check speak of a case if these colours were seen? The check itself is asked, on the case's own sample with the colours put in:
// triage judges as a run does, and cannot disagree with it.
import type { Against, Counterpart, Judge } from '../../checks/check.ts';
import type { Sample } from '../../samples/sample.ts';
import type { Case } from '../cases/case.ts';
import { codeOf, recoloredSample } from './recolored-sample.ts';
import type { SeenPair } from './seen-pair.ts';
import type { Answer, World } from '../world.ts';

/** A case with the colours that it would have. */
export interface Seen {
  readonly case: Case;
  readonly pairs: readonly SeenPair[];
  /** Token that would paint it, when the change gives it one. */
  readonly painted?: string | undefined;
  /** Selector of the element whose filter would be gone. */
  readonly cleared?: string | undefined;
  /** The sample as it would be, by margin, once it was worked out: several checks ask about it. */
  readonly made: Map<number, Sample | null>;
}

export function seen(one: Case, pairs: readonly SeenPair[], by: Pick<Seen, 'painted' | 'cleared'> = {}): Seen {
  return { case: one, pairs, painted: by.painted, cleared: by.cleared, made: new Map() };
}

/** A repair must clear its threshold by this factor, so that rounding to 8 bits does not undo it (ours; one code is worth at most 1 %). */
export const MARGIN = 1.01;

/**
 * @param reference how the same place would look in the reference theme; asked for only where a check compares
 * @param margin 1 to judge what is, `MARGIN` to judge a repair
 */
export function answerOf(world: World, judge: Judge, now: Seen, reference: () => Seen | null, margin = 1): Answer {
  const { kind } = now.case.facts;
  // Contrast is quickly worked out; what surfaces, shadows and pictures take longer for is asked again and again.
  if (kind === 'text' || kind === 'graphic') return ask(world, judge, now, reference, margin);
  const there = reference();
  const key = `${judge.id} ${sightKey(now)} ${there === null ? '' : sightKey(there)}`;
  let known = world.memory.get(key);
  if (known === undefined) world.memory.set(key, (known = ask(world, judge, now, () => there, margin)));
  return known;
}

function ask(world: World, judge: Judge, now: Seen, reference: () => Seen | null, margin: number): Answer {
  const sample = sampleOf(now, margin);
  const fault = sample === null ? null : judge.judge(sample, againstOf(world, now.case, reference));
  return fault === null ? 'no' : fault.part === true ? 'part' : 'yes';
}

function againstOf({ index, level }: World, one: Case, look: () => Seen | null): Against {
  const { themes, reference } = index.table;
  const { name: theme = '', tone = 'light' } = themes[one.theme] ?? {};
  const there = themes[reference];
  if (one.theme === reference || there === undefined) return { theme, tone, level, reference: null };
  // The same things painted elsewhere on another page stand for the same place: what they are painted with is equal.
  const samePlace: Counterpart['samePlace'] = (kind) => {
    const found = look();
    const sample = found === null ? null : sampleOf(found, 1);
    return sample !== null && isKind(sample, kind) ? sample : undefined;
  };
  return { theme, tone, level, reference: { theme: there.name, tone: there.tone, samePlace } };
}

function isKind<K extends Sample['kind']>(sample: Sample, kind: K): sample is Extract<Sample, { readonly kind: K }> {
  return sample.kind === kind;
}

/** Checks see 8-bit colours. */
function sightKey({ case: one, pairs, painted, cleared }: Seen): string {
  const [pair] = pairs;
  return `${one.id} ${pair === undefined ? '' : `${codeOf(pair.fore)} ${codeOf(pair.back)}`} ${painted ?? ''} ${cleared ?? ''}`;
}

function sampleOf(now: Seen, margin: number): Sample | null {
  let sample = now.made.get(margin);
  if (sample === undefined) now.made.set(margin, (sample = recoloredSample(now.case.seenFore, now.case.place.sample, now, margin)));
  return sample;
}
