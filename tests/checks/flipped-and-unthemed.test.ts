import { describe, expect, test } from 'vitest';
import { flipped } from '../../src/checks/flipped.ts';
import type { ExemptionRule } from '../../src/checks/exemption-cover.ts';
import type { ConfiguredChecks } from '../../src/checks/configured-checks.ts';
import type { JudgedView } from '../../src/checks/run-checks.ts';
import { runChecks } from '../../src/checks/run-checks.ts';
import { unthemed } from '../../src/checks/unthemed.ts';
import type { Paint } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { graphic, judge, surface, textRun } from './made-samples.ts';

const token = (color: string): Paint => ({
  property: 'background-color',
  color,
  origin: { kind: 'token', property: '--face', alpha: 1 },
});

describe('flipped', () => {
  // our rule: tone is told at L* 50
  test.each([
    ['stays dark', 'dark', '#16323a', '#16323a', []],
    ['left its tone', 'dark', '#d8e4e8', '#16323a', ['error']],
    ['paper turned dark', 'light', '#1e1e1e', '#ffffff', ['error']],
    ['same tone, far lighter', 'dark', '#4d6a72', '#0d1a1f', ['warning']],
    ['same tone, a little lighter', 'dark', '#1f3d46', '#16323a', []],
  ] as const)('%s', (_, stay, color, before, levels) => {
    const found = judge(
      flipped,
      [surface({ color, around: '#121212', stay })],
      [surface({ color: before, around: '#ffffff', stay })],
    );
    expect(found.map((f) => f.level)).toEqual(levels);
  });

  test('a large dark menu that became light with its page dark is a note', () => {
    const menu = surface({ color: '#d8e4e8', around: '#121212', rect: [0, 0, 220, 300] });
    const before = surface({ color: '#16323a', around: '#ffffff', rect: [0, 0, 220, 300] });
    const found = judge(flipped, [menu], [before]);
    expect(found.map((f) => f.level)).toEqual(['note']);
    expect(found[0]?.message).toContain('"stay"');
    expect(judge(flipped, [{ ...menu, role: 'control' }], [before])).toEqual([]);
    expect(judge(flipped, [{ ...menu, area: 0.001 }], [before])).toEqual([]);
    expect(judge(flipped, [menu], [])).toEqual([]);
    // What it lies on must be three quarters of what surrounds it, in both themes.
    const ring = (share: number): typeof menu => ({ ...menu, aroundShare: share });
    expect(judge(flipped, [ring(0.75)], [{ ...before, aroundShare: 0.75 }])).toHaveLength(1);
    expect(judge(flipped, [ring(0.74)], [before])).toEqual([]);
    expect(judge(flipped, [menu], [{ ...before, aroundShare: 0.74 }])).toEqual([]);
  });

  test('a card that is lighter than its page in both themes has not flipped', () => {
    expect(
      judge(flipped, [surface({ color: '#1e1e1e', around: '#121212' })], [surface({ color: '#ffffff', around: '#f5f7f9' })]),
    ).toEqual([]);
  });
});

describe('unthemed', () => {
  const panel = surface({ color: '#ffffff', around: '#121212' });
  const panelBefore = surface({ color: '#ffffff', around: '#f5f7f9' });

  test('a literal white panel left on a dark page', () => {
    const [found] = judge(unthemed, [panel], [panelBefore]);
    expect(found?.level).toBe('warning');
    expect(found?.message).toMatch(
      /^#gauge kept #ffffff \(background-color\) from noon: it now differs by 95 L\* from #121212 around it/,
    );
  });

  test.each([
    ['a small surface that a token keeps on purpose', { ...panel, paint: token('#ffffff'), area: 0.005 }],
    ['a control that a token keeps on purpose', { ...panel, paint: token('#ffffff'), role: 'control' as const }],
    ['a token that stays on the tone of this theme', surface({ color: '#222222', around: '#121212', paint: token('#222222') })],
    ['a surface under stay', { ...panel, stay: 'light' as const }],
    ['a picture', { ...panel, role: 'picture' as const }],
    ['a photo as background', { ...panel, fill: 'picture' as const }],
    ['a translucent layer', { ...panel, paint: { ...panel.paint, color: 'rgb(255 255 255 / 60%)' } }],
    ['a panel whose surroundings did not change', { ...panel, around: '#f5f7f9', aroundLightness: 97 }],
    ['a panel that changed', surface({ color: '#1e1e1e', around: '#121212' })],
  ])('%s is left alone', (_, sample) => {
    expect(judge(unthemed, [sample], [panelBefore])).toEqual([]);
  });

  test('a large panel whose token stayed light is told, with what is missing', () => {
    const [found] = judge(unthemed, [{ ...panel, paint: token('#ffffff') }], [panelBefore]);
    expect(found?.level).toBe('warning');
    expect(found?.measured['origin']).toBe('token');
    expect(found?.expected['color']).toBe('a value of the token for this theme');
  });

  test('an accent fill that suits both themes is left alone', () => {
    const accent = { color: '#2a7f8c' };
    expect(judge(unthemed, [surface({ ...accent, around: '#121212' })], [surface({ ...accent, around: '#ffffff' })])).toEqual([]);
  });

  test('an accent whose peers all changed is left behind', () => {
    const peer = (color: string, key: string): ReturnType<typeof surface> =>
      surface({ color, around: '#ffffff', key, paint: token(color) });
    const here = [surface({ color: '#2a7f8c', around: '#ffffff' }), peer('#a8432f', 'p'), peer('#a8432f', 'q')];
    const there = [surface({ color: '#2a7f8c', around: '#ffffff' }), peer('#2a7f8c', 'p'), peer('#2a7f8c', 'q')];
    const [found] = judge(unthemed, here, there, {}, 'light');
    expect(found?.key).toBe('gauge');
    expect(found?.message).toContain('2 others of that colour became #a8432f');
    expect(judge(unthemed, here, there, { leastPeers: 3 }, 'light')).toEqual([]);
  });

  test('a literal ink that can no longer be read is a warning, one that still can a note', () => {
    const run = (color: string, background: string): ReturnType<typeof textRun> => textRun({ color, background });
    expect(judge(unthemed, [run('#333333', '#121212')], [run('#333333', '#ffffff')]).map((f) => f.level)).toEqual(['warning']);
    expect(judge(unthemed, [run('#767676', '#000000')], [run('#767676', '#ffffff')]).map((f) => f.level)).toEqual(['note']);
    expect(judge(unthemed, [run('#ffffff', '#0b5d6b')], [run('#ffffff', '#0b5d6b')])).toEqual([]);
  });

  test('icons that vanish and hairlines that turn hard', () => {
    const icon = (against: string): ReturnType<typeof graphic> => graphic({ color: '#2d3a3f', against });
    expect(judge(unthemed, [icon('#121212')], [icon('#ffffff')])).toHaveLength(1);
    const line = (against: string): ReturnType<typeof graphic> =>
      graphic({ color: '#e3e8ea', against, role: 'border', exempt: 'decoration' });
    expect(judge(unthemed, [line('#121212')], [line('#ffffff')])).toHaveLength(1);
  });

  test('edges of fields that were hardly seen and glare, unless a token paints them or other fields have such edges', () => {
    // Derived: #dadfe5 reaches 1.34 on #ffffff and 13.4 on #171717, #404040 1.7 on #171717, #c4c8cc 10.6.
    const edge = (name: string, color: string, against: string, by = written(color)): ReturnType<typeof graphic> =>
      graphic({ color, against, role: 'border', key: `${name}|edge`, selector: `#${name}`, paint: by });
    const written = (color: string): Paint => ({ property: 'border-top-color', color, origin: { kind: 'literal' } });
    const drawn = (color: string): Paint => ({ ...token(color), property: 'border-top-color' });
    const before = [edge('pager', '#dadfe5', '#ffffff')];
    const pager = edge('pager', '#dadfe5', '#171717');
    expect(judge(unthemed, [pager], before).map((f) => f.message)).toEqual([expect.stringContaining('is a hard line on #171717')]);
    expect(judge(unthemed, [pager, edge('name', '#404040', '#171717', drawn('#404040'))], before)).toHaveLength(1);
    expect(judge(unthemed, [pager, edge('name', '#c4c8cc', '#171717', drawn('#c4c8cc'))], before)).toEqual([]);
    expect(judge(unthemed, [{ ...pager, paint: drawn('#dadfe5') }], before)).toEqual([]);
    // as strong where it is as meant
    expect(judge(unthemed, [edge('pager', '#767676', '#171717')], [edge('pager', '#767676', '#ffffff')])).toEqual([]);
    // a thumb, and a face
    expect(
      judge(unthemed, [{ ...pager, key: 'pager|inside' }], [{ ...pager, key: 'pager|inside', contrast: 1.34, against: '#ffffff' }]),
    ).toEqual([]);
    const face = { ...pager, paint: { ...pager.paint, property: 'background-color' } };
    expect(judge(unthemed, [face], [{ ...face, contrast: 1.34, against: '#ffffff' }])).toEqual([]);
  });

  test('a page that stayed light in a dark theme', () => {
    const page = surface({ color: '#ffffff', around: '#ffffff', role: 'canvas' });
    expect(judge(unthemed, [page], [page])[0]?.message).toContain('the whole page');
    expect(judge(unthemed, [page], [page], {}, 'light')).toEqual([]);
  });

  test('a drawing without a declaration is judged by its pixels', () => {
    const untraced: Paint = { property: 'canvas', color: '#ffffff', origin: { kind: 'unknown', why: 'drawn by script' } };
    const drawing = { ...panel, role: 'chart', paint: untraced } as const;
    expect(judge(unthemed, [drawing], [{ ...panelBefore, role: 'chart', paint: untraced }])).toHaveLength(1);
  });

  test('a large panel whose colour could not be traced is left behind whatever painted it, a small one is not', () => {
    // As in a document of another origin, whose colours are not traced.
    const untraced: Paint = { property: 'background-color', color: '#ffffff', origin: { kind: 'unknown', why: 'not traced' } };
    const sized = (area: number): readonly unknown[] =>
      judge(unthemed, [{ ...panel, area, paint: untraced }], [{ ...panelBefore, area, paint: untraced }]);
    expect(sized(0.05)).toHaveLength(1);
    expect(sized(0.005)).toEqual([]);
  });
});

// One fault, one finding: what stayed is the fault, its hard step follows from it.
describe('unthemed beside separation', () => {
  const panel = (color: string, around: string, facts: Partial<ReturnType<typeof surface>> = {}): ReturnType<typeof surface> => ({
    ...surface({ color, around, paint: token(color) }),
    ...facts,
  });
  const untraced: Paint = { property: 'background-color', color: '#ffffff', origin: { kind: 'unknown', why: 'not traced' } };
  const byBrowser: Paint = { property: 'background-color', color: '#ffffff', origin: { kind: 'system' } };
  const paper = panel('#ffffff', '#f5f7f9');

  test.each<readonly [string, ReturnType<typeof surface>, ReturnType<typeof surface> | null, readonly string[]]>([
    ['a panel whose token stayed', panel('#ffffff', '#121212'), paper, ['unthemed']],
    ['a frame of another origin', panel('#ffffff', '#121212', { paint: untraced }), paper, ['unthemed']],
    ['a frame that the browser paints', panel('#ffffff', '#121212', { paint: byBrowser }), null, ['unthemed']],
    // Look-alikes, of which `unthemed` says nothing: the step must still be told.
    ['a small one, which may keep its paper on purpose', panel('#ffffff', '#121212', { area: 0.005 }), paper, ['separation']],
    ['one that is as light and another grey', panel('#f0f0f0', '#121212'), paper, ['separation']],
    ['one that never was there', panel('#ffffff', '#121212'), null, ['separation']],
    ['a dark one with too hard a step', panel('#3a3a3a', '#121212'), paper, ['separation']],
    ['one that vanished', panel('#121212', '#121212'), paper, ['separation']],
  ])('%s', (_, now, before, checks) => {
    expect(told(now, before)).toEqual(checks);
  });

  // What the other check is told to leave alone is not left alone by both.
  const left = panel('#ffffff', '#121212');
  const written = panel('#ffffff', '#121212', { paint: { ...byBrowser, origin: { kind: 'literal' } } });
  const kept = { selector: left.selector, checks: ['unthemed'], why: 'a sheet of paper' } as const;
  test.each([
    ['that check is off', left, { unthemed: 'off' }, [], []],
    ['that check is off, for a literal', written, { unthemed: 'off' }, [], []],
    ['its options leave the panel out', left, { unthemed: { leastTokenArea: 0.9 } }, [], []],
    ['an exemption covers what it says', left, {}, [kept], ['unthemed (exempt)']],
    ['an exemption covers what it says of a literal', written, {}, [kept], ['unthemed (exempt)']],
  ] as const)('where %s, the step is told', (_, now, checks, exempt, besides) => {
    expect(told(now, paper, checks, exempt).toSorted()).toEqual(['separation', ...besides]);
  });
  test('what is exempt from both is exempt once', () => {
    expect(told(left, paper, {}, [{ selector: left.selector, why: 'a sheet of paper' }])).toEqual(['unthemed (exempt)']);
  });
  // It stayed while what is around it became only a little darker, of which `unthemed` says nothing: it looked and let it be.
  test.each([
    ['literal', []],
    ['system', []],
    ['unknown', ['separation']],
  ] as const)('a step beside a colour that stayed is not told of a %s one', (kind, checks) => {
    const origin = kind === 'unknown' ? ({ kind, why: '' } as const) : ({ kind } as const);
    const stayed = panel('#f0f0f0', '#b9b9b9', { paint: { ...byBrowser, color: '#f0f0f0', origin } });
    expect(told(stayed, panel('#f0f0f0', '#f2f2f2'))).toEqual(checks);
    expect(told({ ...stayed, color: '#efefef' }, panel('#f0f0f0', '#f2f2f2'))).toEqual(['separation']);
    expect(told(stayed, panel('#f0f0f0', '#f2f2f2'), { unthemed: 'off' })).toEqual(['separation']);
  });

  test('a literal that stayed is told once', () => {
    expect(told(written, paper)).toEqual(['unthemed']);
  });

  /** Ids of the checks that say something of the panel. */
  function told(
    now: Sample,
    before: Sample | null,
    checks: ConfiguredChecks = {},
    exempt: readonly ExemptionRule[] = [],
  ): readonly string[] {
    const judged = (theme: string, tone: 'light' | 'dark', samples: readonly Sample[]): JudgedView => ({
      view: { id: `quay@${theme}/rest/desk`, page: 'quay', theme, state: 'rest', viewport: 'desk' },
      tone,
      samples,
    });
    const views = [judged('noon', 'light', before === null ? [] : [before]), judged('dusk', 'dark', [now])];
    const settings = { reference: 'noon', checks, exempt, today: '2031-03-05', run: 'n1' };
    return runChecks(views, settings)
      .filter(({ theme }) => theme === 'dusk')
      .map(({ check, status }) => (status === 'exempt' ? `${check} (exempt)` : check));
  }
});
