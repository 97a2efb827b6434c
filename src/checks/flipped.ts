// A surface that left the tone it must keep, or (without configuration) a dark surface of the light reference theme that became
// a light one in a dark theme, and the other way round.
import type { FindingDraft } from '../samples/finding.ts';
import type { Tone } from '../samples/view.ts';
import type { OptionsOf, Reference, SampleOf } from './check.ts';
import { defineCheck, findingAt, samplesOf } from './check.ts';
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
  find: ({ view, tone, samples, reference }, options) =>
    samplesOf(samples, 'surface').flatMap((sample) =>
      sample.stay === undefined
        ? swapped(sample, { theme: view.theme, tone }, reference, options)
        : leftTone(sample, sample.stay, reference, options.mostDrift),
    ),
});

function leftTone(
  sample: SampleOf<'surface'>,
  stay: Tone,
  reference: Reference | null,
  mostDrift: number,
): readonly FindingDraft[] {
  const measured = { color: sample.color, lightness: rounded(sample.lightness, 1), tone: sample.tone };
  if (sample.tone !== stay) {
    return [
      findingAt(sample, {
        check: 'flipped',
        level: 'error',
        message: `${nameOf(sample)} should stay ${stay} in every theme; here it is ${sample.tone} (${sample.color}, L* ${showLightness(sample.lightness)}).`,
        measured,
        expected: { tone: stay },
      }),
    ];
  }
  const before = reference?.find('surface', sample.key);
  if (before?.tone !== stay) return [];
  const drift = Math.abs(sample.lightness - before.lightness);
  if (drift <= mostDrift) return [];
  return [
    findingAt(sample, {
      check: 'flipped',
      level: 'warning',
      message: `${nameOf(sample)} stays ${stay}, but its lightness is ${showLightness(drift)} L* off: ${sample.color} here, ${before.color} in ${reference?.theme ?? ''}; at most ${showLightness(mostDrift)} would look the same.`,
      measured: { ...measured, lightnessInReference: rounded(before.lightness, 1) },
      expected: { tone: stay, drift: mostDrift },
    }),
  ];
}

function swapped(
  sample: SampleOf<'surface'>,
  { theme, tone }: { readonly theme: string; readonly tone: Tone },
  reference: Reference | null,
  { leastDifference, leastArea, mostChroma }: OptionsOf<typeof parameters>,
): readonly FindingDraft[] {
  const before = reference?.find('surface', sample.key);
  if (reference === null || before === undefined || sample.area < leastArea) return [];
  if (Math.max(sample.chroma, before.chroma) > mostChroma) return [];
  if (sample.fill === 'picture' || (sample.role !== 'box' && sample.role !== 'pseudo')) return [];
  // What it lies on must be the page, not a neighbour of another tone.
  const onPage = toneOf(sample.aroundLightness) === tone && toneOf(before.aroundLightness) === reference.tone;
  if (!onPage || Math.min(sample.aroundShare ?? 1, before.aroundShare ?? 1) < MOSTLY) return [];
  const now = sample.lightness - sample.aroundLightness;
  const then = before.lightness - before.aroundLightness;
  const opposite = now * then < 0 && Math.min(Math.abs(now), Math.abs(then)) >= leastDifference;
  if (!opposite || sample.tone === before.tone) return [];
  return [
    findingAt(sample, {
      check: 'flipped',
      level: 'note',
      message: `${nameOf(sample)} is ${before.tone} on a ${other(before.tone)} page in ${reference.theme} (${before.color}) and became ${sample.tone} on a ${other(sample.tone)} page in ${theme} (${sample.color}); if it should keep its tone, list it under "stay".`,
      measured: {
        color: sample.color,
        lightness: rounded(sample.lightness, 1),
        lightnessInReference: rounded(before.lightness, 1),
      },
      expected: { tone: before.tone },
    }),
  ];
}

/** Share of the ring around a surface that must be one colour to be what it lies on (ours, as in separation). */
const MOSTLY = 0.75;

function toneOf(lightness: number): Tone {
  return lightness < 50 ? 'dark' : 'light';
}

function other(tone: Tone): Tone {
  return tone === 'dark' ? 'light' : 'dark';
}
