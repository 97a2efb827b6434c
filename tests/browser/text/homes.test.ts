// Text in unusual homes: measured as worked by hand, and as an independent look at the picture says.
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { TextSample } from '../../../src/samples/sample.ts';
import { parseColor } from '../../../src/colour/parse-color.ts';
import type { Harbour } from '../session/harness.ts';
import { captured, renderAll, serve, texts } from '../session/harness.ts';
import { HOMES } from './homes.table.ts';
import { differences, samplesOfCase, sheetOf } from './sheet.ts';

let harbour: Harbour;
let found: readonly TextSample[];
let picture: PNG;
let notes: readonly unknown[];

beforeAll(async () => {
  harbour = await serve({ '/homes': sheetOf(HOMES) });
  const [result] = await renderAll({ origin: harbour.origin, paths: ['/homes'] });
  found = texts(result);
  const { shot, notes: said } = captured(result);
  picture = PNG.sync.read(Buffer.from(shot));
  notes = said;
});
afterAll(() => harbour.close());

test('there are at least 40 homes, and the page came to rest', () => {
  expect(HOMES.length).toBeGreaterThanOrEqual(40);
  expect(notes).toEqual([]);
});

describe('by hand', () => {
  test.each(HOMES.map((one, n) => [one.name, n] as const))('%s', (_, n) => {
    const one = HOMES[n];
    expect(one === undefined ? ['no such case'] : differences(one, samplesOfCase(found, n)), one?.source).toEqual([]);
  });
});

type Rgb = readonly [red: number, green: number, blue: number];
const apart = (a: Rgb, b: Rgb): number => Math.max(...a.map((v, i) => Math.abs(v - (b[i] ?? 0))));
const rgbOf = (text: string): Rgb => {
  const { r, g, b } = parseColor(text);
  return [r * 255, g * 255, b * 255];
};

/** What prevails in a part of the picture, and the pixel furthest from it. */
function look([x, y, width, height]: TextSample['rect']): { readonly ground: Rgb; readonly furthest: Rgb } {
  const counts = new Map<string, { color: Rgb; count: number }>();
  for (let row = Math.ceil(y); row < Math.floor(y + height); row += 1) {
    for (let column = Math.ceil(x); column < Math.floor(x + width); column += 1) {
      const at = (row * picture.width + column) * 4;
      const color: Rgb = [picture.data[at] ?? 0, picture.data[at + 1] ?? 0, picture.data[at + 2] ?? 0];
      const known = counts.get(color.join()) ?? { color, count: 0 };
      counts.set(color.join(), { color, count: known.count + 1 });
    }
  }
  const colors = [...counts.values()].sort((a, b) => b.count - a.count);
  const ground = colors[0]?.color ?? [0, 0, 0];
  return { ground, furthest: colors.map(({ color }) => color).sort((a, b) => apart(b, ground) - apart(a, ground))[0] ?? ground };
}

/** Lines whose letters have one colour; thin strokes at 16 px and more reach their ink within this (codes; measured 20 at 20 px). */
const THIN = 40;

describe('by the picture', () => {
  test.each(HOMES.map((one, n) => [one.name, n] as const))('%s', (_, n) => {
    const samples = samplesOfCase(found, n).filter(
      ({ exempt, rect }) =>
        exempt === null && samplesOfCase(found, n).filter((other) => other.rect.join() === rect.join()).length === 1,
    );
    for (const { text, color, background, rect, fontSize } of samples) {
      const { ground, furthest } = look(rect);
      expect(apart(ground, rgbOf(background)), `what lies behind "${text}"`).toBeLessThanOrEqual(3);
      if (fontSize >= 16) expect(apart(furthest, rgbOf(color)), `the ink of "${text}"`).toBeLessThanOrEqual(THIN);
    }
  });
});
