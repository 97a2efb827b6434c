import Color from 'colorjs.io';
import { describe, expect, test } from 'vitest';
import { recolorView } from '../../src/forecast/recolor-view.ts';
import { openRootFilters } from '../../src/forecast/root-filters.ts';
import { servedTable } from '../../src/forecast/served-table.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Layer, Paint } from '../../src/samples/paint.ts';
import type { Sample, SurfaceSample, TextSample } from '../../src/samples/sample.ts';
import { openPaintReader } from '../../src/triage/cases/paint-ref.ts';
import { movesTo } from '../../src/triage/recolor/token-recoloring.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import type { TokenTable } from '../../src/triage/tokens/token-table.ts';
import { healthyApp } from '../triage/healthy-app.ts';
import { paintApp } from '../triage/paint-app.ts';
import { seeded } from '../triage/seeded.ts';

/** One theme, these tokens. */
function tableOf(colors: Readonly<Record<string, string>>): TokenTable {
  const tokens = Object.entries(colors).map(([path, color]) => ({
    path,
    properties: [`--${path}`],
    definitions: [{ kind: 'literal' as const, color: parseColor(color), declared: { id: path } }],
  }));
  return { themes: [{ name: 'noon', tone: 'light' }], reference: 0, tokens, ramps: [] };
}

function recolored(samples: readonly Sample[], before: TokenTable, after: TokenTable, theme = 0): ReturnType<typeof recolorView> {
  const [index, then] = [indexTable(before), indexTable(after)];
  const filters = openRootFilters();
  filters.add('noon', samples);
  return recolorView(samples, {
    theme,
    readPaint: openPaintReader(index, () => false),
    moves: movesTo(index, (at, token) => then.colorOf(at, then.tokenAt(index.pathOf(token)))),
    filters: filters.of('noon'),
  });
}

const place = { view: 'v', selector: '#level', key: 'k', rect: [0, 0, 10, 10] } as const;
const by = (token: string, color: string, property = 'color'): Paint => ({
  property,
  color,
  origin: { kind: 'token', property: `--${token}`, alpha: 1 },
});
const literal = (color: string): Paint => ({ property: 'color', color, origin: { kind: 'literal' } });
const flat = (paint: Paint, opacity = 1): Layer => ({ selector: 'body', kind: 'color', paint, opacity });

function text(more: Partial<TextSample>): TextSample {
  return {
    ...{ ...place, kind: 'text', text: 'Level', color: '#000000', background: '#ffffff', backgroundSpread: ['#ffffff'] },
    ...{ contrast: { min: 21, max: 21 }, fontSize: 16, fontWeight: 400, large: false, exempt: null, basis: 'computed' },
    ...{ ink: literal('#000000'), inkOpacity: 1, layers: [flat(literal('#ffffff'))] },
    ...more,
  };
}

function surface(more: Partial<SurfaceSample>): SurfaceSample {
  return {
    ...{ ...place, kind: 'surface', color: '#ffffff', around: '#eeeeee', lightness: 100, aroundLightness: 94, chroma: 0 },
    ...{ hueDeg: 0, area: 0.1, tone: 'light', fill: 'flat', role: 'box', opacity: 1 },
    ...{ paint: literal('#ffffff'), layers: [flat(literal('#eeeeee'))] },
    ...more,
  };
}

describe('a sample under other token values', () => {
  test('ink and ground: the ratio is that of WCAG 2.2 on the new colours', () => {
    const sample = text({
      ...{ color: '#595959', background: '#f0f0f0', backgroundSpread: ['#f0f0f0'], contrast: { min: 6.15, max: 6.15 } },
      ...{ ink: by('ink', '#595959'), layers: [flat(by('page', '#f0f0f0'))] },
    });
    const after = tableOf({ ink: '#767676', page: '#ffffff' });
    const { samples, fates } = recolored([sample], tableOf({ ink: '#595959', page: '#f0f0f0' }), after);
    // second library: colorjs.io, WCAG 2.1 contrast
    const expected = new Color('#767676').contrast('#ffffff', 'WCAG21');
    expect(samples[0]).toMatchObject({ color: '#767676', background: '#ffffff', ink: { color: '#767676' } });
    expect((samples[0] as TextSample).contrast.min).toBeCloseTo(expected, 5);
    expect(fates).toEqual([{ kind: 'foretold', by: 'sums' }]);
  });

  test('through the opacity of an element: source over (Compositing and Blending 1, §9.1.1)', () => {
    // Before: .5 × 0 + .5 × 255 = 127.5. After: .5 × 51 + .5 × 204 = 127.5 → #80; derived.
    const sample = text({
      ...{ color: '#808080', ink: by('ink', '#000000'), inkOpacity: 0.5, layers: [flat(by('page', '#ffffff'))] },
    });
    const { samples } = recolored(
      [sample],
      tableOf({ ink: '#000000', page: '#ffffff' }),
      tableOf({ ink: '#333333', page: '#cccccc' }),
    );
    expect(samples[0]).toMatchObject({ color: '#808080', background: '#cccccc' });
  });

  test('what hangs on no token that moves stays, to the last member', () => {
    const sample = text({ ink: by('ink', '#000000') });
    const { samples, fates } = recolored(
      [sample],
      tableOf({ ink: '#000000', other: '#111111' }),
      tableOf({ ink: '#000000', other: '#222222' }),
    );
    expect(samples[0]).toBe(sample);
    expect(fates).toEqual([{ kind: 'same' }]);
  });

  test('surroundings that are no layer of a surface follow what looks the same in the view', () => {
    const page = surface({
      key: 'page',
      color: '#eeeeee',
      around: '#eeeeee',
      paint: by('page', '#eeeeee', 'background-color'),
      layers: [flat(by('page', '#eeeeee'))],
    });
    // It lies on white, but what is seen around it is its neighbour.
    const card = surface({
      key: 'card',
      color: '#fafafa',
      paint: literal('#fafafa'),
      around: '#eeeeee',
      layers: [flat(literal('#ffffff'))],
    });
    const { samples, fates } = recolored([page, card], tableOf({ page: '#eeeeee' }), tableOf({ page: '#202020' }));
    // second library: L* of #202020 by colorjs.io (Lab, D65)
    const lightness = new Color('#202020').to('lab-d65').coords[0] ?? 0;
    expect(samples[1]).toMatchObject({ color: '#fafafa', around: '#202020' });
    expect((samples[1] as SurfaceSample).aroundLightness).toBeCloseTo(lightness, 1);
    expect(fates[1]).toEqual({ kind: 'foretold', by: 'likeness' });
  });

  test('what cannot be told stays as it was seen, and says why', () => {
    const picture: Layer = { selector: '#photo', kind: 'picture', opacity: 1 };
    const onPhoto = text({
      color: '#ffffff',
      background: '#445566',
      backgroundSpread: ['#445566'],
      ink: { ...literal('#ffffff'), origin: { kind: 'derived', properties: ['--ink'] } },
      layers: [picture],
    });
    const { samples, fates } = recolored([onPhoto], tableOf({ ink: '#eeeeee' }), tableOf({ ink: '#dddddd' }));
    expect(samples[0]).toBe(onPhoto);
    expect(fates).toEqual([{ kind: 'untold', why: 'mixed' }]);
  });
});

test('an app with other values, painted, is what its samples recoloured are', () => {
  for (const seed of [1, 2, 3]) {
    const app = healthyApp(seeded(seed));
    const before = paintApp(app);
    // Every second literal a little darker.
    const table: TokenTable = {
      ...app.table,
      tokens: app.table.tokens.map((token, at) => ({
        ...token,
        definitions: token.definitions.map((own) =>
          own?.kind === 'literal' && at % 2 === 0
            ? { ...own, color: { ...own.color, r: own.color.r * 0.8, b: own.color.b * 0.9 } }
            : own,
        ),
      })),
    };
    const after = paintApp({ ...app, table });
    const index = indexTable(app.table);
    let [equal, all] = [0, 0];
    before.views.forEach(({ view, samples }, at) => {
      const { samples: made } = recolored(samples, app.table, table, index.themeAt(view.theme));
      made.forEach((sample, place) => {
        const found = after.views[at]?.samples[place];
        if (sample.kind === 'picture' || found === undefined || found.kind === 'picture') return;
        all += 1;
        if (near(sample.color, found.color)) equal += 1;
      });
    });
    // derived: the painter of the test and the recolouring do the same sums; equal colours of unlike paints leave a few in doubt
    expect(all).toBeGreaterThan(100);
    expect(equal / all).toBeGreaterThan(0.98);
  }
});

/** Within one code a channel: each side rounds on its own. */
function near(one: string, other: string): boolean {
  const [a, b] = [parseColor(one), parseColor(other)];
  return Math.max(Math.abs(a.r - b.r), Math.abs(a.g - b.g), Math.abs(a.b - b.b)) <= 1.5 / 255;
}

test('token files changed in place: before is what the pages served', () => {
  const table = servedTable(tableOf({ ink: '#222222', page: '#ffffff' }), [
    { theme: 'noon', name: '--ink', value: 'rgb(17, 17, 17)' },
  ]);
  const index = indexTable(table);
  expect(index.colorOf(0, index.tokenAt('ink'))).toEqual(parseColor('#111111'));
  expect(index.colorOf(0, index.tokenAt('page'))).toEqual(parseColor('#ffffff'));
});
