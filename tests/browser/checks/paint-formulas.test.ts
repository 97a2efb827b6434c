// The formulas that samples rest on, held against what Chromium paints: shadow profiles and filter functions.
import { describe, expect, test } from 'vitest';
import { decodePng } from '../../../runner/driver/decode-png.ts';
import { codeAt } from '../../../runner/painted/pixels.ts';
import type { Shot } from '../../../runner/painted/pixels.ts';
import { applyFilters, parseFilters } from '../../../src/colour/filters.ts';
import { parseColor } from '../../../src/colour/parse-color.ts';
import type { ShadowShape } from '../../../src/colour/shadow-profile.ts';
import { shadowShareAt } from '../../../src/colour/shadow-profile.ts';
import { captured, renderAll, serve } from '../session/harness.ts';

const FILTERS = [
  'invert(1)',
  'invert(1) hue-rotate(180deg)',
  'invert(.4)',
  'hue-rotate(90deg)',
  'hue-rotate(-45deg)',
  'grayscale(1)',
  'grayscale(.5)',
  'sepia(1)',
  'sepia(.3)',
  'saturate(2)',
  'saturate(.2)',
  'brightness(.5) invert(1)',
  'invert(1) brightness(.5)',
  'contrast(1.6)',
  'contrast(.4) brightness(1.3)',
] as const;
const COLORS = ['#e8a33d', '#1f6feb', '#2f7f86', '#ff0000'] as const;

interface Cast {
  readonly css: string;
  readonly shape: ShadowShape;
}

const cast = (width: number, height: number, css: string, shape: Omit<ShadowShape, 'width' | 'height'>): Cast => ({
  css: `width:${String(width)}px;height:${String(height)}px;box-shadow:${css} #000`,
  shape: { width, height, ...shape },
});
const SHADOWS: readonly Cast[] = [
  cast(200, 80, '0 0 16px', { sigma: 8, spread: 0, offset: [0, 0], inset: false }),
  cast(200, 80, '0 4px 12px', { sigma: 6, spread: 0, offset: [0, 4], inset: false }),
  cast(120, 40, '0 0 20px 4px', { sigma: 10, spread: 4, offset: [0, 0], inset: false }),
  cast(240, 100, '0 24px 48px -12px', { sigma: 24, spread: -12, offset: [0, 24], inset: false }),
  cast(200, 80, '6px 2px 8px', { sigma: 4, spread: 0, offset: [6, 2], inset: false }),
  cast(200, 80, 'inset 0 0 16px', { sigma: 8, spread: 0, offset: [0, 0], inset: true }),
];

async function picture(html: string): Promise<Shot> {
  const harbour = await serve({ '/': `<!doctype html><title>paint</title><link rel="icon" href="data:,">${html}` });
  try {
    const { shot } = captured((await renderAll({ origin: harbour.origin, paths: ['/'] }))[0]);
    return { ...(await decodePng(shot, { leftPx: 0, topPx: 0 })), scale: 1 };
  } finally {
    await harbour.close();
  }
}

describe('filters', () => {
  const cell = (color: string, filter: string, left: number, top: number): string =>
    `<div style="position:absolute;left:${String(left)}px;top:${String(top)}px;width:20px;height:20px;background:${color};filter:${filter}"></div>`;
  const cells = FILTERS.flatMap((filter, row) => COLORS.map((color, column) => ({ filter, color, row, column })));
  const painted = picture(
    `<body style="margin:0">${cells.map((c) => cell(c.color, c.filter, 10 + c.column * 30, 10 + c.row * 30)).join('')}`,
  );
  painted.catch(() => undefined);

  // derived: Filter Effects 1 §§ 6, 13 on gamma-encoded sRGB; Chromium rounds to 8 bits after each function, so 1 code, 2 for chains
  test.each(cells.map((c) => [c.color, c.filter, c] as const))('%s through %s', async (color, filter, { row, column }) => {
    const code = codeAt(await painted, 20 + column * 30, 20 + row * 30);
    const { r, g, b } = applyFilters(parseColor(color), parseFilters(filter));
    const most = parseFilters(filter).length === 1 ? 1.01 : 2.01;
    expect(Math.abs((code >> 16) - r * 255)).toBeLessThanOrEqual(most);
    expect(Math.abs(((code >> 8) & 255) - g * 255)).toBeLessThanOrEqual(most);
    expect(Math.abs((code & 255) - b * 255)).toBeLessThanOrEqual(most);
  });
});

describe('shadows', () => {
  const top = (i: number): number => 60 + i * 220;
  const painted = picture(
    `<body style="margin:0;background:#fff;height:${String(top(SHADOWS.length))}px">${SHADOWS.map(
      (one, i) => `<div style="position:absolute;left:100px;top:${String(top(i))}px;background:#fff;${one.css}"></div>`,
    ).join('')}`,
  );
  painted.catch(() => undefined);

  // derived: CSS Backgrounds 3 §6.1.2, a Gaussian with σ = blur/2; .02: Chromium blurs with three box filters, which the specification allows
  test.each(SHADOWS.map((one, i) => [one.css, i, one.shape] as const))('%s', async (_, i, shape) => {
    const { width, height, inset } = shape;
    const points = [0.5, 4.5, 8.5, 12.5].flatMap((out): (readonly [number, number])[] => {
      const away = inset ? -out : out;
      return [
        [0, height / 2 + away],
        [width / 2 + away, 0],
      ];
    });
    for (const [x, y] of points) {
      const code = codeAt(await painted, 100 + width / 2 + x, top(i) + height / 2 + y);
      expect(Math.abs(1 - (code & 255) / 255 - shadowShareAt(shape, [x, y]))).toBeLessThan(0.02);
    }
  });
});
