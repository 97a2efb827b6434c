// Tokens as triage sees them: look-ups, siblings, uses. Derived from the small tables that each test writes down.
import { describe, expect, test } from 'vitest';
import { toCssText } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Layer, Origin, Paint, WrittenPlace } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { ViewRef } from '../../src/samples/view.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import type { TokenUsage } from '../../src/triage/cases/usage.ts';
import { openUsage } from '../../src/triage/cases/usage.ts';
import { coverageShare, openCoverage } from '../../src/triage/tell/coverage.ts';
import { findBuildFaults, hangsOnStale, staleTokens } from '../../src/triage/tokens/build-faults.ts';
import { isBaked, openInference } from '../../src/triage/tokens/infer-origins.ts';
import { pageWide } from '../../src/triage/tokens/page-wide.ts';
import { openSiblingSteps } from '../../src/triage/tokens/sibling-steps.ts';
import { openPageTable } from '../../src/triage/tokens/table-of-page.ts';
import { localKey } from '../../src/triage/tokens/token-table.ts';
import { openTokenUses } from '../../src/triage/tokens/token-uses.ts';
import { openWorld } from '../../src/triage/world.ts';
import { graphic, picture, shadow, surface, textRun } from '../checks/made-samples.ts';
import { layer, made, tableOf, token, written } from './made-cases.ts';

const GREYS = ['#f0f0f0', '#d8d8d8', '#c0c0c0', '#a8a8a8', '#909090', '#787878', '#606060', '#484848', '#303030', '#181818'];
const ramp = (name: string): Readonly<Record<string, readonly string[]>> =>
  Object.fromEntries(GREYS.map((color, at) => [`${name}.${String(at)}`, [color, color]]));
const steps = (name: string): { readonly name: string; readonly steps: readonly string[] } => ({
  ...{ name, steps: GREYS.map((_, at) => `${name}.${String(at)}`) },
});
const view = (over: Partial<ViewRef> = {}): ViewRef => ({
  id: 'v',
  page: 'quay',
  theme: 'noon',
  state: 'rest',
  viewport: 'desk',
  ...over,
});
const paint = (color: string, origin: Origin, hops?: readonly WrittenPlace[]): Paint => ({
  ...{ property: 'color', color, origin },
  ...(hops === undefined ? {} : { written: hops }),
});
const by = (property: string, over: Partial<Origin & { kind: 'token' }> = {}): Origin => ({
  kind: 'token',
  property,
  alpha: 1,
  ...over,
});
const literal: Origin = { kind: 'literal' };

describe('the table as look-ups', () => {
  const open = (): ReturnType<typeof tableOf> =>
    tableOf(
      {
        ...{
          a: ['#111111', '#222222'],
          b: ['{a}', '{a}'],
          c: ['{b}', '#333333'],
          lost: ['{gone}', null],
          x: ['{y}', '#444444'],
          y: ['{x}', '{x}'],
        },
        d: ['{a}', '{c}'],
      },
      {
        ramps: [
          { name: 'one', steps: ['a', 'gone', 'b'] },
          { name: 'two', steps: ['b', 'c'] },
        ],
        shared: ['b'],
      },
    );
  function look() {
    const index = open();
    const at = (path: string): number => index.tokenAt(path);
    const paths = (tokens: readonly number[]): readonly string[] => tokens.map(index.pathOf);
    return { index, at, paths };
  }

  test('by name', () => {
    const { index, at } = look();
    expect([
      index.themeAt('dusk'),
      index.themeAt('gone'),
      at('gone'),
      index.tokenOfProperty('--b'),
      index.tokenOfProperty('--gone'),
    ]).toEqual([1, -1, -1, 1, -1]);
    expect([index.pathOf(2), index.pathOf(99)]).toEqual(['c', '']);
  });

  test('chains, roots, colours', () => {
    const { index, at, paths } = look();
    expect([0, 1].map((theme) => paths(index.chainOf(theme, at('c'))))).toEqual([['c', 'b', 'a'], ['c']]);
    expect(paths(index.chainOf(1, at('lost')))).toEqual([]);
    expect(paths(index.chainOf(0, at('lost')))).toEqual(['lost']);
    expect([0, 1].map((theme) => index.rootOf(theme, at('c')))).toEqual([at('a'), at('c')]);
    expect([index.rootOf(0, at('lost')), index.rootOf(1, at('lost')), index.rootOf(0, at('x')), index.rootOf(1, at('y'))]).toEqual([
      -1,
      -1,
      -1,
      at('x'),
    ]);
    expect(index.chainOf(0, at('x'))).toHaveLength(64);
    expect([0, 1].map((theme) => index.colorOf(theme, at('d')))).toEqual([parseColor('#111111'), parseColor('#333333')]);
    expect([index.colorOf(0, at('lost')), index.colorOf(9, 0), index.colorOf(0, 99)]).toEqual([null, null, null]);
  });

  test('who hangs on whom', () => {
    const { index, at, paths } = look();
    expect(paths(index.dependentsOf(0, at('a')))).toEqual(['a', 'b', 'd', 'c']);
    expect(paths(index.dependentsOf(1, at('a')))).toEqual(['a', 'b']);
    expect(index.dependentsOf(0, at('a'))).toBe(index.dependentsOf(0, at('a')));
    expect(paths(index.dependentsOf(0, at('x')))).toEqual(['x', 'y']);
  });

  test('steps: the first ramp that names one counts, what is no token is passed over', () => {
    const { index, at } = look();
    expect(['a', 'b', 'c', 'd'].map((path) => index.stepOf(at(path)))).toEqual([
      { ramp: 0, position: 0 },
      { ramp: 0, position: 1 },
      { ramp: 1, position: 1 },
      null,
    ]);
    expect([index.stepsOf(0), index.stepsOf(9)]).toEqual([[at('a'), at('b')], []]);
  });

  test('the themes that one declaration governs', () => {
    const { index, at } = look();
    expect([index.governedBy(1, at('b')), index.governedBy(0, at('a')), index.governedBy(1, at('lost'))]).toEqual([
      [0, 1],
      [0],
      [1],
    ]);
  });
});

describe('siblings', () => {
  const opinion = (tokens: Readonly<Record<string, readonly string[]>>, asked: string, ramps = ['silt']): unknown => {
    const stepped: Readonly<Record<string, readonly string[]>> = Object.fromEntries(
      ramps.flatMap((name) => Object.entries(ramp(name))),
    );
    const index = tableOf({ ...stepped, ...tokens }, { ramps: ramps.map(steps) });
    const { expected, pointTo, ...said } = openSiblingSteps(index).opinionOf(1, index.tokenAt(asked));
    return { ...said, expected: expected.map(index.pathOf).slice(0, 2), pointTo: pointTo.map(index.pathOf) };
  };
  const on = (from: number, to: number, name = 'silt'): readonly string[] => [
    `{${name}.${String(from)}}`,
    `{${name}.${String(to)}}`,
  ];
  const three = { a: on(7, 3), b: on(7, 3), c: on(7, 3) };

  test('that stand on one step meet again: who is two steps off is odd, who is beside them usual', () => {
    const agreed = { expected: ['silt.3'], pointTo: ['silt.3'], asksNear: false };
    expect(opinion({ ...three, d: on(7, 5) }, 'd')).toEqual({ ...agreed, odd: true, usual: false, because: 'steps' });
    expect(opinion({ ...three, d: on(7, 1) }, 'd')).toEqual({ ...agreed, odd: true, usual: false, because: 'steps' });
    expect(opinion({ ...three, d: on(7, 4) }, 'd')).toEqual({ ...agreed, odd: false, usual: true, because: 'steps' });
    expect(opinion({ ...three, d: on(7, 3) }, 'd')).toEqual({ ...agreed, odd: false, usual: true, because: 'steps' });
  });

  test('that do not agree say nothing of it', () => {
    expect(opinion({ a: on(7, 0), b: on(7, 4), c: on(7, 8), d: on(7, 9) }, 'd')).toMatchObject({
      odd: false,
      usual: false,
      because: 'none',
    });
    // within a step of each other they do
    expect(opinion({ a: on(7, 2), b: on(7, 3), c: on(7, 4), d: on(7, 6) }, 'd')).toMatchObject({
      odd: true,
      because: 'steps',
      expected: ['silt.3', 'silt.2'],
    });
  });

  test('that are too few ask those beside them', () => {
    const silent = { odd: false, usual: false, because: 'none', asksNear: false, expected: [], pointTo: [] };
    expect(opinion({ a: on(7, 3), b: on(7, 3), d: on(7, 6) }, 'd')).toEqual(silent);
    expect(opinion({ a: on(7, 3), b: on(6, 3), c: on(8, 3), d: on(7, 6) }, 'd')).toEqual({
      ...{ odd: true, usual: false, because: 'steps', asksNear: true, expected: ['silt.3'], pointTo: ['silt.3'] },
    });
    expect(opinion({ a: on(7, 3), b: on(5, 3), c: on(9, 3), d: on(7, 6) }, 'd')).toEqual(silent);
    // of the reference theme, and of what stands on no step there, they have none
    expect(opinion({ ...three, d: ['#123456', '{silt.5}'] }, 'd')).toEqual(silent);
    const index = tableOf({ ...ramp('silt'), ...three }, { ramps: [steps('silt')] });
    expect(openSiblingSteps(index).opinionOf(0, index.tokenAt('a'))).toMatchObject({ expected: [], because: 'none' });
  });

  test('that go to one ramp expect it of all on theirs', () => {
    const both = ['silt', 'tide'];
    const go = { a: on(7, 3, 'silt'), b: on(7, 3, 'silt'), c: on(7, 3, 'silt') };
    expect(opinion({ ...go, d: ['{silt.7}', '{tide.3}'] }, 'd', both)).toMatchObject({
      odd: true,
      usual: false,
      because: 'ramp',
      expected: ['silt.3'],
    });
    // on no ramp at all
    expect(opinion({ ...go, d: ['{silt.7}', '#123456'] }, 'd', both)).toMatchObject({ odd: true, usual: false, because: 'ramp' });
    // two of three are less than seven tenths
    const torn = { a: on(7, 3), b: on(7, 3), c: ['{silt.7}', '{tide.3}'] };
    expect(opinion({ ...torn, d: ['{silt.7}', '{tide.3}'] }, 'd', both)).toMatchObject({ odd: false, because: 'steps' });
    expect(opinion({ ...torn, d: ['{silt.7}', '#123456'] }, 'd', both)).toMatchObject({ odd: false, because: 'none' });
  });
});

describe('uses of tokens', () => {
  const index = tableOf(
    {
      ...{
        step: ['#777777', '#777777'],
        'mark.main': ['#111111', '#eeeeee'],
        'mark.note': ['#222222', '#dddddd'],
        'face.page': ['#ffffff', '#000000'],
      },
      ...{ 'alarm.face': ['#ffeeee', '#330000'], 'alarm.mark': ['#990000', '#ff9999'], 'idle.text': ['#123456', '#123456'] },
      ...{
        'idle.face': ['#fedcba', '#fedcba'],
        'idle.other': ['{mark.main}', '{mark.main}'],
        'idle.shadow': ['#000000', '#000000'],
      },
      'edge.soft': ['#cccccc', '#333333'],
    },
    { ramps: [{ name: 'r', steps: ['step'] }], composite: ['idle.shadow'] },
  );
  const at = (path: string): number => index.tokenAt(path);
  const used = (role: Case['role'], path: string, ground: string | null, samples: number, over: Partial<Case> = {}): Case =>
    made({
      role,
      fore: token(at(path), '#000000'),
      back: ground === null ? [] : [layer(token(at(ground), '#ffffff'))],
      samples,
      ...over,
    });
  const usage = (cases: readonly Case[], exempt: readonly string[] = []): TokenUsage =>
    openUsage(openWorld({ index, cases, judges: new Map(), level: 'AA' }), new Set(exempt.map(at)));
  const named = (map: ReadonlyMap<number, number>): unknown =>
    Object.fromEntries([...map].map(([one, weight]) => [index.pathOf(one), weight]));

  test('weigh by how often they are met where nothing is wrong, in all themes, by role and ground', () => {
    const cases = [
      used('ink', 'mark.main', 'face.page', 3),
      used('ink', 'mark.main', 'alarm.face', 1, { theme: 1 }),
      used('ink', 'mark.note', null, 7),
      used('ink', 'mark.note', 'face.page', 7, { findings: new Map([['glow', [0]]]) }),
      used('surface', 'face.page', null, 1),
      made({ fore: written('#000000') }),
      used('ink', 'alarm.mark', 'alarm.face', 1),
      made({ fore: { kind: 'stale', token: at('edge.soft'), alpha: 1, color: parseColor('#cccccc') }, role: 'edge', samples: 1 }),
    ];
    const all = usage(cases, ['alarm.mark']);
    expect(named(all.as('ink'))).toEqual({ 'mark.main': 2 + 1, 'mark.note': 3 });
    expect([named(all.as('surface')), named(all.as('edge')), named(all.as('ring'))]).toEqual([
      { 'face.page': 1 },
      { 'edge.soft': 1 },
      {},
    ]);
    expect([
      named(all.on('ink', at('face.page'))),
      named(all.on('ink', at('alarm.face'))),
      named(all.on('edge', at('face.page'))),
    ]).toEqual([...[{ 'mark.main': 2 }, { 'mark.main': 1 }, {}]]);
    expect([
      all.groundsOf('ink', at('mark.main')),
      all.groundsOf('ink', at('mark.note')),
      all.groundsOf('edge', at('mark.main')),
    ]).toEqual([2, 0, 0]);
  });

  test('are strange where a token, or of an unused one its group, is meant for something else', () => {
    // 3 and 12 of 15 places weigh 2 and 3.7; a fifth of all would be 1.14
    const cases = [used('ink', 'mark.main', null, 3), used('edge', 'mark.main', null, 12), used('edge', 'edge.soft', null, 1)];
    const all = usage(cases);
    expect([all.isStrangeAs('ink', at('mark.main')), all.isStrangeAs('glyph', at('mark.main'))]).toEqual([false, true]);
    expect([all.isStrangeAs('ink', at('edge.soft')), all.isStrangeAs('edge', at('edge.soft'))]).toEqual([true, false]);
    // 1 against 20: log2(2) = 1 and log2(21) = 4.4, together 5.4, of which a fifth is 1.08
    expect(
      usage([used('ink', 'mark.main', null, 1), used('edge', 'mark.main', null, 20)]).isStrangeAs('ink', at('mark.main')),
    ).toBe(true);
    expect(
      usage([used('ink', 'mark.main', null, 1), used('edge', 'mark.main', null, 14)]).isStrangeAs('ink', at('mark.main')),
    ).toBe(false);
    // `mark.note` is met nowhere: others of its group are
    expect([
      all.isStrangeAs('ink', at('mark.note')),
      all.isStrangeAs('ring', at('mark.note')),
      all.isStrangeAs('ink', at('idle.text')),
    ]).toEqual([false, true, false]);
    // uses in other themes than the reference say nothing of what is meant
    expect(usage([used('edge', 'mark.main', null, 9, { theme: 1 })]).isStrangeAs('ink', at('mark.main'))).toBe(false);
  });

  test('of a surface are strange where all that lies on it belongs to another', () => {
    const own = used('ink', 'alarm.mark', 'alarm.face', 1);
    const astray = used('ink', 'alarm.mark', 'face.page', 1, { theme: 1 });
    const base = [used('surface', 'face.page', null, 1), used('surface', 'alarm.face', null, 1)];
    expect(usage([...base, own, astray]).isStrangeAs('surface', at('face.page'))).toBe(true);
    expect(usage([...base, own, astray]).isStrangeAs('surface', at('alarm.face'))).toBe(false);
    expect(usage([...base, astray]).isStrangeAs('surface', at('face.page'))).toBe(false);
    expect(usage([...base, own, astray, used('ink', 'mark.main', 'face.page', 1)]).isStrangeAs('surface', at('face.page'))).toBe(
      false,
    );
  });

  test('belongs to no surface where it lies on more that bear other names', () => {
    const on = (path: string): Case => used('ink', 'alarm.mark', path, 1);
    expect(usage([on('alarm.face'), on('face.page')]).partnersOf(at('alarm.mark'))).toEqual([at('alarm.face')]);
    expect(usage([on('alarm.face'), on('face.page'), on('idle.face')]).partnersOf(at('alarm.mark'))).toEqual([]);
  });

  test('that nobody makes yet may be made as their names say; steps, exempt ones and those others refer to are left out', () => {
    const all = usage([used('ink', 'mark.main', 'face.page', 1)], ['alarm.mark']);
    const idle = (role: Case['role']): readonly string[] => all.idleAs(role).map(index.pathOf);
    expect(idle('ink')).toEqual(['mark.note', 'idle.text', 'idle.other']);
    expect(idle('surface')).toEqual(['alarm.face', 'idle.face', 'idle.other']);
    expect(idle('edge')).toEqual(['idle.other', 'edge.soft']);
    expect(all.idleAs('ink')).toBe(all.idleAs('ink'));
  });
});

describe('tokens as they were met on pages', () => {
  const tokensOf = new Map([
    ['--ink', ['ink', 'ink.twin']],
    ['--face', ['face']],
    ['--step', ['step']],
  ]);
  const standard = { level: 'AA', exempt: [], today: '2031-04-09' } as const;
  const on = (color: string, origin: Origin, over: Partial<Layer> = {}): Layer => ({
    selector: 'html',
    kind: 'color',
    opacity: 1,
    paint: paint(color, origin),
    ...over,
  });
  const run = (origin: Origin, layers: readonly Layer[] = [], over: Partial<ReturnType<typeof textRun>> = {}): Sample =>
    textRun({ color: '#000000', background: '#ffffff', ink: paint('#000000', origin), layers, ...over });
  const met = (
    ...views: readonly (readonly [ViewRef, readonly Sample[]])[]
  ): ReturnType<ReturnType<typeof openTokenUses>['close']> => {
    const uses = openTokenUses(tokensOf, standard);
    for (const [where, samples] of views) uses.add(where, samples);
    return uses.close();
  };
  const usesIn = (...samples: readonly Sample[]): unknown =>
    met([view(), samples]).uses.map(({ token: path, role, count }) => `${path} ${role} ${String(count)}`);

  test('by the role of what they paint; what lies behind is no place of its own', () => {
    expect(usesIn(run(by('--face'), [on('#ffffff', by('--step')), on('#ffffff', literal)]))).toEqual([
      'face ink 1',
      'step surface 1',
    ]);
    expect(usesIn(run(by('--ink')))).toEqual(['ink ink 1', 'ink.twin ink 1']);
    const own = { paint: paint('#000000', by('--face')) };
    expect(
      usesIn(
        surface({ color: '#000000', around: '#ffffff', ...own }),
        shadow({ color: '#000000', beneath: '#ffffff', ...own }),
        picture({}),
      ),
    ).toEqual([...['face surface 1', 'face shadow 1']]);
    const dot = graphic({ color: '#000000', against: '#ffffff', ...own });
    const line = { ...dot.paint, property: 'border-top-color' };
    expect(usesIn(dot, { ...dot, role: 'border', paint: line }, { ...dot, role: 'focus' })).toEqual([
      'face glyph 1',
      'face edge 2',
    ]);
  });

  test('through their own property, the step behind one that is none of a token, a mix, or what was inferred', () => {
    expect(
      usesIn(run({ kind: 'inferred', token: 'a' }), run({ kind: 'derived', properties: ['--face', '--none', '--step'] })),
    ).toEqual(['a ink 1', 'face ink 1', 'step ink 1']);
    expect(usesIn(run(by('--face', { fallback: true })), run(literal), run(by('--none')))).toEqual([]);
    const found = met([view(), [run(by('--none', { step: '--step' })), run(by('--face', { step: '--step' }))]]);
    expect([[...found.through], found.uses.map((each) => each.token)]).toEqual([['step'], ['step', 'face']]);
  });

  test('counted at rest, in the theme that has most of them', () => {
    const found = met(
      [view(), [run(by('--face')), run(by('--face'))]],
      [view({ theme: 'dusk' }), [run(by('--face'))]],
      [view({ state: 'hover' }), [run(by('--face')), run(by('--step'))]],
    );
    expect(found.uses).toEqual([
      { token: 'face', role: 'ink', count: 2 },
      { token: 'step', role: 'ink', count: 1 },
    ]);
    expect([...found.placesIn].map(([theme, places]) => [theme, Object.fromEntries(places)])).toEqual([
      ['noon', { face: 2, step: 0 }],
      ['dusk', { face: 1 }],
    ]);
  });

  test('as pairs of an ink and the surface that hides what is below', () => {
    const pairs = (...layers: readonly Layer[]): readonly unknown[] =>
      met([view(), Array.from({ length: 5 }, () => run(by('--ink'), layers))]).pairs.map(({ ink, surface: face, required }) => [
        ink,
        face,
        required,
      ]);
    expect(pairs(on('#111111', by('--step')), on('#ffffff', by('--face')))).toEqual([['ink', 'face', 4.5]]);
    for (const top of [
      on('#ffffff', by('--face'), { opacity: 0.9 }),
      on('#ffffff', by('--face'), { blend: 'multiply' }),
      on('#ffffff80', by('--face')),
      on('#ffffff', by('--face', { alpha: 0.5 })),
      on('#ffffff', by('--face', { fallback: true })),
      on('#ffffff', literal),
      { selector: 'html', kind: 'picture', opacity: 1 } as const,
    ])
      expect(pairs(top)).toEqual([]);
    expect(met([view({ state: 'hover' }), [run(by('--ink'), [on('#ffffff', by('--face'))])]]).pairs).toEqual([]);
    expect(met([view(), [run(by('--ink'), [on('#ffffff', by('--face'))], { exempt: 'inactive' })]]).pairs).toEqual([]);
  });
});

describe('a build that writes tokens out', () => {
  const index = tableOf(
    { step: ['#111111', '#222222'], role: ['{step}', '{step}'], same: ['#111111', '#999999'] },
    { ramps: [{ name: 'r', steps: ['step'] }] },
  );
  const on = (color: string, selector: string | null): Layer => ({
    selector,
    kind: 'color',
    opacity: 1,
    paint: paint(color, literal),
  });
  const run = (key: string, color: string, layers: readonly Layer[] = []): Sample =>
    textRun({ key, color, background: '#ffffff', ink: paint(color, literal), layers });
  const inferred = (noon: readonly Sample[], dusk: readonly Sample[]): unknown => {
    const inference = openInference(index);
    inference.add(view(), noon);
    inference.add(view({ theme: 'dusk' }), dusk);
    inference.add(view({ theme: 'gone' }), dusk);
    const told = ({ origin }: Paint): string => (origin.kind === 'inferred' ? origin.token : origin.kind);
    return inference
      .apply(view(), noon)
      .map((sample) =>
        sample.kind === 'picture'
          ? sample
          : [
              told(sample.kind === 'text' ? sample.ink : sample.paint),
              ...('layers' in sample ? sample.layers.map((each) => (each.paint === undefined ? null : told(each.paint))) : []),
            ],
      );
  };

  test('is told by properties', () => {
    expect(isBaked(tableOf({}), [])).toBe(false);
    expect([isBaked(index, []), isBaked(index, [{ theme: 'noon', name: '--role', value: '' }])]).toEqual([true, false]);
  });

  test('names the token that fits in all themes, roles before the steps they point at', () => {
    expect(inferred([run('a', '#111111')], [run('a', '#222222')])).toEqual([['role']]);
    expect(inferred([run('a', '#111111')], [run('a', '#999999')])).toEqual([['same']]);
    expect(inferred([run('a', '#111111')], [run('a', '#777777')])).toEqual([['literal']]);
    expect(inferred([run('a', '#111111')], [])).toEqual([['role']]);
    expect(inferred([run('a', '#111111')], [run('b', '#999999')])).toEqual([['role']]);
    expect(inferred([textRun({ color: '#111111', background: '#ffffff', ink: paint('sea', literal) })], [])).toEqual([['literal']]);
  });

  test('takes a surface for one place of all that lies on it', () => {
    expect(
      inferred(
        [
          run('a', '#ffffff', [on('#111111', 'main')]),
          run('b', '#ffffff', [on('#111111', 'nav'), { selector: 'nav', kind: 'picture', opacity: 1 }]),
        ],
        [run('c', '#ffffff', [on('#999999', 'main')])],
      ),
    ).toEqual([
      ['literal', 'same'],
      ['literal', 'role', null],
    ]);
    const face = surface({ color: '#111111', around: '#ffffff', layers: [on('#111111', null)] });
    const fall = shadow({ color: '#111111', beneath: '#ffffff' });
    const dot = graphic({ color: '#111111', against: '#ffffff' });
    const photo = picture({});
    expect(
      inferred(
        [face, fall, dot, photo],
        [{ ...face, color: '#999999', paint: paint('#999999', literal), layers: [on('#222222', null)] }],
      ),
    ).toEqual([['same', 'role'], ['role'], ['role'], photo]);
    const traced = textRun({ color: '#111111', background: '#ffffff', ink: paint('#111111', by('--step')) });
    expect(inferred([traced], [])).toEqual([['token']]);
  });

  test('a property that computes to something else than its files is told where the difference lies', () => {
    const faults = findBuildFaults(index, [
      { theme: 'dusk', name: '--same', value: '#000000' },
      { theme: 'dusk', name: '--step', value: ' #333333' },
      { theme: 'dusk', name: '--role', value: '#333333' },
      { theme: 'noon', name: '--step', value: '#333333' },
      { theme: 'noon', name: '--step', value: '#333333 ' },
      { theme: 'noon', name: '--step', value: '#111111' },
      { theme: 'gone', name: '--step', value: '#333333' },
    ]);
    expect(faults.map((fault) => [fault.property, fault.theme, toCssText(fault.served), toCssText(fault.resolved)])).toEqual([
      ['--step', 0, '#333333', '#111111'],
      ['--step', 1, '#333333', '#222222'],
      ['--same', 1, '#000000', '#999999'],
    ]);
    expect(staleTokens(faults, 2).map((set) => [...set])).toEqual([[0], [0, 2]]);
    const isStale = hangsOnStale(index, faults);
    expect([isStale(0, 1), isStale(0, 0), isStale(0, 2), isStale(1, 2)]).toEqual([true, true, false, true]);
  });
});

describe('properties of pages in the place of tokens', () => {
  const themes = [
    { name: 'noon', tone: 'light' },
    { name: 'dusk', tone: 'dark' },
  ] as const;
  const served = (
    values: Readonly<Record<string, readonly (string | null)[]>>,
  ): readonly { readonly theme: string; readonly name: string; readonly value: string }[] =>
    Object.entries(values).flatMap(([name, each]) =>
      each.flatMap((value, i) => (value === null ? [] : [{ theme: themes[i]?.name ?? '', name, value }])),
    );
  const table = (
    values: Parameters<typeof served>[0],
    samples: readonly (readonly [string, Sample])[] = [],
    reference = 'noon',
  ): ReturnType<ReturnType<typeof openPageTable>['close']> => {
    const open = openPageTable({ themes, reference });
    for (const [theme, sample] of samples) open.add(view({ theme }), [sample]);
    return open.close(served(values));
  };
  const told = (found: ReturnType<typeof table>): unknown =>
    Object.fromEntries(
      found.tokens.map(({ path, definitions }) => [
        path,
        definitions.map((one) => (one === null ? null : one.kind === 'alias' ? `{${one.target}}` : toCssText(one.color))),
      ]),
    );
  const run = (origin: Origin, hops?: readonly WrittenPlace[], color = '#111111'): Sample =>
    textRun({ color, background: '#ffffff', ink: paint(color, origin, hops) });
  const hop = (property: string, value: string): WrittenPlace => ({ property, value, rule: ':root' });

  test('are those with a colour, alone or within a longer value', () => {
    const found = table({
      '--ink': ['#111111', '#222222'],
      '--gap': ['4px', '4px'],
      '--fall': ['0 1px 2px rgb(1 2 3)', null],
      '--edge': ['1px solid #abc', '1px solid #abc'],
    });
    expect(told(found)).toEqual({ '--edge': ['#aabbcc', '#aabbcc'], '--fall': ['#010203', null], '--ink': ['#111111', '#222222'] });
    expect(found.tokens.map(({ path, properties, isComposite }) => [path, properties, isComposite])).toEqual([
      ['--edge', ['--edge'], true],
      ['--fall', ['--fall'], true],
      ['--ink', ['--ink'], undefined],
    ]);
    expect([found.reference, table({}, [], 'dusk').reference, table({}, [], 'gone').reference]).toEqual([0, 1, 0]);
    // equal in two themes is taken for one declaration
    const ids = (path: string): unknown =>
      new Set(found.tokens.find((each) => each.path === path)?.definitions.map((one) => one?.declared.id)).size;
    expect([ids('--edge'), ids('--ink')]).toEqual([1, 2]);
  });

  test('point at the end of their chain, where they are the same colour', () => {
    const values = {
      '--ink': ['#111111', '#222222'],
      '--step': ['#111111', '#222222'],
      '--other': ['#111111', '#999999'],
    } as const;
    expect(told(table(values, [['noon', run(by('--ink', { step: '--step' }))]]))).toMatchObject({
      '--ink': ['{--step}', '#222222'],
    });
    expect(told(table(values, [['dusk', run(by('--ink', { step: '--other' }))]]))).toMatchObject({
      '--ink': ['#111111', '#222222'],
    });
    expect(told(table(values, [['noon', run(by('--ink', { step: '--step', fallback: true }))]]))).toMatchObject({
      '--ink': ['#111111', '#222222'],
    });
    expect(
      told(
        table(values, [
          ['noon', run(by('--ink'))],
          ['gone', run(by('--ink', { step: '--step' }))],
          ['noon', picture({})],
        ]),
      ),
    ).toMatchObject({ '--ink': ['#111111', '#222222'] });
    const on: Layer = { selector: 'html', kind: 'color', opacity: 1, paint: paint('#111111', by('--ink', { step: '--step' })) };
    expect(told(table(values, [['noon', textRun({ color: '#111111', background: '#ffffff', layers: [on] })]]))).toMatchObject({
      '--ink': ['{--step}', '#222222'],
    });
    expect(
      told(
        table(values, [
          ['noon', shadow({ color: '#111111', beneath: '#ffffff', paint: paint('#111111', by('--ink', { step: '--step' })) })],
        ]),
      ),
    ).toMatchObject({ '--ink': ['{--step}', '#222222'] });
    // of two, the first in order, whichever came first
    for (const ends of [
      ['--other', '--step'],
      ['--step', '--other'],
    ])
      expect(
        told(
          table(
            values,
            ends.map((step) => ['noon', run(by('--ink', { step }))] as const),
          ),
        ),
      ).toMatchObject({ '--ink': ['{--other}', '#222222'] });
  });

  test('point at what their declaration names, in other themes too where the colours agree', () => {
    const values = { '--ink': ['#111111', '#222222'], '--mark': ['#111111', '#222222'], '--step': ['#111111', '#222222'] } as const;
    const hops = [hop('color', 'var(--ink)'), hop('--ink', 'var( --mark )'), hop('--mark', 'var(--step)')];
    expect(told(table(values, [['noon', run(by('--ink', { step: '--step' }), hops)]]))).toEqual({
      '--ink': ['{--mark}', '{--mark}'],
      '--mark': ['{--step}', '{--step}'],
      '--step': ['#111111', '#222222'],
    });
    expect(
      told(table({ ...values, '--mark': ['#111111', '#777777'] }, [['noon', run(by('--ink', { step: '--step' }), hops)]])),
    ).toMatchObject({ '--ink': ['{--mark}', '#222222'] });
    // with a fallback, or more than a property, it names none
    expect(
      told(table(values, [['noon', run(by('--ink'), [hop('--ink', 'var(--mark, #fff)'), hop('--mark', '1px var(--step)')])]])),
    ).toMatchObject({ '--ink': ['#111111', '#222222'], '--mark': ['#111111', '#222222'] });
    // two themes that refer in opposite ways lend each other nothing
    const opposite = table(values, [
      ['noon', run(by('--ink'), [hop('--ink', 'var(--mark)')])],
      ['dusk', run(by('--ink'), [hop('--mark', 'var(--ink)')])],
    ]);
    expect(told(opposite)).toMatchObject({ '--ink': ['{--mark}', '#222222'], '--mark': ['#111111', '{--ink}'] });
  });

  test('that a component sets for itself lead to where it takes them from', () => {
    const { locals } = table({}, [
      ['noon', run(by('--own'), [hop('--own', 'var(--ink)')])],
      ['dusk', run(by('--own'), [hop('--else', 'var(--ink)')])],
      ['dusk', run(by('--own', { step: '--ink' }), [hop('--own', 'var(--ink)')])],
      ['dusk', run(by('--own'), [hop('--own', '#123456')])],
      ['dusk', run(literal, [hop('--own', 'var(--ink)')])],
    ]);
    expect([...(locals ?? [])]).toEqual([[localKey('noon', '--own', '#111111'), '--ink']]);
  });

  test('are ramps where their names and references say so', () => {
    const values = Object.fromEntries(
      ['100', '200', '300', '400'].map((step, i) => [`--silt-${step}`, [GREYS[i] ?? '', GREYS[i] ?? '']]),
    );
    const found = table({ ...values, '--ink': [GREYS[2] ?? '', GREYS[2] ?? ''] }, [
      ['noon', run(by('--ink', { step: '--silt-300' }), undefined, GREYS[2])],
    ]);
    expect(found.ramps).toEqual([{ name: '--silt', steps: ['--silt-100', '--silt-200', '--silt-300', '--silt-400'] }]);
  });

  test('that hold for the whole page are the root’s, and what the body sets anew', () => {
    const at = (name: string, value: string, where: string): Parameters<typeof pageWide>[0][number] => ({ name, value, at: where });
    expect([
      ...pageWide([at('--a', '2', 'html > body'), at('--a', '1', 'html'), at('--b', '1', 'html'), at('--c', '1', 'main')]),
    ]).toEqual([
      ['--a', '2'],
      ['--b', '1'],
    ]);
  });
});

describe('coverage', () => {
  const run = (origin: Origin, over: Partial<ReturnType<typeof textRun>> = {}): Sample =>
    textRun({ color: '#000000', background: '#ffffff', ink: paint('#000000', origin), ...over });

  test('counts painted colours by theme, page and owner; what is no choice of the page is left out', () => {
    const counter = openCoverage();
    counter.add(
      view({ theme: 'noon' }),
      [
        run(by('--a')),
        run(by('--a', { fallback: true })),
        run(literal),
        run({ kind: 'derived', properties: [] }),
        run({ kind: 'inferred', token: 'a' }),
      ],
      'quay office',
    );
    counter.add(
      view({ theme: 'noon' }),
      [
        run({ kind: 'system' }),
        run({ kind: 'unknown', why: '' }),
        picture({}),
        run(literal, { exempt: 'hidden' }),
        run(literal, { owner: 'pilots' }),
      ],
      'quay office',
    );
    counter.add(view({ theme: 'dusk', page: 'tides' }), [
      shadow({ color: '#000000', beneath: '#ffffff' }),
      run(by('--a'), { exempt: 'inactive' }),
    ]);
    const rows = counter.rows();
    expect(rows).toEqual([
      { theme: 'dusk', page: 'tides', owner: '', painted: 2, throughTokens: 1 },
      { theme: 'noon', page: 'quay', owner: 'pilots', painted: 1, throughTokens: 0 },
      { theme: 'noon', page: 'quay', owner: 'quay office', painted: 5, throughTokens: 3 },
    ]);
    expect([coverageShare(rows), coverageShare(rows, ({ theme }) => theme === 'dusk'), coverageShare(rows, () => false)]).toEqual([
      0.5, 0.5, 1,
    ]);
  });
});
