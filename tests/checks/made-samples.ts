// Samples as the runner would make them, from a few facts.
import { opaque } from '../../src/colour/color.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { cieLightness, toOklch } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Check, GivenOptions, Reference, SampleOf } from '../../src/checks/check.ts';
import type { FindingDraft } from '../../src/samples/finding.ts';
import type { Paint } from '../../src/samples/paint.ts';
import type { Sample, SampleKind } from '../../src/samples/sample.ts';
import type { Tone, ViewRef } from '../../src/samples/view.ts';

export const VIEWPORT = { width: 1280, height: 800 };

export const view = (theme: string): ViewRef => ({
  id: `quay@${theme}/rest/desk`,
  page: 'quay',
  theme,
  state: 'rest',
  viewport: 'desk',
});

const place = { view: 'quay@dusk/rest/desk', selector: '#gauge', key: 'gauge', rect: [0, 0, 200, 100] } as const;
const literal = (property: string, color: string): Paint => ({ property, color, origin: { kind: 'literal' } });

export function surface(
  facts: Partial<SampleOf<'surface'>> & { readonly color: string; readonly around: string },
): SampleOf<'surface'> {
  const color = opaque(parseColor(facts.color));
  const { chroma, hueDeg } = toOklch(color);
  const lightness = cieLightness(color);
  const rect = facts.rect ?? place.rect;
  return {
    ...place,
    kind: 'surface',
    lightness,
    aroundLightness: cieLightness(opaque(parseColor(facts.around))),
    chroma,
    hueDeg,
    area: (rect[2] * rect[3]) / (VIEWPORT.width * VIEWPORT.height),
    tone: lightness < 50 ? 'dark' : 'light',
    fill: 'flat',
    role: 'box',
    paint: literal('background-color', facts.color),
    opacity: 1,
    layers: [],
    ...facts,
  };
}

export function textRun(
  facts: Partial<SampleOf<'text'>> & { readonly color: string; readonly background: string },
): SampleOf<'text'> {
  const ratio = contrastRatio({ ink: opaque(parseColor(facts.color)), background: opaque(parseColor(facts.background)) });
  return {
    ...place,
    kind: 'text',
    text: 'Quay 4',
    backgroundSpread: [facts.background],
    contrast: { min: ratio, max: ratio },
    fontSize: 16,
    fontWeight: 400,
    large: false,
    exempt: null,
    basis: 'computed',
    ink: literal('color', facts.color),
    inkOpacity: 1,
    layers: [],
    ...facts,
  };
}

export function graphic(
  facts: Partial<SampleOf<'graphic'>> & { readonly color: string; readonly against: string },
): SampleOf<'graphic'> {
  const contrast = contrastRatio({ ink: opaque(parseColor(facts.color)), background: opaque(parseColor(facts.against)) });
  return {
    ...place,
    kind: 'graphic',
    role: 'icon',
    contrast,
    exempt: null,
    paint: literal('fill', facts.color),
    layers: [],
    opacity: 1,
    ...facts,
  };
}

export function shadow(
  facts: Partial<SampleOf<'shadow'>> & { readonly color: string; readonly beneath: string },
): SampleOf<'shadow'> {
  const [peak, beneath] = [opaque(parseColor(facts.color)), opaque(parseColor(facts.beneath))];
  return {
    ...place,
    kind: 'shadow',
    property: 'box-shadow',
    lightnessGain: cieLightness(peak) - cieLightness(beneath),
    chromaGain: toOklch(peak).chroma - toOklch(beneath).chroma,
    blur: 12,
    spread: 0,
    offset: [0, 4],
    inset: false,
    index: 0,
    paint: literal('box-shadow', facts.color),
    ...facts,
  };
}

export function picture(facts: Partial<SampleOf<'picture'>>): SampleOf<'picture'> {
  return { ...place, kind: 'picture', medium: 'image', filters: [], luma: [], source: 'quay.jpg', detail: 0.9, ...facts };
}

export function referenceOf(samples: readonly Sample[], theme = 'noon', tone: Tone = 'light'): Reference {
  return {
    theme,
    tone,
    samples,
    find: <K extends SampleKind>(kind: K, key: string): SampleOf<K> | undefined =>
      samples.find((sample): sample is SampleOf<K> => sample.kind === kind && sample.key === key),
  };
}

/** The check on the dark theme `dusk`, compared with `noon`; null: nothing to compare with. */
export function judge(
  check: Check,
  samples: readonly Sample[],
  reference: readonly Sample[] | null,
  options: GivenOptions = {},
  tone: Tone = 'dark',
): readonly FindingDraft[] {
  return check
    .with(options)
    .run({ view: view('dusk'), tone, samples, reference: reference === null ? null : referenceOf(reference) });
}
