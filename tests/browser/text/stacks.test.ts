// Random stacks of layers: what our formulas say equals what Chromium paints.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import { decodePng } from '../../../runner/driver/decode-png.ts';
import { paintChain } from '../../../runner/text/ground-color.ts';
import type { GroundPaint } from '../../../runner/text/ground-color.ts';
import { WHITE } from '../../../src/colour/color.ts';
import type { Color } from '../../../src/colour/color.ts';
import type { BlendMode } from '../../../src/colour/composite.ts';
import { offsetOf } from '../../../src/pictures/pixels.ts';

const SEED = 20310405;
const STACKS = 400;
const CELL = 12;
const ACROSS = 40;

/** Modes whose result does not jump where a channel differs by one code; dodge and burn divide by what may be one code. */
const SMOOTH: readonly BlendMode[] = [
  'normal',
  'multiply',
  'screen',
  'overlay',
  'darken',
  'lighten',
  'hard-light',
  'soft-light',
  'difference',
  'exclusion',
  'plus-lighter',
];
const ALL: readonly BlendMode[] = [...SMOOTH, 'color-dodge', 'color-burn', 'hue', 'saturation', 'color', 'luminosity'];

/** Whole codes and hundredths: what CSS text and the compositor can hold alike. */
const color = fc.record({ r: fc.nat(255), g: fc.nat(255), b: fc.nat(255), hundredths: fc.integer({ min: 5, max: 100 }) });
const layer = (modes: readonly BlendMode[]): fc.Arbitrary<Layer> =>
  fc.record({
    color: fc.option(color, { freq: 8 }),
    opacity: fc.oneof({ weight: 3, arbitrary: fc.constant(100) }, { weight: 1, arbitrary: fc.integer({ min: 10, max: 99 }) }),
    blend: fc.oneof(
      { weight: 2, arbitrary: fc.constant<BlendMode>('normal') },
      { weight: 1, arbitrary: fc.constantFrom(...modes) },
    ),
    isolates: fc.boolean(),
  });

interface Layer {
  readonly color: { readonly r: number; readonly g: number; readonly b: number; readonly hundredths: number } | null;
  readonly opacity: number;
  readonly blend: BlendMode;
  readonly isolates: boolean;
}

function sample(modes: readonly BlendMode[], most: number): readonly (readonly Layer[])[] {
  return fc.sample(fc.array(layer(modes), { minLength: 1, maxLength: most }), { seed: SEED, numRuns: STACKS });
}

function toHtml(stack: readonly Layer[]): string {
  const [first, ...rest] = stack;
  if (first === undefined) return '';
  const { color: own, opacity, blend, isolates } = first;
  const style = [
    'width:100%;height:100%',
    ...(own === null ? [] : [`background:rgb(${own.r} ${own.g} ${own.b}/${own.hundredths}%)`]),
    ...(opacity === 100 ? [] : [`opacity:${opacity}%`]),
    ...(blend === 'normal' ? [] : [`mix-blend-mode:${blend}`]),
    ...(isolates ? ['isolation:isolate'] : []),
  ];
  return `<div style="${style.join(';')}">${toHtml(rest)}</div>`;
}

function toPaint({ color: own, opacity, blend, isolates }: Layer): GroundPaint {
  const paint: Color | null = own === null ? null : { r: own.r / 255, g: own.g / 255, b: own.b / 255, alpha: own.hundredths / 100 };
  return { color: paint, opacity: opacity / 100, blend, isolates, filters: [] };
}

async function paint(stacks: readonly (readonly Layer[])[]): Promise<readonly (readonly [number, number, number])[]> {
  const browser = await launchBrowser(await findBrowser(process.env));
  try {
    const rows = Math.ceil(stacks.length / ACROSS);
    const page = await browser.newPage({ viewport: { width: ACROSS * CELL, height: rows * CELL } });
    const cells = stacks.map(
      (stack, n) =>
        `<div style="position:absolute;width:${CELL}px;height:${CELL}px;left:${(n % ACROSS) * CELL}px;top:${Math.floor(n / ACROSS) * CELL}px">${toHtml(stack)}</div>`,
    );
    await page.setContent(`<!doctype html><body style="margin:0">${cells.join('')}`);
    const pixels = await decodePng(await page.screenshot(), { leftPx: 0, topPx: 0 });
    return stacks.map((_, n) => {
      const i = offsetOf(pixels, (n % ACROSS) * CELL + CELL / 2, Math.floor(n / ACROSS) * CELL + CELL / 2);
      return [pixels.data[i] ?? 0, pixels.data[i + 1] ?? 0, pixels.data[i + 2] ?? 0];
    });
  } finally {
    await browser.close();
  }
}

function apart(stack: readonly Layer[], [red, green, blue]: readonly [number, number, number]): number {
  const { r, g, b } = paintChain(WHITE, stack.map(toPaint), null);
  return Math.max(Math.abs(r * 255 - red), Math.abs(g * 255 - green), Math.abs(b * 255 - blue));
}

/** Roundings of a stack: each layer is rounded when it is painted, each group again when it is laid down. */
const roundings = (stack: readonly Layer[]): number =>
  stack.reduce((sum, one) => sum + 1 + (one.opacity < 100 || one.blend !== 'normal' || one.isolates ? 1 : 0), 0);

test(`${String(STACKS)} stacks of up to 8 layers in smooth blend modes: within one code a rounding (seed ${String(SEED)})`, async () => {
  const stacks = sample(SMOOTH, 8);
  const painted = await paint(stacks);
  const off = stacks.flatMap((stack, n) => {
    const seen = painted[n] ?? [0, 0, 0];
    const distance = apart(stack, seen);
    return distance > roundings(stack) + 0.5 ? [{ distance, seen, html: toHtml(stack) }] : [];
  });
  expect(off).toEqual([]);
});

test(`${String(STACKS)} pairs of opaque layers in all blend modes: within 2 codes (seed ${String(SEED)})`, async () => {
  // Opaque on opaque: no division by a rounded alpha; what is left is the formula itself.
  const stacks = sample(ALL, 2).map((stack) =>
    stack.map((one) => ({
      ...one,
      opacity: 100,
      isolates: false,
      color: one.color === null ? null : { ...one.color, hundredths: 100 },
    })),
  );
  const painted = await paint(stacks);
  const off = stacks.flatMap((stack, n) => {
    const seen = painted[n] ?? [0, 0, 0];
    const distance = apart(stack, seen);
    return distance > 2 ? [{ distance, seen, html: toHtml(stack) }] : [];
  });
  expect(off).toEqual([]);
});
