import { environment, toCam16 } from 'colorjs.io/src/spaces/cam16.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { D65, toXyz } from '../../src/colour/appearance.ts';
import { opaque } from '../../src/colour/color.ts';
import { glareOn } from '../../src/colour/glare.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { anyOpaque } from './arbitraries.ts';

const on = (color: string, ground: string): ReturnType<typeof glareOn> =>
  glareOn({ color: opaque(parseColor(color)), ground: opaque(parseColor(ground)) });

describe('glare on a ground', () => {
  // second library: colorjs.io's CAM16, its background the luminance of the ground
  test('is lightness and half the colourfulness of CAM16 on that ground', () => {
    fc.assert(
      fc.property(anyOpaque, anyOpaque, (color, ground) => {
        const white: [number, number, number] = [D65[0] / 100, 1, D65[2] / 100];
        const seen = environment(white, 16, Math.max(1, toXyz(ground)[1]), 'average', false);
        const [x, y, z] = toXyz(color);
        const theirs = toCam16([x / 100, y / 100, z / 100], seen);
        const ours = glareOn({ color, ground });
        expect(ours.lightness).toBeCloseTo(theirs.J, 6);
        expect(ours.colourfulness).toBeCloseTo(theirs.M, 6);
        expect(ours.strength).toBeCloseTo(theirs.J + theirs.M / 2, 6);
      }),
      { seed: 5203, numRuns: 300 },
    );
  });

  // published direction (Li and others 2017): a darker background makes every colour lighter and more colourful
  test.each(['#ff0000', '#00ff00', '#0000ff', '#ff00ff', '#00e5ff', '#ffb300'])('%s glares more the darker the ground', (color) => {
    const strengths = ['#ffffff', '#808080', '#2a2f38', '#1b1b1b'].map((ground) => on(color, ground).strength);
    expect([...strengths].sort((one, other) => one - other)).toEqual(strengths);
    expect(on(color, '#1b1b1b').colourfulness).toBeGreaterThan(on(color, '#ffffff').colourfulness * 1.3);
  });

  // ours: a screen is never darker than its reflections, 1 % of white
  test('below 1 % of white, a darker ground changes nothing', () => {
    expect(on('#00e5ff', '#000000')).toEqual(on('#00e5ff', '#121212'));
  });

  test('greys have next to no colourfulness', () => {
    expect(on('#c0c0c0', '#121212').colourfulness).toBeLessThan(3);
  });
});
