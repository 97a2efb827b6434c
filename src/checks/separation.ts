// Neighbouring surfaces whose step in lightness became far stronger than in the reference theme (harsh), or vanished (merged).
import { cieLightness, tintDistanceOk, toOklch } from '../colour/lightness.ts';
import type { Opaque } from '../colour/color.ts';
import { opaque } from '../colour/color.ts';
import { findColor } from '../colour/parse-color.ts';
import type { Counterpart, Fault, OptionsOf, SampleOf } from './check.ts';
import { defineCheck } from './check.ts';
import { byKey, groupBy } from './group-by.ts';
import { nameOf, rounded, showLightness } from './wording.ts';

const parameters = {
  harshStep: {
    default: 15,
    min: 1,
    max: 100,
    unit: 'L*',
    about: 'A step below this is never harsh.',
    source: 'ours: a card one step above #121212 (#1e1e1e) is 5.8 L* off, two steps (#2a2a2a) 11; harsh begins a step beyond',
  },
  harshFactor: {
    default: 1.75,
    min: 1,
    max: 10,
    unit: 'ratio',
    about: 'A step is harsh when it exceeds this multiple of the step in the reference theme plus `harshOffset`.',
    source: 'ours: #1e1e1e on #121212 is 2.0 times the step of white on #f5f7f9 and fine, #3a3a3a 6.6 times and harsh',
  },
  harshOffset: {
    default: 4,
    min: 0,
    max: 100,
    unit: 'L*',
    about: 'What a step may gain over that multiple.',
    source: 'ours: so that steps of 2 L* and less in the reference theme, which no one sees, do not make any step harsh',
  },
  mostSwapped: {
    default: 35,
    min: 0,
    max: 100,
    unit: 'L*',
    about: 'A surface that turned from light to dark or back and differed more than this from its surroundings is not judged here.',
    source: 'ours: the same bound as `leastDifference` of `flipped`, which tells it instead',
  },
  harshAlone: {
    default: 30,
    min: 1,
    max: 100,
    unit: 'L*',
    about:
      'In a dark theme, a step of two neutral surfaces is harsh from here where the reference theme has no such element, or tells it apart by an edge instead.',
    source: 'ours: without a step to compare with, twice what is harsh with one',
  },
  leastReferenceStep: {
    default: 2,
    min: 0.5,
    max: 100,
    unit: 'L*',
    about: 'Surfaces can only merge that differ by this much in the reference theme.',
    source: 'ours: about the just noticeable difference (ΔE*ab 2.3 of Mahy and others 1994)',
  },
  mergedShare: {
    default: 0.4,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'A step has vanished when less than this share of the step in the reference theme is left.',
    source:
      'ours: #0d0d0d on #121212 keeps .45 of the step of #e6ecef on #f5f7f9 and is told apart, a hover row of 0.5 L* left of 4.3 is not',
  },
  mergedFloor: {
    default: 1.5,
    min: 0,
    max: 100,
    unit: 'L*',
    about: 'A step below this has always vanished.',
    source: 'ours: three 8-bit codes near #121212 (1.3 L*; CIE 15) are lost in a lit room',
  },
  mergedCeiling: {
    default: 3,
    min: 0,
    max: 100,
    unit: 'L*',
    about: 'A step above this never counts as vanished, however large it was.',
    source: 'ours: a dark bar on a light page may come close to a dark page, and is still told apart',
  },
  leastAround: {
    default: 0.75,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'How much of what surrounds a surface must have one colour; where several things touch it, no step can be told.',
    source:
      'ours: a caption across the foot of a photo touches the page with two thirds of its ring, a row between two others with half',
  },
  leastArea: {
    default: 0.002,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'Surfaces smaller than this share of the viewport are not judged.',
    source: 'ours: 2,048 px² of 1280 × 800 leaves out badges and chips, which come in every tone',
  },
  leastEdge: {
    default: 4,
    min: 0.5,
    max: 100,
    unit: 'L*',
    about: 'A border or shadow tells two surfaces apart when it differs from both by this much.',
    source: 'ours: a hairline of ten codes on #121212 (4.8 L*) is seen, one of six (2.8) is not',
  },
} as const;

type Options = OptionsOf<typeof parameters>;
type Surface = SampleOf<'surface'>;

/** Harsh is said of neutral steps only: what is coloured, or lies beside a colour, is meant to differ (OKLCH chroma, ours). */
const NEUTRAL = 0.05;
/** Colours whose tints are further apart than this in OKLab are told apart whatever their lightness: twice just noticeable (CSS Color 4 §13.2). */
const TOLD_APART = 0.04;

export const separation = defineCheck({
  id: 'separation',
  kinds: ['surface'],
  title: 'Steps between surfaces',
  about:
    'Two neighbouring surfaces whose lightness step, compared with the reference theme, became much stronger (harsh) or vanished (merged) with no border or shadow between; as a note, surfaces that a shadow alone set off there, where it cannot be seen. Left alone: pictures, charts, coloured fills, steps that a border keeps, steps that were as strong or as weak before, surfaces and frames that `unthemed` tells.',
  guide: {
    why: 'Steps that were subtle on white become harsh on black, or vanish, when ramps are mapped one to one: the layout’s order is lost.',
    computed:
      'ΔL* between a surface and what surrounds it, here and in the reference theme. Harsh: more than `harshFactor` times the step there plus `harshOffset`. Vanished: less than `mergedShare` of it, less than 0.04 between their tints (a and b of OKLab), and no border, shadow or line that an inner shadow or a background draws that differs from both. A shadow counts where it fills what surrounds the surface in the reference theme.',
    source: 'CIE 15 for L*; ΔE OK: CSS Color 4 §13.2. The bounds are opinions set on worked pairs.',
    mend: 'Space the dark end of the ramp by equal steps of L*, or point the surface’s token one step further off (nearer for harsh ones); a hairline may replace a step.',
  },
  parameters,
  judge: (surface, against, options): Parting | null => {
    const { reference, tone } = against;
    const unthemed = against.others?.('unthemed', surface);
    if (reference === null || surface.area < options.leastArea) return null;
    if ((surface.aroundShare ?? 1) < options.leastAround) return null;
    const step = stepOf(surface, reference);
    if (step === null) return null;
    // A literal that stayed while its surroundings changed is that check's matter: where it says nothing, it looked and let it be.
    const isOthers = unthemed !== undefined && isLeftBehind(step);
    const parted = (isOthers ? null : harsh(step, tone, reference.theme, options)) ?? merged(step, reference.theme, options);
    // One fault, one finding.
    return parted === null || (unthemed?.judge(surface, against) ?? null) === null ? parted : null;
  },
  /** The uppermost of each kind stands for all. */
  fold: (faults) =>
    groupBy(faults, ({ sample }) => likeness(sample)).flatMap((group) => {
      const [first] = [...group].sort((one, other) => one.sample.rect[1] - other.sample.rect[1] || byKey(one.sample, other.sample));
      return first === undefined ? [] : [{ ...first, places: group.length }];
    }),
  say: ({ sample, step: { before, difference }, than, least, places }) => {
    const more = places === 1 ? '' : `; ${String(places - 1)} more like it beside it`;
    return {
      message: `${nameOf(sample)} (${sample.color}) differs by ${showLightness(difference)} L* from what is around it (${sample.around})${than}${more}.`,
      measured: {
        step: rounded(difference, 2),
        color: sample.color,
        around: sample.around,
        ...(before === null ? {} : { stepInReference: rounded(before.difference, 2) }),
        ...(places === 1 ? {} : { count: places }),
      },
      expected: { step: least },
    };
  },
});

interface Parting extends Fault<Surface> {
  readonly step: Step;
  /** How it compares, as the end of the sentence. */
  readonly than: string;
  /** L*: the step that would be told apart, or would not be harsh. */
  readonly least: number;
  /** Places of its kind that it stands for. */
  readonly places: number;
}

/** A surface and what surrounds it, here and in the reference theme. */
interface Step {
  readonly surface: Surface;
  readonly color: Opaque;
  readonly around: Opaque;
  readonly difference: number;
  readonly before: { readonly surface: Surface; readonly difference: number } | null;
}

function stepOf(surface: Surface, reference: Counterpart): Step | null {
  const judged = surface.fill === 'flat' && (surface.role === 'box' || surface.role === 'control' || surface.role === 'pseudo');
  const [color, around] = [read(surface.color), read(surface.around)];
  if (!judged || color === null || around === null) return null;
  const there = reference.samePlace('surface');
  const before = there === undefined ? null : { surface: there, difference: Math.abs(there.lightness - there.aroundLightness) };
  return { surface, color, around, difference: Math.abs(surface.lightness - surface.aroundLightness), before };
}

function read(text: string | undefined): Opaque | null {
  const color = text === undefined ? null : findColor(text);
  return color === null ? null : opaque(color);
}

function harsh(step: Step, tone: 'light' | 'dark', theme: string, options: Options): Parting | null {
  const { surface, before, difference } = step;
  if (surface.role === 'control' || surface.stay !== undefined) return null;
  if (surface.chroma > NEUTRAL || toOklch(step.around).chroma > NEUTRAL) return null;
  if (before === null) {
    if (tone !== 'dark' || difference < options.harshAlone) return null;
    return parting(step, 'note', `; ${theme} has no such element to compare with`, options.harshAlone);
  }
  if (before.surface.chroma > NEUTRAL || swapped(step, options)) return null;
  const byEdge = before.difference < options.leastReferenceStep && before.surface.edge !== undefined;
  const most = Math.max(
    options.harshFactor * before.difference + options.harshOffset,
    byEdge ? options.harshAlone : options.harshStep,
  );
  if (difference < most) return null;
  return parting(step, 'warning', `, ${showLightness(before.difference)} in ${theme}: too hard a step`, rounded(most, 1));
}

/** Lighter than its ground in one theme and darker in the other by much: another fault (flipped, unthemed), not a matter of steps. */
function swapped({ surface, before }: Step, { mostSwapped }: Options): boolean {
  return before !== null && surface.tone !== before.surface.tone && before.difference > mostSwapped;
}

function isLeftBehind({ surface, before }: Step): boolean {
  const { kind } = surface.paint.origin;
  return surface.color === before?.surface.color && (kind === 'literal' || kind === 'system');
}

function merged(step: Step, theme: string, options: Options): Parting | null {
  const { surface, before, difference, around, color } = step;
  if (before === null) return null;
  const told = toldBy(before.surface, before.difference, options);
  if (told === null || (told === 'shadow' && surface.role === 'control')) return null;
  const least = leastStep(told === 'shadow' ? 0 : before.difference, options);
  if (difference >= least || tintDistanceOk(color, around) >= TOLD_APART || setOff(surface, options)) return null;
  if (told === 'shadow') {
    return parting(step, 'note', `, and the shadow that sets it off in ${theme} cannot be seen here`, rounded(least, 1));
  }
  const than = `, ${showLightness(before.difference)} in ${theme}: the step vanished and no edge replaces it`;
  return parting(step, 'warning', than, rounded(least, 1));
}

/** Whether a surface that its colour tells from what is behind it would be told no longer, with the options as they are unless set. */
export function losesStep(before: OnGround, after: OnGround): boolean {
  const [step, left] = [difference(before.fore, before.back), difference(after.fore, after.back)];
  const { leastReferenceStep, mergedFloor, mergedCeiling, mergedShare } = parameters;
  const least = leastStep(step, {
    mergedFloor: mergedFloor.default,
    mergedCeiling: mergedCeiling.default,
    mergedShare: mergedShare.default,
  });
  return step >= leastReferenceStep.default && left < least && tintDistanceOk(after.fore, after.back) < TOLD_APART;
}

interface OnGround {
  readonly fore: Opaque;
  readonly back: Opaque;
}

function difference(one: Opaque, other: Opaque): number {
  return Math.abs(cieLightness(one) - cieLightness(other));
}

/** What must be left of a step, CIE L*. */
function leastStep(
  before: number,
  { mergedFloor, mergedCeiling, mergedShare }: Pick<Options, 'mergedFloor' | 'mergedCeiling' | 'mergedShare'>,
): number {
  return Math.max(mergedFloor, Math.min(mergedCeiling, mergedShare * before));
}

/** What tells a surface apart in the reference theme; what lies around a white card there may be its shadow, and no surface. */
function toldBy(there: Surface, difference: number, options: Options): 'step' | 'shadow' | null {
  if (difference < options.leastReferenceStep) return null;
  const onOne = (there.aroundShare ?? 1) >= options.leastAround;
  if (onOne || there.edge?.kind !== 'shadow') return 'step';
  return setOff(there, options) ? 'shadow' : null;
}

/** An edge that differs from both sides. */
function setOff(surface: Surface, options: Options): boolean {
  const edge = read(surface.edge?.color);
  const differs = (from: string): boolean => {
    const side = read(from);
    return edge !== null && side !== null && Math.abs(cieLightness(edge) - cieLightness(side)) >= options.leastEdge;
  };
  return differs(surface.around) && differs(surface.color);
}

function parting(step: Step, level: 'warning' | 'note', than: string, least: number): Parting {
  return { sample: step.surface, level, step, than, least, places: 1 };
}

/** Same colours at the same kind of place: rows of one table, cards of one list. */
function likeness({ selector, on = '', color, around }: Surface): string {
  return [selector.replace(/\d+/g, '#'), on, color, around].join(' ');
}
