import Color from 'colorjs.io';
import { describe, expect, test } from 'vitest';
import { opaque } from '../../src/colour/color.ts';
import { luminanceRatio, relativeLuminance } from '../../src/colour/contrast-ratio.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { nearbyColors } from '../../src/triage/propose/nearby-colors.ts';
import { openRampTrend } from '../../src/triage/tokens/ramp-trend.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { EXAMPLE as RAMP } from '../tables/tokens/ramp-faults.ts';

/** Index of the one step that leaves its ramp's course; −1 for none. */
function oddStep(colors: readonly string[]): number {
  const steps = colors.map((_, at) => `ramp.${String(at)}`);
  const index = indexTable({
    themes: [{ name: 'noon', tone: 'light' }],
    reference: 0,
    tokens: colors.map((color, at) => ({
      path: `ramp.${String(at)}`,
      properties: [],
      definitions: [{ kind: 'literal', color: parseColor(color), declared: { id: String(at) } }],
    })),
    ramps: [{ name: 'ramp', steps }],
  });
  const trend = openRampTrend(index);
  return steps.findIndex((step) => trend.courseOf(0, index.tokenAt(step))?.odd === true);
}

describe('a step that leaves the course of its ramp', () => {
  test('a smooth ramp has none', () => {
    expect(oddStep(RAMP)).toBe(-1);
  });

  test.each([
    [3, '#5f98a8'],
    [4, '#93c1cf'],
    [5, '#1f586c'],
    [6, '#79a9ba'],
    [7, '#07303f'],
    [4, '#00b4d8'],
    [6, '#8a2f86'],
  ])('step %i as %s', (at, color) => {
    expect(oddStep(RAMP.with(at, color))).toBe(at);
  });

  test('its neighbours are not blamed for it', () => {
    for (const at of [2, 3, 4, 5, 6, 7, 8]) expect(oddStep(RAMP.with(at, '#f2f8fa'))).toBe(at);
  });

  test('a change that nobody sees is none', () => {
    // §8: #2f7086 → #2a6f86 is CIEDE2000 .61
    expect(oddStep(RAMP.with(6, '#2a6f86'))).toBe(-1);
  });
});

describe('colours near a faulty one', () => {
  const START = parseColor('#2a6f86');

  test('keep its hue, lie in the gamut, and come nearest first (OKLCH by a second library, colorjs.io)', () => {
    const hueOf = (text: string): number => new Color(text).to('oklch').coords[2] ?? Number.NaN;
    const hue = hueOf('#2a6f86');
    let before = 0;
    for (const { color, distance } of nearbyColors(START, false)) {
      expect(distance).toBeGreaterThanOrEqual(before);
      before = distance;
      const text = toCssText(color);
      expect(text).toMatch(/^#[\da-f]{6}$/);
      const [lightness = 0, chroma = 0] = new Color(text).to('oklch').coords.map((each) => each ?? 0);
      // Rounding to 8 bits turns the hue of what is nearly grey.
      if (chroma > 0.03 && lightness > 0.2) expect(Math.abs(hueOf(text) - hue)).toBeLessThan(4);
    }
  });

  test('reach from black to white, and paler ones on request', () => {
    const luminances = nearbyColors(START, false).map(({ color }) => relativeLuminance(opaque(color)));
    // published: black and white are 21 apart; the ends keep a trace of the hue
    expect(luminanceRatio(Math.min(...luminances), Math.max(...luminances))).toBeGreaterThan(20.5);
    const paler = nearbyColors(START, true).map(({ color }) => `${color.r} ${color.g} ${color.b}`);
    expect(paler.length).toBeGreaterThan(5 * luminances.length);
    expect(new Set(paler).size).toBe(paler.length);
  });
});
