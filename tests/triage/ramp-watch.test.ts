// A repair may not leave its ramp worse ordered than it was. The quick look at neighbours is held against the checks of ramps themselves.
import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import { nearbyColors } from '../../src/triage/propose/nearby-colors.ts';
import { openRampTrend } from '../../src/triage/tokens/ramp-trend.ts';
import { openRampWatch } from '../../src/triage/tokens/ramp-watch.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { seeded } from './seeded.ts';
import { EXAMPLE } from '../tables/tokens/ramp-faults.ts';

const RAMP = EXAMPLE.slice(0, 10);

/** One ramp in two themes, each theme's steps as given. */
function watchOf(noon: readonly string[], dusk: readonly string[]) {
  const steps = noon.map((_, at) => `ramp.${at}`);
  const index = indexTable({
    themes: [
      { name: 'noon', tone: 'light' },
      { name: 'dusk', tone: 'dark' },
    ],
    reference: 0,
    tokens: steps.map((path, at) => ({
      path,
      properties: [],
      definitions: [noon, dusk].map((colors, theme) => ({
        kind: 'literal' as const,
        color: parseColor(colors[at] ?? ''),
        declared: { id: `${path} ${theme}` },
      })),
    })),
    ramps: [{ name: 'ramp', steps }],
  });
  return { index, watch: openRampWatch(index, openRampTrend(index)) };
}

describe('a value that is to become a step of its ramp', () => {
  const { index, watch } = watchOf(RAMP, RAMP.toReversed());
  const middle = index.tokenAt('ramp.5');

  test('between its neighbours it stays in order', () => {
    expect(watch.disorders(middle, [0], parseColor('#458597'))).toBe(false);
    expect(watch.spoils(middle, [0], parseColor('#458597'))).toBe(false);
  });

  test.each(['#93c1cf', '#16465a'])('beyond a neighbour it does not: %s', (text) => {
    expect(watch.disorders(middle, [0], parseColor(text))).toBe(true);
    expect(watch.spoils(middle, [0], parseColor(text))).toBe(true);
  });

  test('an end says itself which way the ramp goes', () => {
    expect(watch.disorders(index.tokenAt('ramp.0'), [0], parseColor('#000000'))).toBe(false);
  });

  test('a disorder that was there before is not made by it', () => {
    const swapped = watchOf(RAMP.with(4, '#47889c').with(5, '#68a4b6'), RAMP);
    const step = swapped.index.tokenAt('ramp.5');
    expect(swapped.watch.disorders(step, [0], parseColor('#669fb1'))).toBe(false);
    expect(swapped.watch.spoils(step, [0], parseColor('#669fb1'))).toBe(false);
  });
});

test('the quick look never says more than the checks of ramps do', () => {
  const seed = seeded(20_261);
  const random = (): number => seed.next();
  const shuffled = (): readonly string[] =>
    RAMP.map((text) => (random() < 0.15 ? (RAMP[Math.floor(random() * RAMP.length)] ?? text) : text));
  let disorders = 0;
  let spoilt = 0;
  for (let round = 0; round < 12; round += 1) {
    const { index, watch } = watchOf(shuffled(), random() < 0.5 ? shuffled() : shuffled().toReversed());
    for (const themes of [[0], [1], [0, 1]]) {
      const token = index.tokenAt(`ramp.${Math.floor(random() * RAMP.length)}`);
      const start = index.colorOf(themes[0] ?? 0, token);
      for (const near of start === null ? [] : nearbyColors(start, false)) {
        const spoils = watch.spoils(token, themes, near.color);
        if (spoils) spoilt += 1;
        if (!watch.disorders(token, themes, near.color)) continue;
        disorders += 1;
        expect(spoils, `${index.pathOf(token)} in ${themes.join()}: ${JSON.stringify(near.color)}`).toBe(true);
      }
    }
  }
  // It is worth asking: most of what spoils a ramp is out of order.
  expect(disorders).toBeGreaterThan(spoilt / 2);
});
