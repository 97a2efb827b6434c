// Which tokens are ramps, and what is wrong in them.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { opaque } from '../../src/colour/color.ts';
import { deltaE2000, deltaEOk } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { readCustomProperties } from '../../src/tokens/css/read-custom-properties.ts';
import { alikeRamps } from '../../src/tokens/faults/alike-ramps.ts';
import { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import { rampContrasts } from '../../src/tokens/faults/ramp-contrast.ts';
import { rampFaults } from '../../src/tokens/faults/ramp-faults.ts';
import { rampViews } from '../../src/tokens/faults/ramp-view.ts';
import { medianHue } from '../../src/tokens/faults/ramp-view.ts';
import { hueDistance } from '../../src/tokens/ramps.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { EXAMPLE, RAMP_ROWS } from '../tables/tokens/ramp-faults.ts';
import { readOne, readWith, srgb } from './read.ts';

/** A value for any CSS colour; what sRGB cannot show is written in Display P3. */
function value(text: string): unknown {
  const p3 = /^color\(display-p3 (\S+) (\S+) (\S+)\)$/.exec(text);
  if (p3 !== null) return { colorSpace: 'display-p3', components: p3.slice(1).map(Number) };
  const { r, g, b } = parseColor(text);
  return { colorSpace: 'srgb', components: [r, g, b] };
}

function rampOf(colors: readonly string[]): Record<string, unknown> {
  const steps = colors.map((text, i): [string, unknown] => [String(i), { $value: value(text) }]);
  return { $type: 'color', ...Object.fromEntries(steps) };
}

/** Every token a ramp `ramp` or named ones, and one alias so that the ramps are recognised. */
function graphOf(ramps: Readonly<Record<string, readonly string[]>>): TokenGraph {
  const groups = Object.entries(ramps).map(([name, colors]): [string, unknown] => [name, rampOf(colors)]);
  const uses = Object.keys(ramps).map((name): [string, unknown] => [name, { $value: `{${name}.0}` }]);
  return readOne({ ...Object.fromEntries(groups), part: Object.fromEntries(uses) });
}

describe('planted faults', () => {
  test.each(RAMP_ROWS)('ramp-faults.ts: $name', ({ change = {}, colors, found }) => {
    const steps =
      colors ?? EXAMPLE.map((color, i) => (i in change ? (change[i] ?? null) : color)).filter((color) => color !== null);
    const faults = rampFaults(graphOf({ ramp: steps }));
    expect(faults.map(({ code, token }) => `${code} ${token.replace('ramp.', '')}`).sort()).toEqual(found);
  });

  test('each fault says its theme, its file and line, and what a designer can do with', () => {
    const files = {
      'ramp.json': `{ "ramp": {\n "$type": "color",\n${EXAMPLE.map((hex, i) => ` "${String(i)}": { "$value": "${i === 7 ? '#30808f' : hex}" }`).join(',\n')} },\n "part": { "$value": "{ramp.0}" } }`,
    };
    const { graph } = readWith(files, { base: ['ramp.json'], themes: { noon: [], dusk: [] } });
    const fault = checkTokens({ graph, reference: 'noon' }).faults.find(({ code }) => code === 'ramp-reversal');
    expect(fault).toMatchObject({
      // What is said of a ramp is an opinion, however plain.
      level: 'warning',
      layer: 'ramp',
      token: 'ramp.7',
      others: ['ramp.6'],
      themes: ['noon', 'dusk'],
      file: 'ramp.json',
      line: 10,
    });
    expect(fault?.message).toBe(
      'ramp.7 is lighter than ramp.6 (L* 49.6 after 44.1), but the ramp gets darker; ramp.7 is out of order.',
    );
  });

  test('a stated curve replaces the rule of even steps', () => {
    const curve = rampViews(graphOf({ ramp: EXAMPLE }))[0]?.steps.map(({ lightness }) => lightness) ?? [];
    const options = { curves: { ramp: curve.map((l, i) => (i === 4 ? l + 5 : l)) } };
    expect(rampFaults(graphOf({ ramp: EXAMPLE }), { curves: { ramp: curve } })).toEqual([]);
    expect(rampFaults(graphOf({ ramp: EXAMPLE }), options).map(({ code, token }) => `${code} ${token}`)).toEqual([
      'ramp-off-curve ramp.4',
    ]);
  });

  test('a step that one theme lacks', () => {
    const files = {
      'a.json': { ramp: rampOf(['#ffffff', '#888888', '#000000']), part: { $value: '{ramp.0}' } },
      'b.json': { ramp: { '3': { $value: srgb('#111111') } } },
    };
    const { graph } = readWith(files, { base: ['a.json'], themes: { noon: [], dusk: ['b.json'] } });
    expect(rampFaults(graph).filter(({ code }) => code === 'ramp-step-missing')).toMatchObject([
      { token: 'ramp.3', themes: ['noon'] },
    ]);
  });

  test('thresholds can be moved', () => {
    const twins = graphOf({ ramp: EXAMPLE.map((hex, i) => (i === 2 ? '#d9eaf0' : hex)) });
    const codes = (options: Parameters<typeof rampFaults>[1]): readonly string[] =>
      rampFaults(twins, options).map(({ code }) => code);
    expect(codes({ twinDeltaE: 0.5 })).not.toContain('ramp-twins');
    expect(codes({ courseDeltaEOk: 0.5 })).not.toContain('ramp-off-course');
    expect(codes({ spacingFactor: 9 })).not.toContain('ramp-spacing');
    expect(codes({ hueDriftDeg: 2 })).toContain('ramp-hue-drift');
  });
});

describe('the worked example', () => {
  test('least contrast for every distance, and the distances that suffice (recorded with it, three decimals)', () => {
    const [own] = rampContrasts(graphOf({ ramp: EXAMPLE }));
    const recorded = [1.131, 1.372, 1.818, 2.585, 3.716, 5.177, 7.332];
    for (const [i, ratio] of recorded.entries()) expect(own?.leastAt[i]).toBeCloseTo(ratio, 3);
    expect(own?.distanceFor).toEqual([5, 6, 7]);
  });

  test('hue drifts by at most 12.1° (recorded with it)', () => {
    const steps = rampViews(graphOf({ ramp: EXAMPLE }))[0]?.steps ?? [];
    const hues = steps.filter(({ oklch }) => oklch.chroma >= 0.03).map(({ oklch }) => oklch.hueDeg);
    const middle = medianHue(hues, hueDistance) ?? NaN;
    expect(Math.max(...hues.map((hue) => hueDistance(hue, middle)))).toBeCloseTo(12.1, 1);
  });

  test('contrast between two ramps is judged by place, in both directions', () => {
    const table = rampContrasts(graphOf({ a: ['#ffffff', '#808080', '#000000'], b: ['#ffffff', '#ff0000', '#000000'] }));
    expect(table.map(({ ink, surface }) => `${ink} ${surface}`)).toEqual(['a a', 'a b', 'b b']);
    // derived: white on red 3.998, grey on white 3.949, red on black 5.252, grey on black 5.317 (WCAG 2.2); the least counts
    expect(table[1]?.leastAt[0]).toBeCloseTo(3.949, 3);
    expect(table[1]?.distanceFor).toEqual([1, 2, 2]);
  });
});

function hangingTogether(named: Readonly<Record<string, readonly string[]>>): readonly string[] {
  const steps = Object.entries(named).flatMap(([family, colors]) =>
    colors.map((text, i) => ({ family, path: `${family}.${String(i)}`, color: opaque(parseColor(text)) })),
  );
  let groups = steps.map((step) => [step]);
  for (const a of steps) {
    for (const b of steps) {
      const isTwin = a.family !== b.family && deltaEOk(a.color, b.color) < 0.02 && deltaE2000(a.color, b.color) < 2;
      const [one, other] = [groups.find((group) => group.includes(a)), groups.find((group) => group.includes(b))];
      if (!isTwin || one === undefined || other === undefined || one === other) continue;
      groups = [...groups.filter((group) => group !== one && group !== other), [...one, ...other]];
    }
  }
  const names = groups
    .filter((group) => group.length > 1)
    .map((group) =>
      group
        .map(({ path }) => path)
        .sort()
        .join(' '),
    );
  return names.sort();
}

describe('ramps that are alike', () => {
  const REDS = ['#fde8e8', '#f5b5b5', '#e06060', '#b02020', '#601010'];

  test('steps nobody can tell apart are gathered, near-white and near-black ends left out', () => {
    const graph = graphOf({
      alarm: REDS,
      error: REDS.map((hex, i) => (i === 3 ? '#b12121' : i === 2 ? '#c04040' : hex)),
      sea: EXAMPLE,
    });
    const found = alikeRamps(graph);
    expect(found.map(({ token, others }) => [token, ...others].join(' '))).toEqual([
      'alarm.4 error.4',
      'alarm.3 error.3',
      'alarm.1 error.1',
    ]);
    const greys = ['#ffffff', '#aaaaaa', '#101010'];
    expect(alikeRamps(graphOf({ a: greys, b: ['#fefefe', '#999999', '#111111'] }))).toEqual([]);
  });

  test('many ramps of one colour are one finding', () => {
    const names = Object.fromEntries(
      Array.from({ length: 12 }, (_, i): [string, readonly string[]] => [
        `red${String.fromCharCode(97 + i)}`,
        ['#ffffff', '#b02020', '#000000'],
      ]),
    );
    const [only, ...others] = alikeRamps(graphOf(names));
    expect(others).toEqual([]);
    expect(only?.measured).toMatchObject({ tokens: 12, deltaE: 0 });
  });

  // The definition, each step held against each other: within OKLab .02 and CIEDE2000 2 of one of another ramp (docs/checks.md).
  test('what hangs together is what each pair says, whichever pairs are left out on the way', () => {
    const shade = fc
      .tuple(fc.integer({ min: 120, max: 136 }), fc.integer({ min: 60, max: 66 }))
      .map(([r, g]) => `rgb(${r} ${g} 70)`);
    const ramps = fc.array(fc.array(shade, { minLength: 3, maxLength: 5 }), { minLength: 2, maxLength: 7 });
    fc.assert(
      fc.property(ramps, (list) => {
        const named = Object.fromEntries(list.map((colors, i) => [`r${String.fromCharCode(97 + i)}`, colors]));
        const found = alikeRamps(graphOf(named)).map(({ token, others }) => [token, ...others].join(' '));
        expect([...found].sort()).toEqual(hangingTogether(named));
      }),
      { seed: 20, numRuns: 60 },
    );
  });
});

describe('what a ramp is', () => {
  const families = (graph: TokenGraph): readonly string[] =>
    graph.ramps.map(({ family, steps, told }) => `${family} ${told}: ${steps.join(' ')}`);
  const silt = rampOf(['#ffffff', '#cccccc', '#888888']);

  test('numbered literals that aliases end on, ordered by number whatever the order in the file', () => {
    const graph = readOne(
      `{ "silt": { "$type": "color", "900": ${JSON.stringify({ $value: srgb('#000000') })}, "50": ${JSON.stringify({ $value: srgb('#ffffff') })}, "100": ${JSON.stringify({ $value: srgb('#eeeeee') })} }, "face": { "$value": "{silt.50}" } }`,
    );
    expect(families(graph)).toEqual(['silt aliases: silt.50 silt.100 silt.900']);
  });

  test('black, white and a clear one are no ramp, named greys are', () => {
    const greys = { jet: '#000000', slate: '#444444', mist: '#888888', haze: '#cccccc', chalk: '#ffffff' };
    const group = (names: readonly (keyof typeof greys)[]): unknown => ({
      $type: 'color',
      ...Object.fromEntries(names.map((name): [string, unknown] => [name, { $value: srgb(greys[name]) }])),
    });
    const part = Object.fromEntries(['jet', 'chalk', 'mist'].map((name): [string, unknown] => [name, { $value: `{g.${name}}` }]));
    expect(families(readOne({ g: group(['jet', 'mist', 'chalk']), part }))).toEqual([]);
    expect(families(readOne({ g: group(['jet', 'slate', 'mist', 'haze', 'chalk']), part }))).toEqual([
      'g aliases: g.jet g.slate g.mist g.haze g.chalk',
    ]);
  });

  test('unnumbered literals only when most are aliased and they look alike', () => {
    const sea = {
      $type: 'color',
      pale: { $value: srgb('#bcdae3') },
      mid: { $value: srgb('#47889c') },
      deep: { $value: srgb('#0f3344') },
    };
    const gay = {
      $type: 'color',
      red: { $value: srgb('#b02020') },
      green: { $value: srgb('#208020') },
      blue: { $value: srgb('#2020b0') },
    };
    const part = {
      a: { $value: '{sea.pale}' },
      b: { $value: '{sea.deep}' },
      c: { $value: '{gay.red}' },
      d: { $value: '{gay.blue}' },
    };
    expect(families(readOne({ sea, gay, part }))).toEqual(['sea aliases: sea.pale sea.mid sea.deep']);
  });

  test('literals nobody refers to, aliases and pairs are none', () => {
    const alone = readOne({ silt, other: { $type: 'color', face: { $value: srgb('#000000') } } });
    expect(families(alone)).toEqual([]);
    const aliased = readOne({
      silt,
      dial: { '1': { $value: '{silt.0}' }, '2': { $value: '{silt.1}' }, '3': { $value: '{silt.2}' } },
      rim: { $value: '{dial.1}' },
    });
    expect(families(aliased)).toEqual(['silt aliases: silt.0 silt.1 silt.2']);
  });

  test('as configured, when it is', () => {
    const graph = readOne(
      { hue: { silt, sea: rampOf(['#ffffff', '#0000ff']) }, dial: { $type: 'color', face: { $value: srgb('#000000') } } },
      { ramps: ['hue.*.*'] },
    );
    expect(families(graph)).toEqual([
      'hue.silt configuration: hue.silt.0 hue.silt.1 hue.silt.2',
      'hue.sea configuration: hue.sea.0 hue.sea.1',
    ]);
  });

  test('custom properties alone have ramps too', () => {
    const text = ['--silt-100: #fff', '--silt-500: #888', '--silt-900: #000', '--face: var(--silt-100)'];
    const properties = text.map((line) => line.split(':')).map(([name = '', v = '']) => ({ name, value: v }));
    expect(families(readCustomProperties(new Map([['day', properties]])))).toEqual([
      '--silt aliases: --silt-100 --silt-500 --silt-900',
    ]);
  });
});
