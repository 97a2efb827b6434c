// A surface that left the tone it must keep, or (without configuration) a dark surface of the light reference theme that became
// a light one in a dark theme, and the other way round.
import type { Tone } from '../samples/view.ts';
import { MIDDLE_LIGHTNESS } from '../colour/lightness.ts';
import type { Against, Fault, OptionsOf, SampleOf } from './check.ts';
import { defineCheck } from './check.ts';
import { nameOf, rounded, showLightness } from './wording.ts';

const parameters = {
  mostDrift: {
    default: 15,
    min: 0,
    max: 100,
    unit: 'L*',
    about: 'A surface that keeps its tone may differ this much in lightness from the reference theme.',
    source: 'ours: three to four steps of a usual ramp',
  },
  leastDifference: {
    default: 35,
    min: 1,
    max: 100,
    unit: 'L*',
    about: 'Without configuration: how clearly a surface must differ from what it lies on, in both themes.',
    source: 'ours: below it tinted bars and cards would count as opposite in tone',
  },
  leastArea: {
    default: 0.01,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'Without configuration: smaller surfaces (share of the viewport) are not compared.',
    source: 'ours: keeps chips, buttons and tooltips out, which are often inverted on purpose',
  },
  mostChroma: {
    default: 0.1,
    min: 0,
    max: 0.4,
    unit: 'chroma',
    about: 'Without configuration: fills more saturated than this (OKLCH) are accents, which may become lighter in the dark.',
    source: 'ours: dark menus are tinted greys up to .06, accents start at .12',
  },
} as const;

export const flipped = defineCheck({
  id: 'flipped',
  kinds: ['surface'],
  title: 'Surfaces of the wrong tone',
  about:
    'A surface declared to stay dark or light that left its tone or its lightness (error, warning); and, as a note, a large surface opposite in tone to its page in the reference theme that swapped with it. Left alone: controls, chips, pictures, charts, surfaces near their page in lightness.',
  guide: {
    why: 'A menu meant to stay dark that turns light, or a light sheet that turns dark, breaks what its contents were drawn for.',
    computed:
      'Where `stay` names the surface: its tone (L* below or from 50) and its lightness against the reference theme. Elsewhere: only a large neutral surface that lies on the page, opposite to it in both themes, with the difference of lightness turned over.',
    source: 'CIE 15 for L*; the rule is a design opinion, as an error only where you declared it.',
    mend: 'Give the surface a token of its own that points at the same end of the ramp in every theme; declare it under `stay` so that it stays so.',
  },
  parameters,
  judge: (sample, against, options) =>
    sample.stay === undefined ? swapped(sample, against, options) : leftTone(sample, sample.stay, against, options.mostDrift),
  say: (fault, { mostDrift }) => {
    const { sample, before, against } = fault;
    const measured = { color: sample.color, lightness: rounded(sample.lightness, 1) };
    const there = before === null ? {} : { lightnessInReference: rounded(before.lightness, 1) };
    const theme = against.reference?.theme ?? '';
    switch (fault.how) {
      case 'left':
        return {
          message: `${nameOf(sample)} should stay ${fault.stay} in every theme; here it is ${sample.tone} (${sample.color}, L* ${showLightness(sample.lightness)}).`,
          measured: { ...measured, tone: sample.tone },
          expected: { tone: fault.stay },
        };
      case 'drifted':
        return {
          message: `${nameOf(sample)} stays ${fault.stay}, but its lightness is ${showLightness(fault.drift)} L* off: ${sample.color} here, ${fault.before.color} in ${theme}; at most ${showLightness(mostDrift)} would look the same.`,
          measured: { ...measured, tone: sample.tone, ...there },
          expected: { tone: fault.stay, drift: mostDrift },
        };
      case 'swapped':
        return {
          message: `${nameOf(sample)} is ${fault.before.tone} on a ${other(fault.before.tone)} page in ${theme} (${fault.before.color}) and became ${sample.tone} on a ${other(sample.tone)} page in ${against.theme} (${sample.color}); if it should keep its tone, list it under "stay".`,
          measured: { ...measured, ...there },
          expected: { tone: fault.before.tone },
        };
    }
  },
});

type Surface = SampleOf<'surface'>;

type Flip = Fault<Surface> & { readonly against: Against } & (
    | { readonly how: 'left'; readonly stay: Tone; readonly before: null }
    | { readonly how: 'drifted'; readonly stay: Tone; readonly drift: number; readonly before: Surface }
    | { readonly how: 'swapped'; readonly before: Surface }
  );

function leftTone(sample: Surface, stay: Tone, against: Against, mostDrift: number): Flip | null {
  if (sample.tone !== stay) return { sample, against, level: 'error', how: 'left', stay, before: null };
  const before = against.reference?.samePlace('surface');
  if (before?.tone !== stay) return null;
  const drift = Math.abs(sample.lightness - before.lightness);
  return drift <= mostDrift ? null : { sample, against, level: 'warning', how: 'drifted', stay, drift, before };
}

function swapped(
  sample: Surface,
  against: Against,
  { leastDifference, leastArea, mostChroma }: OptionsOf<typeof parameters>,
): Flip | null {
  const { reference, tone } = against;
  if (sample.fill === 'picture' || (sample.role !== 'box' && sample.role !== 'pseudo') || sample.area < leastArea) return null;
  const before = reference?.samePlace('surface');
  if (reference === null || before === undefined) return null;
  if (Math.max(sample.chroma, before.chroma) > mostChroma) return null;
  // What it lies on must be the page, not a neighbour of another tone.
  const onPage = toneOf(sample.aroundLightness) === tone && toneOf(before.aroundLightness) === reference.tone;
  if (!onPage || Math.min(sample.aroundShare ?? 1, before.aroundShare ?? 1) < MOSTLY) return null;
  const now = sample.lightness - sample.aroundLightness;
  const then = before.lightness - before.aroundLightness;
  const opposite = now * then < 0 && Math.min(Math.abs(now), Math.abs(then)) >= leastDifference;
  return opposite && sample.tone !== before.tone ? { sample, against, level: 'note', how: 'swapped', before } : null;
}

/** Share of the ring around a surface that must be one colour to be what it lies on (ours, as in separation). */
const MOSTLY = 0.75;

function toneOf(lightness: number): Tone {
  return lightness < MIDDLE_LIGHTNESS ? 'dark' : 'light';
}

function other(tone: Tone): Tone {
  return tone === 'dark' ? 'light' : 'dark';
}
