import fc from 'fast-check';
import pixelmatch from 'pixelmatch';
import { describe, expect, test } from 'vitest';
import { comparePictures, type CompareOptions } from '../../src/pictures/compare-pictures.ts';
import { matchPixels } from '../../src/pictures/match-pixels.ts';
import { rgbaOf, type RgbaPicture } from '../../src/pictures/rgba-picture.ts';
import { changed, drawScene, HARBOUR, pushedDown, type Scene } from './scene.ts';

const strict: CompareOptions = { threshold: 0.01, allowedPixels: 0 };
const harbour = drawScene(HARBOUR);

function flat(widthPx: number, heightPx: number, code: number): RgbaPicture {
  const data = new Uint8Array(widthPx * heightPx * 4).fill(code);
  for (let at = 3; at < data.length; at += 4) data[at] = 255;
  return { widthPx, heightPx, data };
}

const pictures = fc
  .record({ widthPx: fc.integer({ min: 1, max: 24 }), heightPx: fc.integer({ min: 1, max: 24 }) })
  .chain(({ widthPx, heightPx }) =>
    fc
      .uint8Array({ minLength: widthPx * heightPx * 4, maxLength: widthPx * heightPx * 4 })
      .map((data): RgbaPicture => ({ widthPx, heightPx, data: data.map((code, at) => (at % 4 === 3 ? 255 : code & 0xc0)) })),
  );

describe('comparing two pictures', () => {
  test('a picture is the same as itself and as its copy, by raw pixels', () => {
    fc.assert(
      fc.property(pictures, (picture) => {
        const copy = { ...picture, data: picture.data.slice() };
        expect(comparePictures(picture, copy, strict)).toMatchObject({
          verdict: 'same',
          by: 'pixels',
          changedPixels: 0,
          merged: null,
        });
      }),
    );
  });

  test('the verdict does not depend on which of the two is the accepted one', () => {
    fc.assert(
      fc.property(pictures, pictures, (a, b) => {
        const [one, two] = [comparePictures(a, b, strict), comparePictures(b, a, strict)];
        expect(one.verdict).toBe(two.verdict);
      }),
    );
  });

  test('every row of both pictures is accounted for once, in order', () => {
    fc.assert(
      fc.property(pictures, pictures, (a, b) => {
        const { merged } = comparePictures(a, b, strict);
        if (merged === null) return;
        let [accepted, current] = [0, 0];
        for (const band of merged.bands) {
          expect([band.acceptedTop, band.currentTop]).toEqual([accepted, current]);
          if (band.kind !== 'inserted') accepted += band.rows;
          if (band.kind !== 'removed') current += band.rows;
        }
        expect([accepted, current]).toEqual([a.heightPx, b.heightPx]);
      }),
    );
  });

  test('regions hold every changed pixel once and lie inside the pictures', () => {
    fc.assert(
      fc.property(pictures, pictures, (a, b) => {
        const { regions, changedPixels, verdict } = comparePictures(a, b, strict);
        if (verdict === 'same') return;
        expect(regions.reduce((sum, region) => sum + region.pixels, 0)).toBe(changedPixels);
        for (const { current, accepted, kind, pixels } of regions) {
          expect(current[1] + current[3]).toBeLessThanOrEqual(b.heightPx);
          expect(accepted[1] + accepted[3]).toBeLessThanOrEqual(a.heightPx);
          if (kind === 'changed') expect(pixels).toBeLessThanOrEqual(current[2] * Math.max(current[3], accepted[3]));
        }
      }),
    );
  });

  test('fewer pixels than allowed are put up with, one more is not', () => {
    const other = { ...harbour, data: harbour.data.slice() };
    // Two pixels of the bare page, far from any edge.
    for (const x of [300, 310]) other.data.set([200, 40, 40, 255], (250 * 320 + x) * 4);
    expect(comparePictures(harbour, other, { ...strict, allowedPixels: 2 })).toMatchObject({
      verdict: 'same',
      by: 'tolerance',
      changedPixels: 2,
    });
    expect(comparePictures(harbour, other, { ...strict, allowedPixels: 1 })).toMatchObject({
      verdict: 'changed',
      changedPixels: 2,
    });
  });

  test('what is masked in either picture is left out of both', () => {
    const lit = drawScene(changed(HARBOUR, { thing: (thing) => (thing.key === 'photo' ? { ...thing, photo: 2 } : thing) }));
    const area = { left: 232, top: 40, right: 304, bottom: 104 };
    expect(comparePictures(harbour, lit, strict).verdict).toBe('changed');
    for (const masks of [
      { accepted: [area], current: [] },
      { accepted: [], current: [area] },
      { accepted: [area], current: [area] },
    ]) {
      expect(comparePictures(harbour, lit, { ...strict, masks })).toMatchObject({ verdict: 'same', by: 'masks' });
    }
    // A mask that reaches beyond the picture, and one with nothing in it.
    const odd = [
      { left: -50, top: 40, right: 900, bottom: 104 },
      { left: 9, top: 9, right: 9, bottom: 9 },
    ];
    expect(comparePictures(harbour, lit, { ...strict, masks: { accepted: odd, current: [] } }).verdict).toBe('same');
    const half = { ...area, bottom: 72 };
    const { regions } = comparePictures(harbour, lit, { ...strict, masks: { accepted: [half], current: [half] } });
    expect(regions.every((region) => region.current[1] >= 72)).toBe(true);
  });

  test('pictures of another width agree where both have columns; the rest is changed', () => {
    const wide = flat(50, 20, 90);
    const narrow = flat(40, 20, 90);
    const { changedPixels, regions } = comparePictures(narrow, wide, strict);
    // derived: 10 columns of 20 rows
    expect(changedPixels).toBe(200);
    expect(regions).toMatchObject([{ current: [40, 0, 10, 20] }]);
  });

  test('bytes with and without alpha are the same picture', () => {
    const rgb = harbour.data.filter((_, at) => at % 4 !== 3);
    expect(Buffer.compare(rgbaOf({ ...harbour, data: rgb, channels: 3 }).data, harbour.data)).toBe(0);
    // A view that starts at an odd byte is copied, since pixels are read as whole numbers.
    const odd = new Uint8Array(harbour.data.length + 1);
    odd.set(harbour.data, 1);
    expect(comparePictures(rgbaOf({ ...harbour, data: odd.subarray(1), channels: 4 }), harbour, strict).verdict).toBe('same');
  });
});

describe('a page that grew or shrank', () => {
  const banner = [{ key: 'banner', kind: 'box', paint: '#7a3b12', rect: [0, 36, 320, 30] }] as const;
  const grown = drawScene(pushedDown(HARBOUR, 36, 30, banner));

  test('shows the rows that came in, not everything below them', () => {
    const { regions, changedPixels } = comparePictures(harbour, grown, strict);
    expect(regions).toMatchObject([{ kind: 'inserted', current: [0, 36, 320, 30], accepted: [0, 36, 320, 0] }]);
    expect(changedPixels).toBe(320 * 30);
  });

  test('shows the rows that went', () => {
    const { regions } = comparePictures(grown, harbour, strict);
    expect(regions).toMatchObject([{ kind: 'removed', current: [0, 36, 320, 0], accepted: [0, 36, 320, 30] }]);
  });

  test('shows what changed below the rows that came in, at its new place', () => {
    const recoloured = drawScene(
      pushedDown(
        changed(HARBOUR, { thing: (thing) => (thing.key === 'level-2' ? { ...thing, paint: '#ff8080' } : thing) }),
        36,
        30,
        banner,
      ),
    );
    const { regions } = comparePictures(harbour, recoloured, strict);
    expect(regions.map((region) => region.kind)).toEqual(['inserted', 'changed']);
    const [x, y, width, height] = regions[1]?.current ?? [0, 0, 0, 0];
    // `level-2` stands at (24, 178) and is pushed down by 30.
    expect(x).toBeGreaterThanOrEqual(24);
    expect(x + width).toBeLessThanOrEqual(24 + 77);
    expect(y).toBeGreaterThanOrEqual(208);
    expect(y + height).toBeLessThanOrEqual(208 + 13);
    expect(regions[1]?.accepted).toEqual([x, y - 30, width, height]);
  });

  test('of the same height, whose content was pushed down and cut off, is aligned too', () => {
    const cut: Scene = { ...pushedDown(HARBOUR, 36, 30, banner), heightPx: 300 };
    const { regions } = comparePictures(harbour, drawScene(cut), strict);
    expect(regions.map((region) => region.kind)).toEqual(['inserted', 'removed']);
  });

  test('rows that came in at any place are found as many as they are', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 299 }), fc.integer({ min: 1, max: 40 }), (at, rows) => {
        const data = new Uint8Array((300 + rows) * 320 * 4);
        data.set(harbour.data.subarray(0, at * 320 * 4));
        for (let y = 0; y < rows; y += 1) {
          for (let x = 0; x < 320; x += 1) data.set([250, (y * 7 + x) % 251, 10, 255], ((at + y) * 320 + x) * 4);
        }
        data.set(harbour.data.subarray(at * 320 * 4), (at + rows) * 320 * 4);
        const { regions, changedPixels } = comparePictures(harbour, { widthPx: 320, heightPx: 300 + rows, data }, strict);
        expect(changedPixels).toBe(rows * 320);
        expect(regions).toMatchObject([{ kind: 'inserted', current: [0, at, 320, rows] }]);
      }),
      { numRuns: 40 },
    );
  });
});

describe('tolerance', () => {
  // published: Kotsarenko & Ramos 2010, "Measuring perceived color difference using YIQ NTSC transmission color space in mobile
  // applications": greys d apart have the distance 0.5053·d² (i = q = 0); pixelmatch takes 35215 · threshold² for the limit.
  // derived: √(35215/0.5053) · 0.01 = 2.64; · 0.1 = 26.4
  test.each([
    [0.01, 2, 0],
    [0.01, 3, 100],
    [0.1, 26, 0],
    [0.1, 27, 100],
  ])('threshold %f: greys %i codes apart make %i of 100 pixels differ', (threshold, apart, differing) => {
    const mask = matchPixels(flat(10, 10, 100), flat(10, 10, 100 + apart), { threshold });
    expect(mask.reduce((sum, pixel) => sum + pixel, 0)).toBe(differing);
  });

  /** A slanting edge between two flat colours, anti-aliased by its exact coverage in each pixel's row. */
  function edge(offset: number, ink: number): RgbaPicture {
    const picture = flat(40, 40, 240);
    for (let y = 0; y < 40; y += 1) {
      for (let x = 0; x < 40; x += 1) {
        const share = Math.min(1, Math.max(0, 20 + offset + (y - 20) * 0.37 - x));
        picture.data.fill(Math.round(240 + (ink - 240) * share), (y * 40 + x) * 4, (y * 40 + x) * 4 + 3);
      }
    }
    return picture;
  }

  // second library: pixelmatch's README, "accurate anti-aliased pixels detection"; `includeAA` counts them. Detection after
  // V. Vysniauskas 2009, "Anti-aliased Pixel and Intensity Slope Detector".
  test('an edge that is anti-aliased another way passes, though pixelmatch sees pixels that differ', () => {
    const [a, b] = [edge(0, 20), edge(0.3, 20)];
    const count = (includeAA: boolean): number => pixelmatch(a.data, b.data, undefined, 40, 40, { threshold: 0.01, includeAA });
    expect(count(true)).toBeGreaterThan(20);
    expect(count(false)).toBe(0);
    expect(comparePictures(a, b, strict)).toMatchObject({ verdict: 'same', by: 'tolerance', changedPixels: 0 });
  });

  test('words in another colour do not pass for anti-aliasing, however thin and however near the colour', () => {
    for (const ink of ['#8fa6b2', '#76909e', '#829ba8', '#7f98ff', '#5f7885', '#d7e3ea']) {
      const other = drawScene(changed(HARBOUR, { tokens: { '--quiet': ink } }));
      const { regions } = comparePictures(harbour, other, strict);
      // Three cards, each with "level" and its number.
      expect(new Set(regions.map((region) => Math.floor((region.current[1] - 40) / 56)))).toEqual(new Set([0, 1, 2]));
    }
  });

  // law: the mask has as many pixels as pixelmatch counts without drawing anything
  test('finds what pixelmatch counts', () => {
    fc.assert(
      fc.property(pictures, fc.nat(), (a, seed) => {
        const b = { ...a, data: a.data.map((code, at) => (at % 4 === 3 || (at * 31 + seed) % 7 > 0 ? code : 255 - code)) };
        const found = matchPixels(a, b, { threshold: 0.05 }).reduce((sum, pixel) => sum + pixel, 0);
        expect(found).toBe(pixelmatch(a.data, b.data, undefined, a.widthPx, a.heightPx, { threshold: 0.05 }));
      }),
    );
  });

  test('what is found in a cut-out block is what is found in the whole picture', () => {
    // The comparison looks at changed rows and columns only; margins keep neighbours in sight.
    const other = drawScene(changed(HARBOUR, { tokens: { '--quiet': '#8fa6b2' } }));
    const whole = matchPixels(harbour, other, strict);
    expect(Buffer.compare(comparePictures(harbour, other, strict).merged?.mask ?? whole.subarray(1), whole)).toBe(0);
  });
});
