import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawDifference } from '../../src/pictures/draw-difference.ts';
import { driftFindings } from '../../src/pictures/drift-findings.ts';
import { viewDifference, type ViewDifference } from '../../src/pictures/view-difference.ts';
import type { Change, Explanation } from '../../src/samples/difference.ts';
import type { Rect } from '../../src/samples/view.ts';
import { captureOf, changed, codes, drawScene, GLYPH_WIDE, HARBOUR, pushedDown, type Scene, type Thing } from './scene.ts';

const options = { threshold: 0.01, allowedPixels: 0 };

const held = (before: Scene, now: Scene): ViewDifference =>
  viewDifference({ accepted: captureOf(before), current: captureOf(now), scale: 1 }, options);

/** Share of the changed pixels that explanations of a kind account for. */
function shareOf({ difference }: ViewDifference, kind: Change['kind']): number {
  const pixels = difference.explanations.filter(({ change }) => change.kind === kind).reduce((sum, one) => sum + one.pixels, 0);
  return pixels / difference.changedPixels;
}

const kinds = ({ difference }: ViewDifference): readonly Change['kind'][] =>
  difference.explanations.map(({ change }) => change.kind);
const first = ({ difference }: ViewDifference): Explanation | undefined => difference.explanations[0];
const thing = (key: string, to: (one: Thing) => Thing | null): Scene =>
  changed(HARBOUR, { thing: (one) => (one.key === key ? to(one) : one) });

describe('an unchanged view', () => {
  test('has no difference and no finding', () => {
    const { verdict, difference, merged } = held(HARBOUR, HARBOUR);
    expect({ verdict, difference, merged }).toEqual({
      ...{ verdict: 'same', merged: null },
      difference: { changedPixels: 0, totalPixels: 320 * 300, regions: [], explanations: [] },
    });
    expect(driftFindings(difference)).toEqual([]);
  });
});

describe('a masked place', () => {
  test('is left out, whichever capture masks it, and the edges half in it too', () => {
    const other = thing('photo', (one) => ({ ...one, photo: 2 }));
    // The photo stands at 232, 40 and is 72 × 64.
    const masks: readonly Rect[] = [[232.5, 40.5, 71, 63]];
    const [accepted, current] = [captureOf(HARBOUR), captureOf(other)];
    expect(viewDifference({ accepted, current: { ...current, masks }, scale: 1 }, options).verdict).toBe('same');
    expect(viewDifference({ accepted: { ...accepted, masks }, current, scale: 1 }, options).verdict).toBe('same');
    expect(viewDifference({ accepted, current, scale: 1 }, options).verdict).toBe('changed');
  });
});

describe('a token with another value', () => {
  test('explains every place it paints, by its name and both values', () => {
    const result = held(HARBOUR, changed(HARBOUR, { tokens: { '--quiet': '#a9bcc6' } }));
    expect(first(result)).toMatchObject({
      change: { kind: 'recoloured', token: '--quiet', property: 'color', from: '#7f98a5', to: '#a9bcc6' },
      ...{ places: 3 },
    });
    expect(shareOf(result, 'recoloured')).toBeGreaterThanOrEqual(0.98);
    expect(kinds(result)).toEqual(['recoloured']);
  });

  test('is told apart for a surface and for the words on it', () => {
    const result = held(HARBOUR, changed(HARBOUR, { tokens: { '--card': '#1d4458', '--mark': '#ffffff' } }));
    const names = result.difference.explanations.map(({ change }) => (change.kind === 'recoloured' ? change.token : change.kind));
    expect(names).toEqual(['--card', '--mark']);
    // The card's pixels: three cards of 200 × 48; words in --mark cover much less.
    expect(result.difference.explanations[0]?.pixels).toBeGreaterThan(3 * 200 * 48 * 0.8);
    expect(shareOf(result, 'recoloured')).toBeGreaterThanOrEqual(0.98);
  });

  test('explains places that no sample covers, by the pair of colours', () => {
    const result = held(HARBOUR, changed(HARBOUR, { tokens: { '--lamp': '#30c060' } }));
    expect(first(result)?.change).toEqual({
      kind: 'recoloured',
      token: '--lamp',
      property: 'color',
      from: '#e0a030',
      to: '#30c060',
    });
    expect(shareOf(result, 'recoloured')).toBe(1);
  });

  test('explains edges and veils that are mixed with what stayed', () => {
    // Half of the lamp's colour on the card, drawn by nothing that is sampled.
    const veil = (lamp: string): Scene => {
      const mixed = codes(lamp).map((code, at) => Math.round((code + (codes('#12303f')[at] ?? 0)) / 2));
      const paint = `#${mixed.map((code) => code.toString(16).padStart(2, '0')).join('')}`;
      return changed(HARBOUR, {
        tokens: { '--lamp': lamp },
        more: [{ key: 'veil', kind: 'box', paint, rect: [120, 70, 50, 12], unsampled: true }],
      });
    };
    const result = held(veil('#e0a030'), veil('#30c060'));
    expect(first(result)).toMatchObject({ change: { kind: 'recoloured', token: '--lamp' }, pixels: 3 * 36 + 50 * 12 });
    expect(kinds(result)).toEqual(['recoloured']);
  });

  test('goes before a colour that was only read from the picture', () => {
    const read = ({ samples, ...rest }: ReturnType<typeof captureOf>): ReturnType<typeof captureOf> => ({
      ...rest,
      samples: samples.map((sample) =>
        sample.kind === 'text'
          ? { ...sample, ink: { ...sample.ink, origin: { kind: 'unknown', why: 'read from pixels' } } }
          : sample,
      ),
    });
    const accepted = read(captureOf(HARBOUR));
    const current = read(captureOf(changed(HARBOUR, { tokens: { '--quiet': '#a9bcc6' } })));
    const { difference } = viewDifference({ accepted, current, scale: 1 }, options);
    expect(difference.explanations[0]?.change).toMatchObject({ kind: 'recoloured', token: '--quiet' });
    // Without the value of the token nothing is known but the colours.
    const blind = viewDifference({ accepted: { ...accepted, properties: [] }, current, scale: 1 }, options);
    expect(blind.difference.explanations.map(({ change }) => change)).toEqual([
      { kind: 'recoloured', token: null, property: 'color', from: '#7f98a5', to: '#a9bcc6' },
    ]);
  });

  test('has one name on all pages, and another value another name', () => {
    const group = (scene: Scene, ink: string): string =>
      first(held(scene, changed(scene, { tokens: { '--quiet': ink } })))?.group ?? '';
    const other = thing('foot', () => null);
    expect(group(HARBOUR, '#a9bcc6')).toBe(group(other, '#a9bcc6'));
    expect(group(HARBOUR, '#a9bcc6')).not.toBe(group(HARBOUR, '#a9bcc7'));
  });
});

describe('an element', () => {
  test('with a literal of another colour is recoloured without a token', () => {
    const literal = thing('foot', (one) => ({ ...one, paint: '#7f98a5' }));
    const result = held(literal, changed(literal, { thing: (one) => (one.key === 'foot' ? { ...one, paint: '#d04040' } : one) }));
    expect(first(result)?.change).toEqual({ kind: 'recoloured', token: null, property: 'color', from: '#7f98a5', to: '#d04040' });
    expect(first(result)).toMatchObject({ selector: '#foot', key: 'foot', places: 1 });
  });

  test('that uses another token is rewired', () => {
    const result = held(
      HARBOUR,
      thing('foot', (one) => ({ ...one, paint: '--lamp' })),
    );
    expect(first(result)?.change).toEqual({ kind: 'rewired', property: 'color', from: '--mark', to: '--lamp' });
    expect(kinds(result)).toEqual(['rewired']);
  });

  test('with other words has other text', () => {
    const result = held(
      HARBOUR,
      thing('level-1', (one) => ({ ...one, text: 'level 9.7 m' })),
    );
    expect(first(result)?.change).toEqual({ kind: 'text', from: 'level 1.4 m', to: 'level 9.7 m' });
    expect(kinds(result)).toEqual(['text']);
    expect(driftFindings(result.difference)).toMatchObject([
      { level: 'note', selector: '#level-1', measured: { text: 'level 9.7 m' } },
    ]);
  });

  test('whose key holds its words is the same element with other words', () => {
    const named = (scene: Scene): Scene =>
      changed(scene, {
        thing: (one) => (one.kind === 'words' ? { ...one, key: `${one.key} ${one.text ?? ''}`, selector: `#${one.key}` } : one),
      });
    const result = held(named(HARBOUR), named(thing('level-1', (one) => ({ ...one, text: 'level 9.7 m' }))));
    expect(kinds(result)).toEqual(['text']);
  });

  test('with more words has other text, and has not moved because it is wider', () => {
    const text = 'level 1.4 m, rising';
    const result = held(
      HARBOUR,
      thing('level-1', (one) => ({ ...one, text, rect: [24, 122, text.length * GLYPH_WIDE, 13] })),
    );
    expect(kinds(result)).toEqual(['text']);
  });

  test('that went elsewhere has moved, and is not recoloured', () => {
    const result = held(
      HARBOUR,
      thing('foot', (one) => ({ ...one, rect: [40, 270, one.rect[2], one.rect[3]] })),
    );
    expect(kinds(result)).toEqual(['moved']);
    expect(first(result)?.change).toEqual({ kind: 'moved', by: [24, 0], grew: [0, 0] });
  });

  test('that moved and got a new colour is told both', () => {
    const result = held(
      HARBOUR,
      changed(HARBOUR, {
        tokens: { '--card': '#1d4458' },
        thing: (one) => (one.key === 'foot' ? { ...one, rect: [40, 270, one.rect[2], one.rect[3]] } : one),
      }),
    );
    expect(kinds(result)).toEqual(['recoloured', 'moved']);
    expect(first(result)).toMatchObject({ change: { token: '--card' } });
  });

  test('that came is added, one that went is removed', () => {
    const lamp: Thing = { key: 'lantern', kind: 'box', paint: '--lamp', rect: [240, 200, 40, 30] };
    const added = held(HARBOUR, changed(HARBOUR, { more: [lamp] }));
    expect(first(added)).toMatchObject({
      change: { kind: 'added' },
      selector: '#lantern',
      pixels: 40 * 30,
      rect: [240, 200, 40, 30],
    });
    const removed = held(
      HARBOUR,
      thing('photo', () => null),
    );
    expect(first(removed)).toMatchObject({ change: { kind: 'removed' }, selector: '#photo' });
    expect(kinds(removed)).toEqual(['removed']);
  });

  test('that shows another picture is a changed picture', () => {
    const result = held(
      HARBOUR,
      thing('photo', (one) => ({ ...one, photo: 2 })),
    );
    expect(kinds(result)).toEqual(['picture']);
    expect(first(result)).toMatchObject({ selector: '#photo', key: 'photo' });
  });
});

describe('a banner that pushes the page down', () => {
  const banner: Thing = { key: 'banner', kind: 'box', paint: '--lamp', rect: [0, 36, 320, 30] };
  const words: Thing = {
    key: 'storm',
    kind: 'words',
    paint: '--ground',
    text: 'storm tide at six',
    rect: [16, 44, 17 * GLYPH_WIDE, 13],
  };

  test('is added; what it pushed has not moved', () => {
    const result = held(HARBOUR, pushedDown(HARBOUR, 36, 30, [banner, words]));
    expect(kinds(result)).toEqual(['added']);
    expect(first(result)).toMatchObject({ selector: '#banner', pixels: 320 * 30, rect: [0, 36, 320, 30] });
  });

  test('is removed the other way round', () => {
    const result = held(pushedDown(HARBOUR, 36, 30, [banner, words]), HARBOUR);
    expect(kinds(result)).toEqual(['removed']);
  });

  test('is told apart from a recolouring further down', () => {
    const result = held(HARBOUR, changed(pushedDown(HARBOUR, 36, 30, [banner, words]), { tokens: { '--quiet': '#a9bcc6' } }));
    expect(kinds(result)).toEqual(['added', 'recoloured']);
    expect(result.difference.explanations[1]).toMatchObject({ change: { token: '--quiet' }, places: 3 });
  });

  test('by a half pixel more than whole rows is one push, wherever rounding put the rows', () => {
    // What stands below is moved by 30.5 px: boxes came down by 30 rows, words by 31.
    const pushed = changed(pushedDown(HARBOUR, 36, 30, [banner]), {
      thing: (one) => {
        const [x, y, width, height] = one.rect;
        return one.kind === 'words' && y > 60 ? { ...one, rect: [x, y + 1, width, height] } : one;
      },
    });
    const current = captureOf(pushed);
    const samples = current.samples.map((sample) => {
      const [x, y, width, height] = sample.rect;
      if (y < 66 || sample.key === 'banner') return sample;
      return { ...sample, rect: [x, y + (sample.kind === 'text' ? -0.5 : 0.5), width, height] as const };
    });
    const { difference } = viewDifference({ accepted: captureOf(HARBOUR), current: { ...current, samples }, scale: 1 }, options);
    expect(new Set(difference.explanations.map(({ change }) => JSON.stringify(change)))).toEqual(
      new Set([JSON.stringify({ kind: 'added' }), JSON.stringify({ kind: 'moved', by: [0, 30.5], grew: [0, 0] })]),
    );
  });

  test('that leaves only room is a page that grew, explained by what grew', () => {
    const result = held(HARBOUR, pushedDown(HARBOUR, 270, 24));
    // Rows of bare page came in: the page's own surface is the one place that is larger.
    expect(result.difference.regions).toMatchObject([{ kind: 'inserted', pixels: 24 * 320 }]);
    expect(result.difference.explanations.reduce((sum, one) => sum + one.pixels, 0)).toBe(24 * 320);
  });
});

describe('what nothing explains', () => {
  test('is said to be unexplained, at the smallest place around it', () => {
    const result = held(HARBOUR, HARBOUR);
    expect(result.verdict).toBe('same');
    const spot = changed(HARBOUR, {
      more: [{ key: 'spot', kind: 'box', paint: '#c040c0', rect: [120, 100, 20, 9], unsampled: true }],
    });
    const noisy = held(HARBOUR, spot);
    expect(kinds(noisy)).toEqual(['unexplained']);
    expect(first(noisy)).toMatchObject({ selector: '#card-1', key: 'card-1', pixels: 180, rect: [120, 100, 20, 9] });
    expect(driftFindings(noisy.difference)).toMatchObject([{ level: 'warning', check: 'drift', measured: { pixels: 180 } }]);
  });

  test('is not put on a recolouring that lies around it', () => {
    const result = held(
      HARBOUR,
      changed(HARBOUR, {
        tokens: { '--card': '#1d4458' },
        more: [
          { key: 'spot', kind: 'box', paint: '#c040c0', rect: [60, 88, 60, 3], unsampled: true },
          { key: 'far', kind: 'box', paint: '#30ff30', rect: [240, 220, 50, 50], unsampled: true },
        ],
      }),
    );
    expect(kinds(result)).toEqual(['recoloured', 'unexplained']);
    expect(result.difference.explanations[1]).toMatchObject({ pixels: 2500, selector: '#page' });
  });
});

describe('explanations', () => {
  const changes = fc
    .record({
      quiet: fc.constantFrom('#7f98a5', '#a9bcc6', '#ff4040'),
      card: fc.constantFrom('#12303f', '#1d4458', '#404040'),
      photo: fc.constantFrom(1, 2),
      gone: fc.constantFrom('', 'foot', 'level-0', 'card-2', 'title'),
      move: fc.constantFrom(0, 1, 17),
      noise: fc.array(fc.tuple(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 0, max: 280 })), { maxLength: 4 }),
      push: fc.constantFrom(0, 12),
    })
    .map(({ quiet, card, photo, gone, move, noise, push }): Scene => {
      const scene = changed(HARBOUR, {
        tokens: { '--quiet': quiet, '--card': card },
        thing: (one) => {
          if (one.key === gone) return null;
          if (one.kind === 'photo') return { ...one, photo };
          if (one.key === 'name-1') return { ...one, rect: [one.rect[0] + move, one.rect[1], one.rect[2], one.rect[3]] };
          return one;
        },
        more: noise.map(([x, y], n) => ({
          key: `n${String(n)}`,
          kind: 'box',
          paint: '#808000',
          rect: [x, y, 9, 5],
          unsampled: true,
        })),
      });
      return push === 0 ? scene : pushedDown(scene, 36, push);
    });

  test('claim each changed pixel at most once, leave at most a tenth of a region unclaimed, and lie in the page', () => {
    fc.assert(
      fc.property(changes, (scene) => {
        const { difference, verdict } = held(HARBOUR, scene);
        const claimed = difference.explanations.reduce((sum, one) => sum + one.pixels, 0);
        expect(claimed).toBeLessThanOrEqual(difference.changedPixels);
        expect(claimed).toBeGreaterThanOrEqual(0.9 * difference.changedPixels);
        expect(verdict === 'changed').toBe(difference.explanations.length > 0);
        for (const { rect, pixels, places } of difference.explanations) {
          expect(rect[0] >= 0 && rect[1] >= 0 && rect[0] + rect[2] <= 320 && rect[1] + rect[3] <= scene.heightPx).toBe(true);
          expect(pixels).toBeGreaterThan(0);
          expect(places).toBeGreaterThan(0);
        }
        const findings = driftFindings(difference);
        expect(new Set(findings.map((finding) => finding.key)).size).toBe(difference.explanations.length);
      }),
      { numRuns: 60 },
    );
  });

  test('do not depend on the order of the samples', () => {
    fc.assert(
      fc.property(changes, fc.nat(), (scene, seed) => {
        const [accepted, current] = [captureOf(HARBOUR), captureOf(scene)];
        const shuffled = <T>(list: readonly T[]): readonly T[] =>
          list
            .map((item, at) => ({ item, turn: Math.imul(at + 1, seed | 1) % 1009 }))
            .sort((a, b) => a.turn - b.turn)
            .map(({ item }) => item);
        const other = viewDifference(
          {
            accepted: { ...accepted, samples: shuffled(accepted.samples) },
            current: { ...current, samples: shuffled(current.samples) },
            scale: 1,
          },
          options,
        );
        expect(other.difference).toEqual(viewDifference({ accepted, current, scale: 1 }, options).difference);
      }),
      { numRuns: 40 },
    );
  });

  test('are told in CSS px when the screen has more pixels', () => {
    const double = (scene: Scene): Scene => ({
      ...scene,
      widthPx: scene.widthPx * 2,
      heightPx: scene.heightPx * 2,
      things: scene.things
        .filter(({ kind }) => kind === 'box')
        .map((one) => ({ ...one, rect: [one.rect[0] * 2, one.rect[1] * 2, one.rect[2] * 2, one.rect[3] * 2] })),
    });
    const capture = (scene: Scene) => {
      const { samples, properties, picture } = captureOf(double(scene));
      const inCss = samples.map((sample) => ({
        ...sample,
        rect: [sample.rect[0] / 2, sample.rect[1] / 2, sample.rect[2] / 2, sample.rect[3] / 2] as const,
      }));
      return { samples: inCss, properties, picture, masks: [] };
    };
    const lantern: Thing = { key: 'lantern', kind: 'box', paint: '--lamp', rect: [240, 200, 40, 30] };
    const { difference } = viewDifference(
      { accepted: capture(HARBOUR), current: capture(changed(HARBOUR, { more: [lantern] })), scale: 2 },
      options,
    );
    expect(difference.explanations).toMatchObject([{ change: { kind: 'added' }, rect: [240, 200, 40, 30], pixels: 80 * 60 }]);
  });
});

describe('the picture of a difference', () => {
  const at = (
    { data, widthPx }: { readonly data: Uint8Array; readonly widthPx: number },
    x: number,
    y: number,
  ): readonly number[] => [...data.subarray((y * widthPx + x) * 4, (y * widthPx + x) * 4 + 3)];

  test('shows what changed strongly, the rest faintly, and rows that came in or went at their place', () => {
    const now = pushedDown(
      thing('photo', () => null),
      36,
      30,
      [{ key: 'banner', kind: 'box', paint: '#ffffff', rect: [0, 36, 320, 30] }],
    );
    const [accepted, current] = [drawScene(HARBOUR), drawScene(now)];
    const { merged } = held(HARBOUR, now);
    if (merged === null) throw new Error('the pictures differ');
    const drawn = drawDifference(accepted, current, merged);
    expect([drawn.widthPx, drawn.heightPx]).toEqual([320, 330]);
    expect(at(drawn, 250, 90)).toEqual([122, 24, 140]);
    // derived: 255 − (255 − code) · 0.18 of the page's #0b1a24
    expect(at(drawn, 310, 10)).toEqual(codes('#0b1a24').map((code) => Math.trunc(255 - (255 - code) * 0.18)));
    // derived: white and the tint of rows that came in, 55 to 45
    expect(at(drawn, 5, 50)).toEqual([20, 120, 120].map((code) => Math.trunc(255 * 0.55 + code * 0.45)));
  });
});
