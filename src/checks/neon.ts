// A colourful fill that glares on its dark ground: light and colourful for its size, and not so in the reference theme.
import { equivalentLightness } from '../colour/appearance.ts';
import type { Opaque } from '../colour/color.ts';
import { opaque } from '../colour/color.ts';
import { toHex } from '../colour/format-color.ts';
import { glareOn } from '../colour/glare.ts';
import { fromOklch, toOklch } from '../colour/lightness.ts';
import { findColor, parseColor } from '../colour/parse-color.ts';
import type { Against, Fault, OptionsOf, Said, SampleOf } from './check.ts';
import { defineCheck } from './check.ts';
import { byKey, groupBy } from './group-by.ts';
import { nameOf, rounded, showChroma, showLightness } from './wording.ts';

const OURS = 'ours: set on worked cases';
const LOOKED_AT = 'ours: set by eye on swatches of nine hues and five lightnesses, bars and buttons on #121212';

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
  leastAround: {
    default: 0.4,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'How much of what surrounds a fill must be its dark ground.',
    source: 'ours: a dark button beside a fill on a gradient is not its ground',
  },
  leastColourfulness: {
    default: 55,
    min: 0,
    max: 200,
    unit: 'M',
    about: 'CAM16 colourfulness on its ground, below which a fill is a pastel or muted however light it is.',
    source: LOOKED_AT,
  },
  leastGlare: {
    default: 101,
    min: 0,
    max: 250,
    unit: 'J + M/2',
    about: 'CAM16 lightness plus half the colourfulness from which a fill of 10,000 px² glares, and small fills in sum.',
    source: LOOKED_AT,
  },
  sizeEffect: {
    default: 16,
    min: 0,
    max: 100,
    unit: 'J + M/2',
    about: 'By how much a fill of ten times that area may glare less, and a smaller one more, in proportion to the logarithm.',
    source:
      'CIE 215:2014: large areas look lighter and more colourful; size ours: the blue of a calm button, 140 × 40, is too much across a page',
  },
  leastRise: {
    default: 50,
    min: 0,
    max: 150,
    unit: 'L*',
    about: 'How much lighter than its ground the fill must look, Helmholtz–Kohlrausch effect included.',
    source: `High, Green and Nussbaum 2023 for the measure; the bound ${OURS}`,
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

/** CSS px²; 1 % of 1280 × 800, from which small fills count in sum. */
const USUAL_AREA = 10_000;
/** CSS px²; the effect of size ends here (ours): from a bar across the page on, larger is only more of the same. */
const FULL_AREA = 100_000;
/** By how much a colour must clear the bounds to be named as calm, so that it is not one code away from glaring (ours). */
const CALM_MARGIN = 3;

type Options = OptionsOf<typeof parameters>;

type Surface = SampleOf<'surface'>;

/** A fill that glares, with what was found out about it; small ones count in sum. */
interface Glaring extends Fault<Surface> {
  readonly against: Against;
  /** Places of its colour that it stands for. */
  readonly places: number;
  readonly fill: Opaque;
  readonly ground: Opaque;
  readonly rise: number;
  /** Difference in the reference theme; null without a counterpart there. */
  readonly before: number | null;
  readonly counterpart: Surface | null;
}

export const neon = defineCheck({
  id: 'neon',
  kinds: ['surface'],
  title: 'Neon surfaces',
  about:
    'A colourful fill on dark ground that is light and colourful for its size, and stands out much more than in the reference theme. Left alone: small dots and thin bars, buttons of ordinary size and strength, pastels, muted fills, pictures and photos, charts, fills as strong in the reference theme.',
  guide: {
    why: 'A saturated fill that is calm on white glares on near-black: the eye sees colourful light as lighter still.',
    computed:
      'CAM16 tells how light (J) and how colourful (M) the fill looks against its own ground, on a screen of 80 cd/m²; J + M/2 must reach `leastGlare`, less for larger fills (`sizeEffect`), and M `leastColourfulness`. Lightness that includes the Helmholtz–Kohlrausch effect, of the fill minus that of its ground, must reach `leastRise` and exceed the same difference in the reference theme by `leastGrowth`. The message gives the largest chroma at the same lightness and hue that would be calm.',
    source:
      'CAM16: Li and others 2017 (CIE 248:2022); High, Green and Nussbaum 2023 for the Helmholtz–Kohlrausch effect; CIE 215:2014 for the direction of the effect of size. Grounds darker than Y 20 extrapolate CAM16. The sum J + M/2 and all bounds are ours: opinions, set by eye on swatches.',
    mend: 'Lower the chroma, or the lightness, of the step in this theme’s ramp; or point the token at a quieter step for large areas and keep the strong one for small marks.',
  },
  parameters,
  standing: (sample, options) => {
    if (!isJudged(sample, options)) return '';
    return isLarge(sample, options) ? `large${leastGlareOf(sample, options).toFixed(0)}` : 'small';
  },
  judge: glaringOf,
  fold: (faults, { leastSum }) => {
    const small = faults.filter(({ part }) => part === true);
    const crowded = byColour(small).filter((group) => group.reduce((sum, { sample }) => sum + sample.area, 0) >= leastSum);
    // Many places of one colour are one thing to say, at the place where it is worst.
    return byColour([...faults.filter(({ part }) => part !== true), ...crowded.flat()])
      .flatMap((group) => {
        const [worst] = [...group].sort((one, other) => severity(other) - severity(one) || byKey(one.sample, other.sample));
        return worst === undefined ? [] : [{ ...worst, places: group.length }];
      })
      .sort((one, other) => severity(other) - severity(one));
  },
  say: describe,
});

function byColour(glares: readonly Glaring[]): readonly (readonly Glaring[])[] {
  return groupBy(glares, ({ sample }) => sample.color);
}

function severity({ sample, fill, ground }: Glaring): number {
  return glareOn({ color: fill, ground }).strength * Math.sqrt(areaOf(sample));
}

function areaOf({ rect: [, , width, height] }: Surface): number {
  return width * height;
}

function isJudged({ fill, role, rect }: Surface, { leastSide }: Options): boolean {
  const isFill = fill !== 'picture' && (role === 'box' || role === 'control' || role === 'pseudo');
  return isFill && Math.min(rect[2], rect[3]) >= leastSide;
}

function isLarge(sample: Surface, { leastArea }: Options): boolean {
  return areaOf(sample) >= leastArea;
}

function glaringOf(sample: Surface, against: Against, options: Options): Glaring | null {
  const { reference, tone } = against;
  // The reference theme is what its designers meant; only a dark one is judged at all, and without comparison.
  if (reference === null && tone === 'light') return null;
  if (!isJudged(sample, options) || sample.aroundLightness > options.groundLightness) return null;
  if ((sample.aroundShare ?? 1) < options.leastAround) return null;
  const found = findColor(sample.around);
  if (found === null) return null;
  const ground = opaque(found);
  const fill = colourfulFill(sample, ground, options);
  if (fill === null || glareOn({ color: fill, ground }).strength < leastGlareOf(sample, options)) return null;
  const rise = riseOf(fill, ground);
  if (rise < options.leastRise) return null;
  const counterpart = reference?.samePlace('surface') ?? null;
  const before = counterpart === null ? null : riseBetween(counterpart.color, counterpart.around);
  if (before !== null && rise - Math.abs(before) < options.leastGrowth) return null;
  return {
    ...{ sample, against, level: before === null ? 'note' : 'warning', places: 1 },
    ...(isLarge(sample, options) ? {} : { part: true }),
    ...{ fill, ground, rise, before, counterpart },
  };
}

/** J + M/2 from which a fill of its size glares; small ones, which count in sum only, as an area of that sum. */
function leastGlareOf(sample: Surface, { leastArea, leastGlare, sizeEffect }: Options): number {
  const area = areaOf(sample);
  const counted = area < leastArea ? USUAL_AREA : Math.min(area, FULL_AREA);
  return leastGlare - sizeEffect * Math.log10(counted / USUAL_AREA);
}

/** The flat colour, or, of a gradient, its most frequent colourful colour where half of it is colourful. */
function colourfulFill(sample: Surface, ground: Opaque, options: Options): Opaque | null {
  const colourful = (text: string): Opaque | null => {
    const color = findColor(text);
    if (color === null) return null;
    return glareOn({ color: opaque(color), ground }).colourfulness < options.leastColourfulness ? null : opaque(color);
  };
  if (sample.palette === undefined) return colourful(sample.color);
  const parts = sample.palette.flatMap(({ color, share }) => {
    const found = colourful(color);
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

/** The largest chroma, in thousandths, at the fill's own OKLCH lightness and hue whose 8-bit colour is plainly no longer neon. */
function calmColour(
  { sample, fill, ground, before }: Glaring,
  options: Options,
): { readonly chroma: number; readonly color: string } {
  const { okLightness, chroma, hueDeg } = toOklch(fill);
  const allowedRise = Math.max(options.leastRise, before === null ? 0 : Math.abs(before) + options.leastGrowth) - CALM_MARGIN;
  const allowedGlare = leastGlareOf(sample, options) - CALM_MARGIN;
  const allowedColourfulness = options.leastColourfulness - CALM_MARGIN;
  for (let thousandths = Math.floor(chroma * 1000); thousandths > 0; thousandths -= 1) {
    const color = toHex(fromOklch({ okLightness, chroma: thousandths / 1000, hueDeg }));
    const candidate = opaque(parseColor(color));
    const { colourfulness, strength } = glareOn({ color: candidate, ground });
    if (colourfulness < allowedColourfulness || strength < allowedGlare || riseOf(candidate, ground) < allowedRise)
      return { chroma: thousandths / 1000, color };
  }
  return { chroma: 0, color: toHex(fromOklch({ okLightness, chroma: 0, hueDeg })) };
}

function describe(glaring: Glaring, options: Options): Said {
  const { sample, fill, ground, rise, before, counterpart, places, against } = glaring;
  const { reference } = against;
  const { chroma } = toOklch(fill);
  const { colourfulness, strength } = glareOn({ color: fill, ground });
  const calm = calmColour(glaring, options);
  const who = places === 1 ? nameOf(sample) : `${nameOf(sample)} and ${String(places - 1)} more of its colour`;
  const than =
    before !== null && reference !== null
      ? `, ${showLightness(Math.abs(before))} in ${reference.theme}`
      : reference === null
        ? ''
        : ` (${reference.theme} has no such element to compare with)`;
  return {
    message: `${who} glares: ${toHex(fill)} looks ${showLightness(rise)} L* lighter than the dark ground ${toHex(ground)}${than}; a chroma of ${showChroma(calm.chroma)} instead of ${showChroma(chroma)} would be calm, e.g. ${calm.color}.`,
    measured: {
      color: toHex(fill),
      ground: toHex(ground),
      chroma: rounded(chroma),
      rise: rounded(rise, 1),
      colourfulness: rounded(colourfulness, 1),
      glare: rounded(strength, 1),
      ...(before === null ? {} : { riseInReference: rounded(before, 1) }),
      ...(counterpart === null ? {} : colourfulnessThere(counterpart)),
      ...(places === 1 ? {} : { count: places }),
    },
    expected: { ...calm, glare: rounded(leastGlareOf(sample, options), 1) },
  };
}

function colourfulnessThere(counterpart: Surface): { readonly colourfulnessInReference?: number } {
  const [color, ground] = [findColor(counterpart.color), findColor(counterpart.around)];
  if (color === null || ground === null) return {};
  return { colourfulnessInReference: rounded(glareOn({ color: opaque(color), ground: opaque(ground) }).colourfulness, 1) };
}
