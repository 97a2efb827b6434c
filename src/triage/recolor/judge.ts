// Would a check speak of a case if these colours were seen? The check itself is asked, on the case's own sample with the colours put in:
// triage judges as a run does, and cannot disagree with it.
import type { Against, Counterpart, Judge, Others } from '../../checks/check.ts';
import { losesStep } from '../../checks/separation.ts';
import type { Sample } from '../../samples/sample.ts';
import type { Case } from '../cases/case.ts';
import { codeOf, recoloredSample } from './recolored-sample.ts';
import type { SeenPair } from './seen-pair.ts';
import type { Answer, AnswersOfCheck, World } from '../world.ts';

/** A case with the colours that it would have. */
export interface SeenCase {
  readonly case: Case;
  readonly pairs: readonly SeenPair[];
  /** Token that would paint it, when the change gives it one. */
  readonly painted?: string | undefined;
  /** Selector of the element whose filter would be gone. */
  readonly cleared?: string | undefined;
  /** The sample as it would be, once it was worked out: several checks ask about it. */
  readonly made: { asSeen?: Sample | null; withMargin?: Sample | null };
}

export function seen(one: Case, pairs: readonly SeenPair[], by: Pick<SeenCase, 'painted' | 'cleared'> = {}): SeenCase {
  return { case: one, pairs, painted: by.painted, cleared: by.cleared, made: {} };
}

/** A repair must clear its threshold by this factor, so that rounding to 8 bits does not undo it (ours; one code is worth at most 1 %). */
export const MARGIN = 1.01;

/** `repaired`: by a margin. */
export type Measure = 'seen' | 'repaired';

/** @param reference how the same place would look in the reference theme; asked for only where a check compares */
export function answerOf(
  world: World,
  judge: Judge,
  now: SeenCase,
  reference: () => SeenCase | null,
  as: Measure = 'seen',
): Answer {
  // Of several pairs the key would name one.
  if (now.pairs.length > 1) return ask(world, judge, now, reference, as);
  const answers = answersOf(world, judge, now.case);
  const key = sightKey(now, as);
  const known = answers.get(key);
  if (known !== undefined && known !== 'compares') return known;
  if (known === undefined) {
    const looks: (SeenCase | null)[] = [];
    const look = (): SeenCase | null => {
      const there = reference();
      looks.push(there);
      return there;
    };
    const answer = ask(world, judge, now, look, as);
    answers.set(key, looks.length > 0 ? 'compares' : answer);
    return answer;
  }
  const there = reference();
  const both = `${key} beside ${there === null ? '' : `${there.case.id} ${codeOf(there.case.seenFore)} ${sightKey(there, 'seen')}`}`;
  let beside = answers.get(both);
  if (beside === undefined || beside === 'compares') answers.set(both, (beside = ask(world, judge, now, () => there, as)));
  return beside;
}

/** Whether it would lose its step to what is around it, compared with how it is now: where no other theme shows what is meant, that does. */
export function losesStepTo(world: World, judge: Judge, after: SeenCase, now: SeenCase): boolean {
  const [there, here] = [sampleOf(now, 'seen'), sampleOf(after, 'seen')];
  const [before, then] = [now.pairs[0], after.pairs[0]];
  if (there === null || here === null || before === undefined || then === undefined || !losesStep(before, then)) return false;
  const { name: theme = '', tone = 'light' } = world.index.table.themes[after.case.theme] ?? {};
  const samePlace: Counterpart['samePlace'] = (kind) => (isKind(there, kind) ? there : undefined);
  return judge.judge(here, { theme, tone, level: world.level, reference: { theme, tone, samePlace } }) !== null;
}

function answersOf({ answers }: World, judge: Judge, one: Case): AnswersOfCheck {
  let ofCase = answers.get(one);
  if (ofCase === undefined) answers.set(one, (ofCase = new Map<Judge, AnswersOfCheck>()));
  let found = ofCase.get(judge);
  if (found === undefined) ofCase.set(judge, (found = new Map<string | number, Answer | 'compares'>()));
  return found;
}

function ask(world: World, judge: Judge, now: SeenCase, reference: () => SeenCase | null, as: Measure): Answer {
  const sample = sampleOf(now, as);
  const fault = sample === null ? null : judge.judge(sample, againstOf(world, now.case, reference));
  return fault === null ? 'no' : fault.part === true ? 'part' : 'yes';
}

function againstOf({ index, level, judges }: World, one: Case, look: () => SeenCase | null): Against {
  const { themes, reference } = index.table;
  const { name: theme = '', tone = 'light' } = themes[one.theme] ?? {};
  const there = themes[reference];
  const others: Others = (check) => (one.exempt.has(check) ? undefined : judges.get(check));
  if (one.theme === reference || there === undefined) return { theme, tone, level, others, reference: null };
  // The same things painted elsewhere on another page stand for the same place: what they are painted with is equal.
  const samePlace: Counterpart['samePlace'] = (kind) => {
    const found = look();
    const sample = found === null ? null : sampleOf(found, 'seen');
    return sample !== null && isKind(sample, kind) ? sample : undefined;
  };
  return { theme, tone, level, others, reference: { theme: there.name, tone: there.tone, samePlace } };
}

function isKind<K extends Sample['kind']>(sample: Sample, kind: K): sample is Extract<Sample, { readonly kind: K }> {
  return sample.kind === kind;
}

/** Checks see 8-bit colours. A number of 50 bits where nothing but colours tell sights of a case apart. */
function sightKey({ pairs, painted, cleared }: SeenCase, as: Measure): number | string {
  const [pair] = pairs;
  const colors = pair === undefined ? 0 : codeOf(pair.fore) * 0x1000000 + codeOf(pair.back);
  const key = (colors * 2 + (as === 'seen' ? 0 : 1)) * 2 + (pair === undefined ? 0 : 1);
  return painted === undefined && cleared === undefined ? key : `${key} ${painted ?? ''} ${cleared ?? ''}`;
}

function sampleOf(now: SeenCase, as: Measure): Sample | null {
  const { case: one, made } = now;
  if (as === 'seen') return (made.asSeen ??= recoloredSample(one.seenFore, one.place.sample, now, 1));
  return (made.withMargin ??= recoloredSample(one.seenFore, one.place.sample, now, MARGIN));
}
