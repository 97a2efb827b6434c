// What CSS filter functions do to a flat colour, and whether a chain of them inverts or turns hues (Filter Effects 1 §§ 6, 13).
import type { Color, Opaque } from './color.ts';
import { fromCodes } from './color.ts';
import { cieLightness, toOklch } from './lightness.ts';

/** Functions that act on colour; the rest (blur, drop-shadow, url) leaves the middle of a flat area alone, or cannot be told. */
export type ColourFilter = 'brightness' | 'contrast' | 'grayscale' | 'hue-rotate' | 'invert' | 'opacity' | 'saturate' | 'sepia';

export interface FilterFunction {
  readonly name: string;
  /** Number (percentages as 0–1), degrees for `hue-rotate`; null for functions that are not colour filters. */
  readonly amount: number | null;
}

type Matrix = readonly [MatrixRow, MatrixRow, MatrixRow];
type MatrixRow = readonly [r: number, g: number, b: number];

const isColourFilter = (name: string): name is ColourFilter => name in APPLY;

/** Amount of a function written without one, §6: 1, and 0 for hue-rotate. */
const missingAmount = (name: ColourFilter): number => (name === 'hue-rotate' ? 0 : 1);

/** @param text a `filter` value, computed or written: `none`, `invert(1) hue-rotate(180deg)` … @returns in order of application */
export function parseFilters(text: string): readonly FilterFunction[] {
  const found: FilterFunction[] = [];
  let rest = text.trim();
  for (let open = rest.indexOf('('); open !== -1; open = rest.indexOf('(')) {
    const close = closingParenthesis(rest, open);
    const name = rest.slice(0, open).trim().toLowerCase();
    found.push({ name, amount: isColourFilter(name) ? parseAmount(name, rest.slice(open + 1, close).trim()) : null });
    rest = rest.slice(close + 1);
  }
  return found;
}

function closingParenthesis(text: string, open: number): number {
  let depth = 0;
  for (let i = open; i < text.length; i += 1) {
    if (text[i] === '(') depth += 1;
    if (text[i] === ')') depth -= 1;
    if (depth === 0) return i;
  }
  return text.length;
}

const DEGREES: Readonly<Record<string, number>> = { deg: 1, grad: 0.9, rad: 180 / Math.PI, turn: 360, '': 1, '%': 0.01 };

function parseAmount(name: ColourFilter, text: string): number {
  if (text === '') return missingAmount(name);
  const parts = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*([a-z%]*)$/i.exec(text);
  const factor = DEGREES[parts?.[2]?.toLowerCase() ?? ''];
  return parts === null || factor === undefined ? missingAmount(name) : Number(parts[1]) * factor;
}

/** hue-rotate, §13.1 (feColorMatrix type hueRotate). */
export function hueRotateMatrix(degrees: number): Matrix {
  const cos = Math.cos((degrees * Math.PI) / 180);
  const sin = Math.sin((degrees * Math.PI) / 180);
  return [
    [0.213 + cos * 0.787 - sin * 0.213, 0.715 - cos * 0.715 - sin * 0.715, 0.072 - cos * 0.072 + sin * 0.928],
    [0.213 - cos * 0.213 + sin * 0.143, 0.715 + cos * 0.285 + sin * 0.14, 0.072 - cos * 0.072 - sin * 0.283],
    [0.213 - cos * 0.213 - sin * 0.787, 0.715 - cos * 0.715 + sin * 0.715, 0.072 + cos * 0.928 + sin * 0.072],
  ];
}

/** saturate, §13.1 (feColorMatrix type saturate); grayscale(a) is saturate(1 − a) up to the digits printed there. */
function saturateMatrix(s: number): Matrix {
  return [
    [0.213 + 0.787 * s, 0.715 - 0.715 * s, 0.072 - 0.072 * s],
    [0.213 - 0.213 * s, 0.715 + 0.285 * s, 0.072 - 0.072 * s],
    [0.213 - 0.213 * s, 0.715 - 0.715 * s, 0.072 + 0.928 * s],
  ];
}

function grayscaleMatrix(amount: number): Matrix {
  const s = 1 - amount;
  return [
    [0.2126 + 0.7874 * s, 0.7152 - 0.7152 * s, 0.0722 - 0.0722 * s],
    [0.2126 - 0.2126 * s, 0.7152 + 0.2848 * s, 0.0722 - 0.0722 * s],
    [0.2126 - 0.2126 * s, 0.7152 - 0.7152 * s, 0.0722 + 0.9278 * s],
  ];
}

function sepiaMatrix(amount: number): Matrix {
  const s = 1 - amount;
  return [
    [0.393 + 0.607 * s, 0.769 - 0.769 * s, 0.189 - 0.189 * s],
    [0.349 - 0.349 * s, 0.686 + 0.314 * s, 0.168 - 0.168 * s],
    [0.272 - 0.272 * s, 0.534 - 0.534 * s, 0.131 + 0.869 * s],
  ];
}

const clamp = (v: number): number => Math.min(1, Math.max(0, v));

function eachChannel(color: Color, change: (v: number) => number): Color {
  return { r: clamp(change(color.r)), g: clamp(change(color.g)), b: clamp(change(color.b)), alpha: color.alpha };
}

function multiply(color: Color, matrix: Matrix): Color {
  const row = ([r, g, b]: MatrixRow): number => clamp(r * color.r + g * color.g + b * color.b);
  return { r: row(matrix[0]), g: row(matrix[1]), b: row(matrix[2]), alpha: color.alpha };
}

/** On gamma-encoded sRGB, clamped after each function, as the shorthand functions are defined. */
const APPLY = {
  brightness: (color, amount) => eachChannel(color, (v) => v * Math.max(0, amount)),
  contrast: (color, amount) => eachChannel(color, (v) => (v - 0.5) * Math.max(0, amount) + 0.5),
  grayscale: (color, amount) => multiply(color, grayscaleMatrix(clamp(amount))),
  'hue-rotate': (color, amount) => multiply(color, hueRotateMatrix(amount)),
  invert: (color, amount) => eachChannel(color, (v) => v + clamp(amount) * (1 - 2 * v)),
  opacity: (color, amount) => ({ ...color, alpha: color.alpha * clamp(amount) }),
  saturate: (color, amount) => multiply(color, saturateMatrix(Math.max(0, amount))),
  sepia: (color, amount) => multiply(color, sepiaMatrix(clamp(amount))),
} satisfies Record<ColourFilter, (color: Color, amount: number) => Color>;

/** The colour after all functions, innermost first. */
export function applyFilters(color: Color, functions: readonly FilterFunction[]): Color {
  return functions.reduce(
    (now, { name, amount }) => (amount !== null && isColourFilter(name) ? APPLY[name](now, amount) : now),
    color,
  );
}

export interface FilterEffect {
  /** White comes out darker than black, or did until the contrast between them was lost. */
  readonly inverting: boolean;
  /** How far hues are turned on average, degrees 0–180; 0 when no common turn can be told (grey, sepia). */
  readonly hueTurnDeg: number;
}

/** Six middling colours around the hue circle, away from the faces of the cube so that little clips (ours). */
const PROBES: readonly Opaque[] = [
  fromCodes(168, 100, 100),
  fromCodes(160, 150, 90),
  fromCodes(100, 160, 100),
  fromCodes(96, 156, 160),
  fromCodes(100, 104, 168),
  fromCodes(160, 100, 156),
];
/** Below this OKLCH chroma a hue means nothing. */
const LEAST_CHROMA = 0.02;
/** Turns of the probes must agree this well (length of their mean vector, 0–1) to count as one. */
const LEAST_AGREEMENT = 0.7;
/** L* that must be left between black and white for their order to count. */
const LEAST_RANGE = 5;

/** What a whole chain does; two inversions cancel, a hue turn after an inversion is judged by what comes out. */
export function filterEffect(functions: readonly FilterFunction[]): FilterEffect {
  const out = (color: Opaque): Opaque => ({ ...applyFilters(color, functions), alpha: 1 });
  const range = cieLightness(out(fromCodes(255, 255, 255))) - cieLightness(out(fromCodes(0, 0, 0)));
  return { inverting: range <= -LEAST_RANGE, hueTurnDeg: hueTurn(out) };
}

function hueTurn(out: (color: Opaque) => Opaque): number {
  const turns = PROBES.flatMap((probe) => {
    const after = toOklch(out(probe));
    return after.chroma < LEAST_CHROMA ? [] : [((after.hueDeg - toOklch(probe).hueDeg) * Math.PI) / 180];
  });
  if (turns.length < PROBES.length / 2) return 0;
  const x = turns.reduce((sum, turn) => sum + Math.cos(turn), 0) / turns.length;
  const y = turns.reduce((sum, turn) => sum + Math.sin(turn), 0) / turns.length;
  return Math.hypot(x, y) < LEAST_AGREEMENT ? 0 : Math.abs((Math.atan2(y, x) * 180) / Math.PI);
}
