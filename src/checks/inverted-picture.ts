// Pictures under a filter that inverts them or turns their hues (Filter Effects 1), told from the whole chain of filters and from pixels.
import { filterEffect, parseFilters } from '../colour/filters.ts';
import type { FilterEffect } from '../colour/filters.ts';
import type { Fault, OptionsOf, SampleOf } from './check.ts';
import { defineCheck } from './check.ts';
import { nameOf, rounded } from './wording.ts';

const parameters = {
  leastTurn: {
    default: 30,
    min: 1,
    max: 180,
    unit: 'degrees',
    about: 'How far hues must be turned to be reported.',
    source: 'ours: half the distance of a primary to its neighbour on the colour circle',
  },
  mostCorrelation: {
    default: -0.5,
    min: -1,
    max: 0,
    unit: 'number',
    about:
      'Correlation of luminances with the reference theme, over 8 × 8 fields, below which the same picture counts as inverted.',
    source: 'ours: an inverted photo gives about -1, a dimmed one about 1',
  },
  lineArt: {
    default: 0.25,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'Pictures with fewer pixels than this outside their two main colours are line art, which may carry a filter of its own.',
    source: 'ours: inverting a one-colour sign for a dark theme is common practice',
  },
} as const;

const WHAT: Readonly<Record<SampleOf<'picture'>['medium'], string>> = {
  image: 'The picture',
  video: 'The video',
  canvas: 'The drawing',
  background: 'The background picture of',
  emoji: 'The emoji',
  'svg-image': 'The picture',
};

export const invertedPicture = defineCheck({
  id: 'inverted-picture',
  kinds: ['picture'],
  title: 'Inverted pictures',
  about:
    'Pictures, videos, canvases and emoji that come out inverted or with turned hues. All filters on the way count together, so two inversions cancel. Left alone: dimming, greying and blurring, line art and small signs with a filter of their own, pictures filtered alike in the reference theme.',
  guide: {
    why: 'Inverting a page inverts its photos and emoji too: faces and charts come out as negatives.',
    computed:
      'The functions of every `filter` between the picture and the page are taken together: whether they turn light into dark, and by how many degrees they turn hues. Where no filter says so, the same picture in both themes is compared by its luminances over 8 × 8 fields.',
    source: 'Filter Effects 1 for what each function does. The bounds are opinions.',
    mend: 'Take the filter off the page and give dark themes values of their own; where it must stay, put the same filter on pictures once more, so that it cancels.',
  },
  parameters,
  judge: (sample, { reference }, options): Inversion | null => {
    const before = reference?.samePlace('picture');
    return byFilters(sample, before, options) ?? byPixels(sample, before, options.mostCorrelation);
  },
  say: (fault) => {
    const { sample } = fault;
    const name = `${WHAT[sample.medium]} ${nameOf(sample)}`;
    if (fault.by === 'pixels') {
      return {
        message: `${name} comes out inverted: its light and dark parts are swapped (correlation ${fault.correlation.toFixed(2)} with the reference theme), though no filter on it says so; look for blend modes over it.`,
        measured: { correlation: rounded(fault.correlation, 2) },
        expected: { correlation: 1 },
      };
    }
    const { inverting, hueTurnDeg } = fault.effect;
    const chain = sample.filters.map(({ selector, filter }) => `${filter} on ${selector}`).join(', then ');
    const what = inverting ? 'comes out inverted' : `has its hues turned by ${hueTurnDeg.toFixed(0)}°`;
    return {
      message: `${name} ${what}: ${chain}; undo the filter on pictures.`,
      measured: { inverting: inverting ? 'yes' : 'no', hueTurn: rounded(hueTurnDeg, 0), filters: chain },
      expected: { inverting: 'no', hueTurn: 0 },
    };
  },
});

type Picture = SampleOf<'picture'>;

type Inversion = Fault<Picture> &
  ({ readonly by: 'filters'; readonly effect: FilterEffect } | { readonly by: 'pixels'; readonly correlation: number });

function effectOf(sample: Picture): FilterEffect {
  return filterEffect(sample.filters.flatMap(({ filter }) => parseFilters(filter)));
}

function byFilters(
  sample: Picture,
  before: Picture | undefined,
  { leastTurn, lineArt }: OptionsOf<typeof parameters>,
): Inversion | null {
  const effect = effectOf(sample);
  const turned = effect.hueTurnDeg >= leastTurn;
  if (!effect.inverting && !turned) return null;
  const own = sample.filters.length === 1 && sample.filters[0]?.selector === sample.selector;
  const drawing = sample.detail !== undefined && sample.detail < lineArt;
  if (own && (drawing || isSign(sample))) return null;
  if (before !== undefined) {
    const there = effectOf(before);
    if (there.inverting === effect.inverting && Math.abs(there.hueTurnDeg - effect.hueTurnDeg) < leastTurn) return null;
  }
  return { sample, level: effect.inverting ? 'error' : 'warning', by: 'filters', effect };
}

/** CSS px: an icon of 48 with the padding of its button; the largest seen was 80 × 88 (ours). */
const SIGN_SIDE = 96;

/** On a gradient, the few colours of a sign in a button cannot be told from the many behind it. */
function isSign({ medium, rect }: Picture): boolean {
  return medium === 'background' && Math.max(rect[2], rect[3]) <= SIGN_SIDE;
}

/** The same file looks like its own negative, whatever did it (blend modes, filters of a frame around). */
function byPixels(sample: Picture, before: Picture | undefined, most: number): Inversion | null {
  if (before === undefined || sample.source === undefined || sample.source !== before.source) return null;
  const correlation = correlationOf(sample.luma, before.luma);
  if (correlation === null || correlation > most) return null;
  return { sample, level: 'error', by: 'pixels', correlation };
}

/** Least standard deviation of luminance that makes a picture comparable (ours). */
const LEAST_DEVIATION = 0.02;

/** Pearson; null where there is too little to compare. */
function correlationOf(one: readonly number[], other: readonly number[]): number | null {
  if (one.length === 0 || one.length !== other.length) return null;
  const [a, b] = [centred(one), centred(other)];
  const product = (x: readonly number[], y: readonly number[]): number =>
    x.reduce((sum, v, i) => sum + v * (y[i] ?? 0), 0) / x.length;
  const deviation = Math.min(Math.sqrt(product(a, a)), Math.sqrt(product(b, b)));
  return deviation < LEAST_DEVIATION ? null : product(a, b) / Math.sqrt(product(a, a) * product(b, b));
}

function centred(values: readonly number[]): readonly number[] {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return values.map((v) => v - mean);
}
