import { expect, test } from 'vitest';
import { toCssText } from '../../src/colour/format-color.ts';
import { cieLightness, toOklch } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { packCases, unpackCases } from '../../src/forecast/packed-cases.ts';
import type { PackedCases } from '../../src/forecast/packed-cases.ts';
import { recoloringOfProposal, tableUnder } from '../../src/forecast/proposal.ts';
import { withLightness } from '../../src/forecast/steer-lightness.ts';
import { lightnessBand, weighProposal } from '../../src/forecast/weigh-proposal.ts';
import { linePatch } from '../../src/tokens/line-patch.ts';
import { countsOf, evaluate } from '../../src/triage/choose/evaluate.ts';
import type { World } from '../../src/triage/world.ts';
import { ALL_ACTIVE, paintApp } from '../triage/paint-app.ts';
import { plantOne } from '../triage/plant-faults.ts';
import { triageApp } from '../triage/triage-app.ts';

function worldWithFault(seed: number): World {
  const { app } = plantOne('ink step', seed);
  return triageApp(app, paintApp(app)).ground.world;
}

test('packed, sent as text and opened again, cases weigh a proposal as triage does', () => {
  const world = worldWithFault(3);
  const checks = [...ALL_ACTIVE].map(([id, { options }]) => [id, options] as const);
  const opened = unpackCases(JSON.parse(JSON.stringify(packCases(world, checks))) as PackedCases);
  expect(opened.cases).toHaveLength(world.cases.length);
  let moved = 0;
  for (const { path, definitions } of world.index.table.tokens) {
    const own = definitions.findIndex((each) => each?.kind === 'literal');
    const theme = world.index.table.themes[own]?.name;
    if (theme === undefined) continue;
    const changes = [{ token: path, theme, to: '#808080' }];
    const { recoloring } = recoloringOfProposal(world, changes);
    const { fixes, breaks } = countsOf(evaluate(world, recoloring));
    const weighed = weighProposal(opened, changes);
    expect([path, weighed.mends, weighed.breaks]).toEqual([path, fixes, breaks]);
    moved += fixes + breaks;
  }
  expect(moved).toBeGreaterThan(0);
});

test('the band of lightness: at each of its ends the pairs pass, beyond it one fails', () => {
  const world = worldWithFault(3);
  const literals = world.index.table.tokens.filter(({ definitions }) => definitions[0]?.kind === 'literal').map(({ path }) => path);
  const painted = literals.filter((path) => world.reachOf(world.index.tokenAt(path), [0]).touched.length > 0);
  const steps = painted.slice(0, 6);
  const theme = world.index.table.themes[0]?.name ?? '';
  let seen = 0;
  for (const token of steps) {
    const { passes } = lightnessBand(world, [], { token, theme });
    const start = parseColor(toCssText(world.index.colorOf(0, world.index.tokenAt(token)) ?? parseColor('#000')));
    for (const [from, to] of passes) {
      for (const [lightness, inside] of [
        [from, true],
        [to, true],
        [from - 2, false],
        [to + 2, false],
      ] as const) {
        if (lightness < 0 || lightness > 100) continue;
        const { pairs } = weighProposal(world, [{ token, theme, to: toCssText(withLightness(start, lightness)) }]);
        const governed = pairs.filter((pair) => pair.required > 0);
        if (governed.length === 0) continue;
        expect(governed.every(({ after, required }) => after >= required)).toBe(inside);
        seen += 1;
      }
    }
  }
  expect(seen).toBeGreaterThan(0);
});

test('moved in lightness a colour keeps its hue, and is what 8 bits can hold', () => {
  // #017494: L* 45.0, hue 222.6 in OKLCH (culori); within what rounding to 8 bits allows
  const start = parseColor('#017494');
  for (const lightness of [20, 35, 60, 80]) {
    const moved = withLightness(start, lightness);
    expect(Math.abs(cieLightness(moved) - lightness)).toBeLessThan(0.6);
    expect(Math.abs(toOklch(moved).hueDeg - toOklch(start).hueDeg)).toBeLessThan(3);
  }
});

test('a patch names the lines that change and three around them', () => {
  const before = ['{', '1', '2', '3', '4', '5', '6', '7', '8', '}'].join('\n');
  // published: the unified format of diff (IEEE Std 1003.1-2017, diff -U)
  expect(linePatch('tokens/ramps.json', before, before.replace('5', 'five'))).toBe(
    [
      '--- a/tokens/ramps.json',
      '+++ b/tokens/ramps.json',
      '@@ -3,7 +3,7 @@',
      ' 2',
      ' 3',
      ' 4',
      '-5',
      '+five',
      ' 6',
      ' 7',
      ' 8',
      '',
    ].join('\n'),
  );
  expect(linePatch('a', before, before)).toBe('');
  expect(linePatch('a', 'x\ny\nz', 'x\nz')).toBe('--- a/a\n+++ b/a\n@@ -1,3 +1,2 @@\n x\n-y\n z\n');
});

test('a step that a proposal adds stands in its ramp, can be pointed at, and weighs what a colour of its own weighs', () => {
  const world = worldWithFault(3);
  const { index } = world;
  const [ramp] = index.table.ramps;
  const beside = ramp?.steps[1] ?? '';
  const theme = index.table.themes[0]?.name ?? '';
  const added = { token: `${beside}half`, theme, to: '#404040', beside };
  const grown = tableUnder(index, [added]);
  expect(grown.ramps[0]?.steps.slice(0, 3)).toEqual([ramp?.steps[0], beside, added.token]);
  expect(grown.tokens.slice(0, -1).map(({ path }) => path)).toEqual(index.table.tokens.map(({ path }) => path));
  // Alone it paints nothing.
  expect(weighProposal(world, [added])).toMatchObject({ mends: 0, breaks: 0 });
  let moved = 0;
  for (const { path, definitions } of index.table.tokens) {
    if (definitions[0]?.kind !== 'alias') continue;
    const { mends, breaks } = weighProposal(world, [added, { token: path, theme, to: `{${added.token}}` }]);
    const plain = weighProposal(world, [{ token: path, theme, to: '#404040' }]);
    expect([path, mends, breaks]).toEqual([path, plain.mends, plain.breaks]);
    moved += mends + breaks;
  }
  expect(moved).toBeGreaterThan(0);
});
