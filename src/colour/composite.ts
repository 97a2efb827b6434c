// Compositing and blending on gamma-encoded sRGB, as browsers do it (Compositing and Blending Level 1 §5, §9, §10; plus-lighter: Level 2).
import type { Color, Opaque } from './color.ts';
import { isOpaque, opaque } from './color.ts';

const BLEND_MODES = [
  'normal',
  'multiply',
  'screen',
  'overlay',
  'darken',
  'lighten',
  'color-dodge',
  'color-burn',
  'hard-light',
  'soft-light',
  'difference',
  'exclusion',
  'hue',
  'saturation',
  'color',
  'luminosity',
  'plus-lighter',
] as const;
export type BlendMode = (typeof BLEND_MODES)[number];

/** @param text a value of `mix-blend-mode`, as computed */
export function isBlendMode(text: string): text is BlendMode {
  return BLEND_MODES.some((mode) => mode === text);
}

type Triple = readonly [r: number, g: number, b: number];

/** Source-over. @returns opaque when the backdrop is */
export function over(source: Color, backdrop: Opaque): Opaque;
export function over(source: Color, backdrop: Color): Color;
export function over(source: Color, backdrop: Color): Color {
  const alpha = source.alpha + backdrop.alpha * (1 - source.alpha);
  if (alpha === 0) return { r: 0, g: 0, b: 0, alpha: 0 };
  const mix = (s: number, b: number): number => (source.alpha * s + backdrop.alpha * b * (1 - source.alpha)) / alpha;
  const mixed = { r: mix(source.r, backdrop.r), g: mix(source.g, backdrop.g), b: mix(source.b, backdrop.b) };
  return isOpaque(backdrop) ? opaque(mixed) : { ...mixed, alpha };
}

/** The colour with its alpha multiplied by `opacity`, 0–1. */
export function withOpacity(color: Color, opacity: number): Color {
  return { r: color.r, g: color.g, b: color.b, alpha: color.alpha * opacity };
}

/** Layers in painting order (bottom first) over an opaque ground. */
export function flatten(layers: readonly Color[], ground: Opaque): Opaque {
  return layers.reduce<Opaque>((below, layer) => over(layer, below), ground);
}

/** `source` painted on `backdrop` with a `mix-blend-mode`. @returns opaque when the backdrop is */
export function blendOver(mode: BlendMode, source: Color, backdrop: Opaque): Opaque;
export function blendOver(mode: BlendMode, source: Color, backdrop: Color): Color;
export function blendOver(mode: BlendMode, source: Color, backdrop: Color): Color {
  if (mode === 'normal') return over(source, backdrop);
  if (mode === 'plus-lighter') return plusLighter(source, backdrop);
  const b: Triple = [backdrop.r, backdrop.g, backdrop.b];
  const s: Triple = [source.r, source.g, source.b];
  const blended = isSeparable(mode) ? eachChannel(b, s, SEPARABLE[mode]) : NON_SEPARABLE[mode](b, s);
  const ab = backdrop.alpha;
  const mixed = {
    r: (1 - ab) * s[0] + ab * blended[0],
    g: (1 - ab) * s[1] + ab * blended[1],
    b: (1 - ab) * s[2] + ab * blended[2],
    alpha: source.alpha,
  };
  return over(mixed, backdrop);
}

function plusLighter(source: Color, backdrop: Color): Color {
  const alpha = Math.min(1, source.alpha + backdrop.alpha);
  if (alpha === 0) return { r: 0, g: 0, b: 0, alpha: 0 };
  const add = (s: number, b: number): number => Math.min(1, source.alpha * s + backdrop.alpha * b) / alpha;
  const sum = { r: add(source.r, backdrop.r), g: add(source.g, backdrop.g), b: add(source.b, backdrop.b) };
  return isOpaque(backdrop) ? opaque(sum) : { ...sum, alpha };
}

const screen = (b: number, s: number): number => b + s - b * s;
const hardLight = (b: number, s: number): number => (s <= 0.5 ? 2 * b * s : screen(b, 2 * s - 1));

function softLight(b: number, s: number): number {
  if (s <= 0.5) return b - (1 - 2 * s) * b * (1 - b);
  const d = b <= 0.25 ? ((16 * b - 12) * b + 4) * b : Math.sqrt(b);
  return b + (2 * s - 1) * (d - b);
}

function colorDodge(b: number, s: number): number {
  if (b === 0) return 0;
  return s >= 1 ? 1 : Math.min(1, b / (1 - s));
}

function colorBurn(b: number, s: number): number {
  if (b >= 1) return 1;
  return s <= 0 ? 0 : 1 - Math.min(1, (1 - b) / s);
}

/** B(Cb, Cs) of one channel. */
const SEPARABLE = {
  multiply: (b: number, s: number) => b * s,
  screen,
  overlay: (b: number, s: number) => hardLight(s, b),
  darken: Math.min,
  lighten: Math.max,
  'color-dodge': colorDodge,
  'color-burn': colorBurn,
  'hard-light': hardLight,
  'soft-light': softLight,
  difference: (b: number, s: number) => Math.abs(b - s),
  exclusion: (b: number, s: number) => b + s - 2 * b * s,
} satisfies Partial<Record<BlendMode, (b: number, s: number) => number>>;

type Separable = keyof typeof SEPARABLE;
type NonSeparable = Exclude<BlendMode, Separable | 'normal' | 'plus-lighter'>;

function isSeparable(mode: Separable | NonSeparable): mode is Separable {
  return mode in SEPARABLE;
}

function eachChannel(b: Triple, s: Triple, mix: (b: number, s: number) => number): Triple {
  return [mix(b[0], s[0]), mix(b[1], s[1]), mix(b[2], s[2])];
}

const lum = (c: Triple): number => 0.3 * c[0] + 0.59 * c[1] + 0.11 * c[2];
const sat = (c: Triple): number => Math.max(...c) - Math.min(...c);

function clipColor(c: Triple): Triple {
  const l = lum(c);
  const least = Math.min(...c);
  const most = Math.max(...c);
  const pull = (v: number): number => {
    let out = v;
    if (least < 0) out = l + ((out - l) * l) / (l - least);
    if (most > 1) out = l + ((out - l) * (1 - l)) / (most - l);
    return out;
  };
  return [pull(c[0]), pull(c[1]), pull(c[2])];
}

function setLum(c: Triple, l: number): Triple {
  const d = l - lum(c);
  return clipColor([c[0] + d, c[1] + d, c[2] + d]);
}

function setSat(c: Triple, s: number): Triple {
  const least = Math.min(...c);
  const range = sat(c);
  const scale = (v: number): number => (range === 0 ? 0 : ((v - least) * s) / range);
  return [scale(c[0]), scale(c[1]), scale(c[2])];
}

const NON_SEPARABLE: Readonly<Record<NonSeparable, (b: Triple, s: Triple) => Triple>> = {
  hue: (b, s) => setLum(setSat(s, sat(b)), lum(b)),
  saturation: (b, s) => setLum(setSat(b, sat(s)), lum(b)),
  color: (b, s) => setLum(s, lum(b)),
  luminosity: (b, s) => setLum(b, lum(s)),
};
