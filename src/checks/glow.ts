// A shadow that is lighter than what it falls on: it reads as a glow.
import type { Fault, OptionsOf, SampleOf } from './check.ts';
import { defineCheck, samplesOf } from './check.ts';
import { byKey, groupBy } from './group-by.ts';
import { nameOf, rounded, showLightness } from './wording.ts';

const parameters = {
  leastGain: {
    default: 2,
    min: 0.1,
    max: 100,
    unit: 'L*',
    about: 'Lightness at the peak minus lightness beneath, from which it is a glow.',
    source: 'ours: five 8-bit codes on #121212 (2.3 L*; four are 1.8; CIE 15)',
  },
  strongGain: {
    default: 5,
    min: 0.1,
    max: 100,
    unit: 'L*',
    about: 'From here the finding is a warning, below it a note.',
    source:
      'ours: between two worked shadows on #121212: a light theme’s grey left unchanged (0 2px 8px, #3c4043 at 30 %) gains 4.2 and is faint, white at 8 % gains 5.9 and shines; a black one never gains',
  },
  leastBlur: {
    default: 2,
    min: 0,
    max: 100,
    unit: 'px',
    about: 'Shadows with less blur are rings or hard edges, not glows.',
    source: 'ours: focus rings have no blur, lines along the inside of an edge at most 1 px (common practice)',
  },
  leastReach: {
    default: 6,
    min: 0,
    max: 100,
    unit: 'px',
    about: 'A box shadow that ends this close to its box (offset, spread and blur together) is seen as an edge, not as a glow.',
    source: 'ours: set on buttons whose coloured lower edge is drawn as a shadow of 3 to 5 px',
  },
  leastChromaGain: {
    default: 0.04,
    min: 0,
    max: 0.4,
    unit: 'chroma',
    about: 'OKLCH chroma gained at the peak from which a gain of half an L* is enough.',
    source: 'ours: twice the just noticeable ΔE OK of .02 (CSS Color 4 §13.2)',
  },
} as const;

type Options = OptionsOf<typeof parameters>;

export const glow = defineCheck({
  id: 'glow',
  kinds: ['shadow'],
  title: 'Glowing shadows',
  about:
    'A box shadow, text shadow or drop shadow whose painted peak is lighter (or, if hardly lighter, more colourful) than what it falls on. Left alone: rings without blur, inset hairlines, focus indicators, shadows too faint to see, shadows that glow as much in the reference theme.',
  guide: {
    why: 'On a dark ground a shadow cannot be darker than what it falls on for long; a light one says that the thing shines.',
    computed:
      'The shadow’s colour at its strongest painted place (blur, spread and alpha included) against what lies beneath, in CIE L*; several shadows of one list are also judged together. Not judged: a light reference theme, and shadows that glow there as much, or of a declaration that glows there by `strongGain` somewhere.',
    source: 'CIE 15 for L*; CSS Backgrounds 3 §6.1.2 for how a blur spreads. That a shadow should be darker is a design opinion.',
    mend: 'In dark themes use a black shadow of more alpha, a lighter surface for what is raised, or a hairline; put the shadow’s colour into a token with a value of its own in this theme.',
  },
  parameters,
  standing: (sample, options) => (isSoft(sample, options) ? 'soft' : ''),
  /** Declarations that shine in the reference theme, wherever. */
  survey: ({ reference }, { strongGain }) =>
    new Set(
      samplesOf(reference?.samples ?? [], 'shadow').flatMap((s) => (s.lightnessGain >= strongGain ? [declarationOf(s)] : [])),
    ),
  judge: (sample, { reference, tone }, options, shining): Glow | null => {
    const { leastGain, strongGain, leastChromaGain } = options;
    const { lightnessGain: gain, chromaGain } = sample;
    // What shines in the reference theme is meant to, and light on light is an engraved edge.
    if (gain <= 0 || (reference === null && tone === 'light') || !isSoft(sample, options)) return null;
    const before = reference?.samePlace('shadow');
    if (before !== undefined && before.lightnessGain >= leastGain && gain <= before.lightnessGain + strongGain) return null;
    const shinesThere = before !== undefined && before.lightnessGain >= strongGain ? declarationOf(before) : null;
    if (shining === null ? shinesThere === declarationOf(sample) : shining.has(declarationOf(sample))) return null;
    const glows = gain >= leastGain || (gain > HARDLY_LIGHTER && chromaGain >= leastChromaGain);
    const found = { sample, gain, parts: 1, places: 1 };
    return glows ? { ...found, level: gain >= strongGain ? 'warning' : 'note' } : { ...found, level: 'note', part: true };
  },
  fold: (faults, { leastGain }) => {
    const lists = groupBy(faults, ({ sample }) => `${sample.property} ${sample.selector}`);
    const single = lists.flatMap((list) => list.filter(glowsAlone).sort(strongestFirst).slice(0, 1));
    const sums = lists.flatMap((list) => (list.some(glowsAlone) ? [] : together(list, leastGain)));
    return [
      // The same declaration at many places is one thing to say, at the place where it glows most.
      ...strongestOf(groupBy(single, ({ sample, level }) => (level === 'warning' ? declarationOf(sample) : shapeOf(sample)))),
      ...strongestOf(groupBy(sums, ({ shape }) => shape)),
    ];
  },
  say: ({ sample: s, gain, parts, places }) => {
    const what = parts === 1 ? `The ${WHAT[s.property]}` : `The ${String(parts)} shadows together (${WHAT[s.property]})`;
    const more = places === 1 ? '' : `; ${String(places - 1)} more places have the same shadow`;
    return {
      message: `${what} of ${nameOf(s)} ${parts === 1 ? 'glows' : 'glow'}: ${s.color} at the strongest place is ${showLightness(gain)} L* lighter than ${s.beneath} beneath; a shadow should be darker${more}.`,
      measured: {
        lightnessGain: rounded(gain, 2),
        chromaGain: rounded(s.chromaGain),
        color: s.color,
        beneath: s.beneath,
        blur: s.blur,
        ...(places === 1 ? {} : { count: places }),
      },
      expected: { lightnessGain: 0 },
    };
  },
});

type Shadow = SampleOf<'shadow'>;

interface Glow extends Fault<Shadow> {
  /** L*; of all shadows of a list where they glow only together. */
  readonly gain: number;
  /** Shadows that glow together. */
  readonly parts: number;
  /** Places that have the same shadow. */
  readonly places: number;
}

function glowsAlone({ part }: Glow): boolean {
  return part !== true;
}

function strongestFirst(one: Glow, other: Glow): number {
  return other.gain - one.gain || byKey(one.sample, other.sample);
}

function strongestOf(groups: readonly (readonly Glow[])[]): readonly Glow[] {
  return groups.flatMap((alike) => {
    const [strongest] = [...alike].sort(strongestFirst);
    return strongest === undefined ? [] : [{ ...strongest, places: alike.length }];
  });
}

function declarationOf(s: Shadow): string {
  return `${shapeOf(s)} ${s.paint.color}`;
}

/** Faint glows of one shape are one rule that takes each place's own colour (`currentcolor`). */
function shapeOf({ property, blur, spread, offset, inset }: Shadow): string {
  return [property, blur, spread, ...offset, inset].join(' ');
}

/** L*; less cannot be called lighter. */
const HARDLY_LIGHTER = 0.5;

/** CSS px from a box to where its shadow ends; letters and strokes have no edge that it could be taken for. */
function reachOf({ property, blur, spread, offset, inset }: Shadow): number {
  if (property !== 'box-shadow' || inset) return Number.POSITIVE_INFINITY;
  return Math.max(Math.abs(offset[0]), Math.abs(offset[1])) + spread + blur;
}

/** Neither a ring nor an edge. */
function isSoft(s: Shadow, { leastBlur, leastReach }: Options): boolean {
  return s.blur >= leastBlur && reachOf(s) >= leastReach;
}

/** Shadows of one list that glow only in sum. */
function together(list: readonly Glow[], leastGain: number): readonly (Glow & { readonly shape: string })[] {
  const lighter = [...list].sort(strongestFirst);
  const gain = lighter.reduce((sum, one) => sum + one.gain, 0);
  const [strongest] = lighter;
  if (strongest === undefined || lighter.length < 2 || gain < leastGain) return [];
  const shape = lighter.map(({ sample }) => shapeOf(sample)).join(', ');
  return [{ ...strongest, gain, parts: lighter.length, shape }];
}

const WHAT: Readonly<Record<Shadow['property'], string>> = {
  'box-shadow': 'box shadow',
  'text-shadow': 'text shadow',
  'drop-shadow': 'drop shadow',
};
