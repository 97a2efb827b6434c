// One ramp in one theme, measured: what the checks of ramps look at.
import type { Opaque } from '../../colour/color.ts';
import { isOpaque } from '../../colour/color.ts';
import { relativeLuminance } from '../../colour/contrast-ratio.ts';
import type { Oklch } from '../../colour/lightness.ts';
import { lightnessOfLuminance, toOklch } from '../../colour/lightness.ts';
import type { Ramp, TokenGraph } from '../graph.ts';

export interface StepView {
  readonly path: string;
  readonly color: Opaque;
  /** Relative luminance of WCAG, 0–1. */
  readonly luminance: number;
  /** CIE L*, 0–100. */
  readonly lightness: number;
  readonly oklch: Oklch;
  /** The same as l, a, b. */
  readonly okLab: readonly [l: number, a: number, b: number];
}

export interface RampView {
  readonly ramp: Ramp;
  readonly theme: string;
  /** Opaque steps that exist in the theme, in order; the lightness of translucent ones depends on what is beneath. */
  readonly steps: readonly StepView[];
}

/** Graphs do not change, and several checks look at the same views. */
const MADE = new WeakMap<TokenGraph, readonly RampView[]>();

export function rampViews(graph: TokenGraph): readonly RampView[] {
  const known = MADE.get(graph);
  if (known !== undefined) return known;
  const views = makeViews(graph);
  MADE.set(graph, views);
  return views;
}

function makeViews(graph: TokenGraph): readonly RampView[] {
  return graph.ramps.flatMap((ramp) =>
    graph.themes.map((theme) => ({
      ramp,
      theme,
      steps: ramp.steps.flatMap((path) => {
        const color = graph.colorOf(path, theme);
        return color === null || !isOpaque(color) ? [] : [stepView(path, color)];
      }),
    })),
  );
}

export function stepView(path: string, color: Opaque): StepView {
  const luminance = relativeLuminance(color);
  const oklch = toOklch(color);
  const hue = (oklch.hueDeg * Math.PI) / 180;
  const okLab = [oklch.okLightness, oklch.chroma * Math.cos(hue), oklch.chroma * Math.sin(hue)] as const;
  return { path, color, luminance, lightness: lightnessOfLuminance(luminance), oklch, okLab };
}

/** Middle of the values; mean of the two middle ones of an even number; NaN of none. */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  return ((sorted[Math.ceil(middle) - 1] ?? NaN) + (sorted[Math.floor(middle)] ?? NaN)) / 2;
}

/** The value among them from which the others lie least far in sum, on the circle of hues; null of none. */
export function medianHue(hues: readonly number[], distance: (a: number, b: number) => number): number | null {
  let best: { hue: number; sum: number } | null = null;
  for (const hue of hues) {
    const sum = hues.reduce((total, other) => total + distance(hue, other), 0);
    if (best === null || sum < best.sum) best = { hue, sum };
  }
  return best?.hue ?? null;
}
