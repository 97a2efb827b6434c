// A saturated fill that glares on its dark ground: it looks far lighter than the ground, and did not in the reference theme.
import { colourfulnessOn, equivalentLightness } from '../colour/appearance.ts';
import type { Opaque } from '../colour/color.ts';
import { opaque } from '../colour/color.ts';
import { cuspShare } from '../colour/cusp.ts';
import { toHex } from '../colour/format-color.ts';
import { fromOklch, toOklch } from '../colour/lightness.ts';
import { findColor, parseColor } from '../colour/parse-color.ts';
import type { FindingDraft } from '../samples/finding.ts';
import type { OptionsOf, Reference, SampleOf } from './check.ts';
import { defineCheck, findingAt, samplesOf } from './check.ts';
import { byKey, groupBy } from './group-by.ts';
import { nameOf, rounded, showChroma, showLightness } from './wording.ts';

const OURS = 'ours; the published ingredients give the direction, this bound was set on a table of worked cases';

const parameters = {
  groundLightness: {
    default: 35,
    min: 0,
    max: 100,
    unit: 'L*',
    about: 'The ground counts as dark up to this lightness.',
    source: OURS,
  },
  leastArea: {
    default: 1500,
    min: 0,
    max: 1_000_000,
    unit: 'px²',
    about: 'Smaller fills are not judged alone.',
    source: OURS,
  },
  leastSide: {
    default: 16,
    min: 0,
    max: 1000,
    unit: 'px',
    about: 'Fills thinner than this are never judged (dots, bars, lines).',
    source: 'ours: 0.34° at the 0.0213° per px of WCAG’s reference pixel',
  },
  leastSum: {
    default: 0.01,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'Small fills of one colour are judged together from this share of the viewport.',
    source: OURS,
  },
  leastChroma: {
    default: 0.1,
    min: 0,
    max: 0.4,
    unit: 'chroma',
    about: 'OKLCH chroma from which a fill is saturated.',
    source: OURS,
  },
  leastCuspShare: {
    default: 0.7,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'Chroma as a share of the most that sRGB has at the hue.',
    source: OURS,
  },
  leastExcess: {
    default: 0.15,
    min: 0,
    max: 1,
    unit: 'share',
    about:
      'By what share the chroma must fall to be calm, for the fill to be worth a word, unless it looks 85 L* lighter than its ground.',
    source: 'ours: of 119 fills looked at in pictures, those nearer to calm were no glare to the eye',
  },
  leastRise: {
    default: 50,
    min: 0,
    max: 150,
    unit: 'L*',
    about: 'How much lighter than its ground the fill must look, Helmholtz–Kohlrausch effect included.',
    source: `High, Green, Nussbaum 2023 for the measure; bound ${OURS}`,
  },
  leastGrowth: {
    default: 20,
    min: 0,
    max: 150,
    unit: 'L*',
    about: 'By how much that must exceed the difference in the reference theme.',
    source: OURS,
  },
} as const;

/** Share of the ring around a fill that must be its dark ground; a dark button beside it on a gradient is none (ours). */
const LEAST_GROUND = 0.4;
/** L*; from here a fill glares however near it is to a calm chroma (ours: a magenta bar on black, seen in pictures). */
const SURE_RISE = 85;

type Options = OptionsOf<typeof parameters>;

/** A fill that glares, with what was found out about it. */
interface Glare {
  readonly sample: SampleOf<'surface'>;
  readonly fill: Opaque;
  readonly ground: Opaque;
  readonly rise: number;
  /** Difference in the reference theme; null without a counterpart there. */
  readonly before: number | null;
  readonly counterpart: SampleOf<'surface'> | null;
  /** Worked out where it decides whether the fill glares at all. */
  readonly calm?: Calm;
}

/** A colour that would not glare. */
interface Calm {
  readonly chroma: number;
  readonly color: string;
}

export const neon = defineCheck({
  id: 'neon',
  title: 'Neon surfaces',
  about:
    'A saturated fill on dark ground that looks far lighter than the ground and stands out much more than in the reference theme. Left alone: small dots and thin bars, muted fills, pictures and photos, charts, fills as strong in the reference theme.',
  guide: {
    why: 'A saturated fill that is calm on white glares on near-black: the eye sees colourful light as lighter still.',
    computed:
      'Lightness that includes the Helmholtz–Kohlrausch effect, of the fill minus that of its ground, must exceed `leastRise` and exceed the same difference in the reference theme by `leastGrowth`; chroma is OKLCH, also as a share of the most sRGB has at that hue. The message gives the largest chroma at the same lightness and hue that would be calm.',
    source: 'CIE L* and OKLCH (CSS Color 4); High, Green and Nussbaum 2023 for the effect. The bounds are opinions.',
    mend: 'Lower the chroma, or the lightness, of the step in this theme’s ramp; or point the token at a quieter step for large areas and keep the strong one for small marks.',
  },
  parameters,
  find: ({ samples, tone, reference }, options) => {
    // The reference theme is what its designers meant; only a dark one is judged at all, and without comparison.
    if (reference === null && tone === 'light') return [];
    const glares = samplesOf(samples, 'surface').flatMap((sample) => glareOf(sample, reference, options) ?? []);
    const large = glares.filter(({ sample }) => sample.rect[2] * sample.rect[3] >= options.leastArea);
    const small = glares.filter((glare) => !large.includes(glare));
    const crowded = byColour(small).filter((group) => group.reduce((sum, { sample }) => sum + sample.area, 0) >= options.leastSum);
    // Many places of one colour are one thing to say, at the place where it is worst.
    return byColour([...large, ...crowded.flat()])
      .map((group) => [...group].sort((one, other) => severity(other) - severity(one) || byKey(one.sample, other.sample)))
      .sort((one, other) => severity(other[0]) - severity(one[0]))
      .map((group) => describe(group, reference, options));
  },
});

/** Exempt places are kept apart, so that they do not stand for others. */
function byColour(glares: readonly Glare[]): readonly (readonly Glare[])[] {
  return groupBy(glares, ({ sample }) => `${sample.color} ${(sample.exemptions ?? []).join()}`);
}

function severity(glare: Glare | undefined): number {
  if (glare === undefined) return 0;
  const [, , width, height] = glare.sample.rect;
  return glare.rise * cuspShare(toOklch(glare.fill)) * Math.sqrt(width * height);
}

function glareOf(sample: SampleOf<'surface'>, reference: Reference | null, options: Options): Glare | null {
  const [, , width, height] = sample.rect;
  const judged = sample.fill !== 'picture' && (sample.role === 'box' || sample.role === 'control' || sample.role === 'pseudo');
  if (!judged || Math.min(width, height) < options.leastSide || sample.aroundLightness > options.groundLightness) return null;
  if ((sample.aroundShare ?? 1) < LEAST_GROUND) return null;
  const ground = findColor(sample.around);
  const fill = saturatedFill(sample, options);
  if (ground === null || fill === null) return null;
  const rise = riseOf(fill, opaque(ground));
  if (rise < options.leastRise) return null;
  const counterpart = reference?.find('surface', sample.key) ?? null;
  const before = counterpart === null ? null : riseBetween(counterpart.color, counterpart.around);
  if (before !== null && rise - Math.abs(before) < options.leastGrowth) return null;
  const glare = { sample, fill, ground: opaque(ground), rise, before, counterpart };
  const { chroma } = toOklch(fill);
  if (rise >= SURE_RISE) return glare;
  const calm = calmColour(glare, options);
  return calm.chroma > chroma * (1 - options.leastExcess) ? null : { ...glare, calm };
}

/** The flat colour, or, of a gradient, its most frequent saturated colour where half of it is saturated. */
function saturatedFill(sample: SampleOf<'surface'>, options: Options): Opaque | null {
  const saturated = (text: string): Opaque | null => {
    const color = findColor(text);
    return color !== null && isSaturated(opaque(color), options) ? opaque(color) : null;
  };
  if (sample.palette === undefined) return saturated(sample.color);
  const parts = sample.palette.flatMap(({ color, share }) => {
    const found = saturated(color);
    return found === null ? [] : [{ found, share }];
  });
  const share = parts.reduce((sum, part) => sum + part.share, 0);
  return share >= 0.5 ? (parts[0]?.found ?? null) : null;
}

function riseOf(fill: Opaque, ground: Opaque): number {
  return equivalentLightness(fill) - equivalentLightness(ground);
}

function riseBetween(fill: string, ground: string): number | null {
  const [one, other] = [findColor(fill), findColor(ground)];
  return one === null || other === null ? null : riseOf(opaque(one), opaque(other));
}

/** The largest chroma, in thousandths, at the fill's own OKLCH lightness and hue whose 8-bit colour no longer counts as neon. */
function calmColour(glare: Glare, options: Options): Calm {
  const { okLightness, chroma, hueDeg } = toOklch(glare.fill);
  const allowedRise = Math.max(options.leastRise, glare.before === null ? 0 : Math.abs(glare.before) + options.leastGrowth);
  for (let thousandths = Math.floor(chroma * 1000); thousandths > 0; thousandths -= 1) {
    const color = toHex(fromOklch({ okLightness, chroma: thousandths / 1000, hueDeg }));
    const candidate = opaque(parseColor(color));
    if (!isSaturated(candidate, options) || riseOf(candidate, glare.ground) < allowedRise)
      return { chroma: thousandths / 1000, color };
  }
  return { chroma: 0, color: toHex(fromOklch({ okLightness, chroma: 0, hueDeg })) };
}

function isSaturated(color: Opaque, options: Options): boolean {
  const oklch = toOklch(color);
  return oklch.chroma >= options.leastChroma && cuspShare(oklch) >= options.leastCuspShare;
}

function describe(group: readonly Glare[], reference: Reference | null, options: Options): FindingDraft {
  const [glare] = group;
  if (glare === undefined) throw new RangeError('a group of glares has at least one member');
  const { sample, fill, ground, rise, before, counterpart } = glare;
  const { chroma } = toOklch(fill);
  const calm = glare.calm ?? calmColour(glare, options);
  const who = group.length === 1 ? nameOf(sample) : `${nameOf(sample)} and ${String(group.length - 1)} more of its colour`;
  const than =
    before !== null && reference !== null
      ? `, ${showLightness(Math.abs(before))} in ${reference.theme}`
      : reference === null
        ? ''
        : ` (${reference.theme} has no such element to compare with)`;
  return findingAt(sample, {
    check: 'neon',
    level: before === null ? 'note' : 'warning',
    message: `${who} glares: ${toHex(fill)} looks ${showLightness(rise)} L* lighter than the dark ground ${toHex(ground)}${than}; a chroma of ${showChroma(calm.chroma)} instead of ${showChroma(chroma)} would be calm, e.g. ${calm.color}.`,
    measured: {
      color: toHex(fill),
      ground: toHex(ground),
      chroma: rounded(chroma),
      rise: rounded(rise, 1),
      colourfulness: rounded(colourfulnessOn({ color: fill, ground }), 1),
      ...(before === null ? {} : { riseInReference: rounded(before, 1) }),
      ...(counterpart === null ? {} : colourfulnessThere(counterpart)),
      ...(group.length === 1 ? {} : { count: group.length }),
    },
    expected: { ...calm },
  });
}

function colourfulnessThere(counterpart: SampleOf<'surface'>): { readonly colourfulnessInReference?: number } {
  const [color, ground] = [findColor(counterpart.color), findColor(counterpart.around)];
  if (color === null || ground === null) return {};
  return { colourfulnessInReference: rounded(colourfulnessOn({ color: opaque(color), ground: opaque(ground) }), 1) };
}
