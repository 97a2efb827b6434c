// Pictures under a filter that inverts them or turns their hues (Filter Effects 1), told from the whole chain of filters and from pixels.
import { filterEffect, parseFilters } from '../colour/filters.ts';
import type { FilterEffect } from '../colour/filters.ts';
import type { FindingDraft } from '../samples/finding.ts';
import type { OptionsOf, SampleOf } from './check.ts';
import { defineCheck, findingAt, samplesOf } from './check.ts';
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
  find: ({ samples, reference }, options) =>
    samplesOf(samples, 'picture').flatMap((sample): FindingDraft[] => {
      const before = reference?.find('picture', sample.key);
      const effect = effectOf(sample);
      const finding = byFilters(sample, effect, before, options) ?? byPixels(sample, before, options.mostCorrelation);
      return finding === null ? [] : [finding];
    }),
});

function effectOf(sample: SampleOf<'picture'>): FilterEffect {
  return filterEffect(sample.filters.flatMap(({ filter }) => parseFilters(filter)));
}

function byFilters(
  sample: SampleOf<'picture'>,
  effect: FilterEffect,
  before: SampleOf<'picture'> | undefined,
  { leastTurn, lineArt }: OptionsOf<typeof parameters>,
): FindingDraft | null {
  const turned = effect.hueTurnDeg >= leastTurn;
  if (!effect.inverting && !turned) return null;
  const own = sample.filters.length === 1 && sample.filters[0]?.selector === sample.selector;
  const drawing = sample.detail !== undefined && sample.detail < lineArt;
  if (own && (drawing || isSign(sample))) return null;
  if (before !== undefined) {
    const there = effectOf(before);
    if (there.inverting === effect.inverting && Math.abs(there.hueTurnDeg - effect.hueTurnDeg) < leastTurn) return null;
  }
  const chain = sample.filters.map(({ selector, filter }) => `${filter} on ${selector}`).join(', then ');
  const what = effect.inverting ? 'comes out inverted' : `has its hues turned by ${effect.hueTurnDeg.toFixed(0)}°`;
  return findingAt(sample, {
    check: 'inverted-picture',
    level: effect.inverting ? 'error' : 'warning',
    message: `${WHAT[sample.medium]} ${nameOf(sample)} ${what}: ${chain}; undo the filter on pictures.`,
    measured: { inverting: effect.inverting ? 'yes' : 'no', hueTurn: rounded(effect.hueTurnDeg, 0), filters: chain },
    expected: { inverting: 'no', hueTurn: 0 },
  });
}

/** CSS px: an icon of 48 with the padding of its button; the largest seen was 80 × 88 (ours). */
const SIGN_SIDE = 96;

/** On a gradient, the few colours of a sign in a button cannot be told from the many behind it. */
function isSign({ medium, rect }: SampleOf<'picture'>): boolean {
  return medium === 'background' && Math.max(rect[2], rect[3]) <= SIGN_SIDE;
}

/** The same file looks like its own negative, whatever did it (blend modes, filters of a frame around). */
function byPixels(sample: SampleOf<'picture'>, before: SampleOf<'picture'> | undefined, most: number): FindingDraft | null {
  if (before === undefined || sample.source === undefined || sample.source !== before.source) return null;
  const correlation = correlationOf(sample.luma, before.luma);
  if (correlation === null || correlation > most) return null;
  return findingAt(sample, {
    check: 'inverted-picture',
    level: 'error',
    message: `${WHAT[sample.medium]} ${nameOf(sample)} comes out inverted: its light and dark parts are swapped (correlation ${correlation.toFixed(2)} with the reference theme), though no filter on it says so; look for blend modes over it.`,
    measured: { correlation: rounded(correlation, 2) },
    expected: { correlation: 1 },
  });
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
