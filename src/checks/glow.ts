// A shadow that is lighter than what it falls on: it reads as a glow.
import type { FindingDraft } from '../samples/finding.ts';
import type { SampleOf } from './check.ts';
import { defineCheck, findingAt, samplesOf } from './check.ts';
import { byKey, groupBy } from './group-by.ts';
import { nameOf, rounded, showLightness } from './wording.ts';

export const glow = defineCheck({
  id: 'glow',
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
  parameters: {
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
  },
  find: ({ samples, tone, reference }, { leastGain, strongGain, leastBlur, leastReach, leastChromaGain }) => {
    // What shines in the reference theme is meant to, and light on light is an engraved edge.
    if (reference === null && tone === 'light') return [];
    const shining = new Set(
      samplesOf(reference?.samples ?? [], 'shadow').flatMap((s) => (s.lightnessGain >= strongGain ? [declarationOf(s)] : [])),
    );
    const meant = (s: SampleOf<'shadow'>): boolean => {
      const before = reference?.find('shadow', s.key);
      const asMuch =
        before !== undefined && before.lightnessGain >= leastGain && s.lightnessGain <= before.lightnessGain + strongGain;
      return asMuch || shining.has(declarationOf(s));
    };
    const blurred = samplesOf(samples, 'shadow').filter((s) => s.blur >= leastBlur && reachOf(s) >= leastReach && !meant(s));
    const glows = (s: SampleOf<'shadow'>): boolean =>
      s.lightnessGain >= leastGain || (s.lightnessGain > HARDLY_LIGHTER && s.chromaGain >= leastChromaGain);
    const lists = groupBy(blurred, (s) => `${s.property} ${s.selector}`);
    const strongestFirst = (one: SampleOf<'shadow'>, other: SampleOf<'shadow'>): number =>
      other.lightnessGain - one.lightnessGain || byKey(one, other);
    const single = lists.flatMap((list) => [...list].filter(glows).sort(strongestFirst).slice(0, 1));
    return [
      // The same declaration at many places is one thing to say, at the place where it glows most.
      ...groupBy(single, (s) => (s.lightnessGain >= strongGain ? declarationOf(s) : shapeOf(s))).flatMap((alike) => {
        const [strongest] = [...alike].sort(strongestFirst);
        return strongest === undefined
          ? []
          : [describe(strongest, strongest.lightnessGain >= strongGain, { places: alike.length })];
      }),
      ...groupBy(
        lists.flatMap((list) => (list.some(glows) ? [] : together(list, leastGain))),
        ({ shape }) => shape,
      ).flatMap((alike) => {
        const [most] = [...alike].sort((one, other) => strongestFirst(one.sum, other.sum));
        return most === undefined ? [] : [describe(most.sum, false, { parts: most.parts, places: alike.length })];
      }),
    ];
  },
});

function declarationOf(s: SampleOf<'shadow'>): string {
  return `${shapeOf(s)} ${s.paint.color}`;
}

/** Faint glows of one shape are one rule that takes each place's own colour (`currentcolor`). */
function shapeOf({ property, blur, spread, offset, inset, exemptions = [] }: SampleOf<'shadow'>): string {
  return [property, blur, spread, ...offset, inset, exemptions.join()].join(' ');
}

/** L*; less cannot be called lighter. */
const HARDLY_LIGHTER = 0.5;

/** CSS px from a box to where its shadow ends; letters and strokes have no edge that it could be taken for. */
function reachOf({ property, blur, spread, offset, inset }: SampleOf<'shadow'>): number {
  if (property !== 'box-shadow' || inset) return Number.POSITIVE_INFINITY;
  return Math.max(Math.abs(offset[0]), Math.abs(offset[1])) + spread + blur;
}

/** Shadows of one list that glow only in sum. */
function together(list: readonly SampleOf<'shadow'>[], leastGain: number): readonly Sum[] {
  const lighter = list.filter((s) => s.lightnessGain > 0).sort((one, other) => other.lightnessGain - one.lightnessGain);
  const gain = lighter.reduce((sum, s) => sum + s.lightnessGain, 0);
  const [strongest] = lighter;
  if (strongest === undefined || lighter.length < 2 || gain < leastGain) return [];
  return [{ sum: { ...strongest, lightnessGain: gain }, parts: lighter.length, shape: lighter.map(shapeOf).join(', ') }];
}

interface Sum {
  /** The strongest shadow, with what all of them gain. */
  readonly sum: SampleOf<'shadow'>;
  readonly parts: number;
  readonly shape: string;
}

const WHAT: Readonly<Record<SampleOf<'shadow'>['property'], string>> = {
  'box-shadow': 'box shadow',
  'text-shadow': 'text shadow',
  'drop-shadow': 'drop shadow',
};

/** @param how `parts`: shadows that glow only together; `places`: how many have the same shadow */
function describe(
  s: SampleOf<'shadow'>,
  strong: boolean,
  how: { readonly parts?: number; readonly places?: number },
): FindingDraft {
  const { parts = 1, places = 1 } = how;
  const what = parts === 1 ? `The ${WHAT[s.property]}` : `The ${String(parts)} shadows together (${WHAT[s.property]})`;
  const more = places === 1 ? '' : `; ${String(places - 1)} more places have the same shadow`;
  return findingAt(s, {
    check: 'glow',
    level: strong ? 'warning' : 'note',
    message: `${what} of ${nameOf(s)} ${parts === 1 ? 'glows' : 'glow'}: ${s.color} at the strongest place is ${showLightness(s.lightnessGain)} L* lighter than ${s.beneath} beneath; a shadow should be darker${more}.`,
    measured: {
      lightnessGain: rounded(s.lightnessGain, 2),
      chromaGain: rounded(s.chromaGain),
      color: s.color,
      beneath: s.beneath,
      blur: s.blur,
      ...(places === 1 ? {} : { count: places }),
    },
    expected: { lightnessGain: 0 },
  });
}
