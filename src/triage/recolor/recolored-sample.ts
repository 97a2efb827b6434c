// A sample as it would be with other colours: all that follows from them is worked out anew, so that a check can be asked about it.
import type { Opaque } from '../../colour/color.ts';
import { inSrgbGamut, opaque } from '../../colour/color.ts';
import { contrastRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import { cieLightness, MIDDLE_LIGHTNESS, toOklch } from '../../colour/lightness.ts';
import type { Paint } from '../../samples/paint.ts';
import type { Sample, SurfaceSample } from '../../samples/sample.ts';
import type { SeenPair } from './seen-pair.ts';

export interface Recolored {
  readonly pairs: readonly SeenPair[];
  /** Token that would paint it, when the change gives it one. */
  readonly painted?: string | undefined;
  /** Selector of the element whose filter would be gone. */
  readonly cleared?: string | undefined;
}

/** @param before colour of the fore as it was seen @param margin 1, or a factor that contrast has to clear the threshold by */
export function recoloredSample(
  before: Opaque,
  sample: Sample | null,
  { pairs, painted, cleared }: Recolored,
  margin: number,
): Sample | null {
  if (sample?.kind === 'picture')
    return { ...sample, filters: sample.filters.filter(({ selector }) => selector !== cleared), luma: [] };
  const pair = pairs[0];
  if (sample === null || pair === undefined) return null;
  const { fore, back } = pair;
  const paintOf = (paint: Paint): Paint =>
    painted === undefined ? paint : { ...paint, origin: { kind: 'token', property: painted, alpha: 1 } };
  const color = textOf(fore);
  const behind = textOf(back);
  switch (sample.kind) {
    case 'text': {
      const min = lowest(pairs) / margin;
      const max = pairs.length === 1 ? min : highest(pairs) / margin;
      const backgroundSpread = pairs.length === 1 ? [behind] : pairs.map((each) => textOf(each.back));
      return { ...sample, color, background: behind, backgroundSpread, contrast: { min, max }, ink: paintOf(sample.ink) };
    }
    case 'graphic':
      return { ...sample, color, against: behind, contrast: lowest(pairs) / margin, paint: paintOf(sample.paint) };
    case 'surface': {
      const { chroma, hueDeg } = toOklch(fore);
      const lightness = cieLightness(opaque(fore));
      return {
        ...sample,
        color,
        around: behind,
        lightness,
        aroundLightness: cieLightness(back),
        chroma,
        hueDeg,
        tone: toneOf(before, sample.tone, lightness),
        paint: paintOf(sample.paint),
      };
    }
    case 'shadow': {
      const chromaGain = toOklch(fore).chroma - toOklch(back).chroma;
      const lightnessGain = cieLightness(fore) - cieLightness(back);
      return { ...sample, color, beneath: behind, lightnessGain, chromaGain, paint: paintOf(sample.paint) };
    }
  }
}

/** As long as a surface stays on its side it keeps the tone it was given. */
function toneOf(fore: Opaque, given: SurfaceSample['tone'], lightness: number): SurfaceSample['tone'] {
  const crossed = cieLightness(fore) < MIDDLE_LIGHTNESS !== lightness < MIDDLE_LIGHTNESS;
  return crossed ? (lightness < MIDDLE_LIGHTNESS ? 'dark' : 'light') : given;
}

/** Contrast at the worst place. */
export function lowest(pairs: readonly SeenPair[]): number {
  let least = Infinity;
  for (const { fore, back } of pairs) least = Math.min(least, contrastRatio({ ink: fore, background: back }));
  return least;
}

function highest(pairs: readonly SeenPair[]): number {
  let most = 0;
  for (const { fore, back } of pairs) most = Math.max(most, contrastRatio({ ink: fore, background: back }));
  return most;
}

const texts = new Map<number, string>();

/** Few colours are tried, each in many places. */
function textOf(color: Opaque): string {
  if (!inSrgbGamut(color)) return toCssText(color);
  const code = codeOf(color);
  let text = texts.get(code);
  if (text === undefined) texts.set(code, (text = toCssText(color)));
  return text;
}

/** Checks see 8-bit colours. */
export function codeOf({ r, g, b }: Opaque): number {
  return (Math.round(r * 255) << 16) + (Math.round(g * 255) << 8) + Math.round(b * 255);
}
