// From the samples of a run to cases, and what a world knows of them. Derived: what is painted alike is one case, whatever order it came in.
import { describe, expect, test } from 'vitest';
import type { Check } from '../../src/checks/check.ts';
import { glow } from '../../src/checks/glow.ts';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { unthemed } from '../../src/checks/unthemed.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Finding } from '../../src/samples/finding.ts';
import type { Layer, Origin, Paint, WrittenPlace } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { ViewRef } from '../../src/samples/view.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import type { IsExempt } from '../../src/triage/cases/collect-cases.ts';
import { openCases } from '../../src/triage/cases/collect-cases.ts';
import { elementNumber } from '../../src/triage/cases/element-number.ts';
import { openPaintReader } from '../../src/triage/cases/paint-ref.ts';
import { mendedGround } from '../../src/triage/choose/mended-ground.ts';
import { partOf } from '../../src/triage/propose/candidate.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import type { Change } from '../../src/triage/recolor/change.ts';
import { openWorld } from '../../src/triage/world.ts';
import { graphic, picture, shadow, surface, textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const index = tableOf({ ink: ['#333333', '#dddddd'], face: ['#ffffff', '#222222'], twin: ['#ffffff', '#222222'] });
const by = (property: string): Origin => ({ kind: 'token', property, alpha: 1 });
const literal: Origin = { kind: 'literal' };
const paint = (color: string, origin: Origin, hops?: readonly WrittenPlace[]): Paint => ({
  property: 'color',
  color,
  origin,
  ...(hops === undefined ? {} : { written: hops }),
});
const on = (color: string, origin: Origin, selector: string | null = 'main'): Layer => ({
  selector,
  kind: 'color',
  opacity: 1,
  paint: paint(color, origin),
});
const view = (theme = 'noon', page = 'quay'): ViewRef => ({ id: `${page}@${theme}`, page, theme, state: 'rest', viewport: 'desk' });
const hop = (rule: string): WrittenPlace => ({ property: 'color', value: 'x', rule });

const run = (key: string, over: Partial<ReturnType<typeof textRun>> = {}): Sample =>
  textRun({
    ...{
      key,
      selector: `#${key}`,
      color: '#333333',
      background: '#ffffff',
      ink: paint('#333333', by('--ink')),
      layers: [on('#ffffff', by('--face'))],
    },
    ...over,
  });
const finding = (place: ViewRef, key: string, over: Partial<Finding> = {}): Finding => ({
  ...{
    id: key,
    check: 'text-contrast',
    level: 'error',
    key,
    selector: `#${key}`,
    rect: [0, 0, 1, 1],
    message: '',
    measured: {},
    expected: {},
  },
  ...{
    view: place.id,
    page: place.page,
    theme: place.theme,
    state: 'rest',
    viewport: 'desk',
    since: '',
    status: 'new',
    cause: null,
  },
  ...over,
});

type Views = readonly (readonly [ViewRef, readonly Sample[]])[];
function casesOf(
  views: Views,
  findings: readonly Finding[] = [],
  over: { readonly isExempt?: IsExempt; readonly checks?: readonly Check[] } = {},
): readonly Case[] {
  const { isExempt = () => false, checks = [textContrast, glow, unthemed] } = over;
  const judges = checks.map((check) => check.with());
  const open = openCases({ index, readPaint: openPaintReader(index, () => false), findings, judges, level: 'AA', isExempt });
  for (const [place, samples] of views) open.add(place, samples);
  return open.close();
}
const told = (cases: readonly Case[]): unknown => cases.map((one) => `${one.role} ${String(one.theme)} ${String(one.samples)}`);

describe('cases', () => {
  test('are what is painted alike in one theme; themes that the table lacks are left out', () => {
    const views: Views = [
      [view(), [run('a'), run('b')]],
      [view('noon', 'tides'), [run('c')]],
      [
        view('dusk'),
        [
          run('a', {
            color: '#dddddd',
            background: '#222222',
            ink: paint('#dddddd', by('--ink')),
            layers: [on('#222222', by('--face'))],
          }),
        ],
      ],
      [view('stark'), [run('a')]],
    ];
    const [noon, dusk, ...others] = casesOf(views);
    expect(others).toEqual([]);
    expect(told(casesOf(views))).toEqual(['ink 0 3', 'ink 1 1']);
    expect(noon?.family).toBe(dusk?.family);
    expect(noon?.key).not.toBe(dusk?.key);
    expect([noon?.id, dusk?.id]).toEqual([0, 1]);
    expect(noon).toMatchObject({
      required: 4.5,
      foreOpacity: 1,
      foreFixed: false,
      backFixed: false,
      judged: true,
      isLifted: false,
      filters: [],
    });
    expect(toHex(noon?.seenFore ?? shown('#ff0000'))).toBe('#333333');
  });

  test('leave no trace of the order they came in', () => {
    const samples = [run('a'), run('b'), run('c', { large: true }), run('d', { exempt: 'inactive' })];
    const forth = casesOf([
      [view(), samples],
      [view('noon', 'tides'), samples],
    ]);
    const back = casesOf([
      [view('noon', 'tides'), samples.toReversed()],
      [view(), samples.toReversed()],
    ]);
    // The view counted last is no part of a case.
    const kept = (cases: readonly Case[]): unknown => cases.map((one) => ({ ...one, last: null }));
    expect(kept(back)).toEqual(kept(forth));
    expect(forth.map(({ key }) => key)).toEqual(forth.map(({ key }) => key).toSorted());
  });

  test.each<[string, Partial<ReturnType<typeof textRun>>]>([
    ['another ink', { ink: paint('#333333', literal) }],
    ['another ground', { layers: [on('#ffffff', by('--twin'))] }],
    ['another size', { large: true }],
    ['another opacity', { inkOpacity: 0.9, color: '#474747' }],
    ['what is asked nothing', { exempt: 'inactive' }],
    ['what was seen otherwise', { color: '#777777' }],
    ['another backdrop than its layers make', { background: '#eeeeee', backgroundSpread: ['#eeeeee'] }],
    ['a backdrop nobody knows', { layers: [] }],
  ])('are two where one has %s', (_, over) => {
    expect(casesOf([[view(), [run('a'), run('b', over)]]])).toHaveLength(2);
  });

  test('are one whatever was seen, where the sums agree', () => {
    expect(casesOf([[view(), [run('a'), run('b', { color: '#343434' })]]])).toHaveLength(1);
    const varied = (spread: readonly string[]): Sample =>
      run('x', { key: spread.join(), layers: [], background: spread[0] ?? '', backgroundSpread: spread });
    expect(casesOf([[view(), [varied(['#ffffff']), varied(['#eeeeee'])]]])).toHaveLength(2);
  });

  test('show the first place by view and key, and where the first of them is written', () => {
    const [one] = casesOf([
      [view('noon', 'tides'), [run('a')]],
      [
        view(),
        [
          run('c', { ink: paint('#333333', by('--ink'), [hop('.c')]) }),
          run('b'),
          run('d', { ink: paint('#333333', by('--ink'), [hop('.d')]) }),
        ],
      ],
    ]);
    expect([one?.place.view.id, one?.place.sample?.key, one?.wrote]).toEqual(['quay@noon', 'b', [hop('.c')]]);
    const [late] = casesOf([
      [view(), [run('b', { ink: paint('#333333', by('--ink'), [hop('.b')]) })]],
      [view('noon', 'alarms'), [run('z', { ink: paint('#333333', by('--ink'), [hop('.z')]) })]],
    ]);
    expect([late?.place.view.page, late?.wrote]).toEqual(['alarms', [hop('.z')]]);
  });

  test('know the elements that paint them and that they lie on', () => {
    const face = surface({
      color: '#ffffff',
      around: '#ffffff',
      key: 'f',
      selector: '#f',
      paint: paint('#ffffff', by('--face')),
      layers: [on('#ffffff', by('--twin'), null)],
    });
    const cases = casesOf([[view(), [face, run('a'), run('b', { layers: [on('#ffffff', by('--face'), 'nav')] })]]]);
    const [ink, panel] = [cases.find(({ role }) => role === 'ink'), cases.find(({ role }) => role === 'surface')];
    // The canvas is the root's.
    const onCanvas = [[elementNumber(view(), '#f')], [elementNumber(view(), 'html')]];
    expect([[...(panel?.elements ?? [])], [...(panel?.grounds ?? [])]]).toEqual(onCanvas);
    expect([ink?.elements.size, ink?.grounds]).toEqual([0, new Set([elementNumber(view(), 'main'), elementNumber(view(), 'nav')])]);
    // one number in all themes; another for another page, state, viewport or element
    const places = [view(), view('noon', 'tides'), { ...view(), state: 'hover' }, { ...view(), viewport: 'phone' }];
    const numbers = [
      ...places.map((place) => elementNumber(place, '#a')),
      elementNumber(view(), '#b'),
      elementNumber({ ...view(), page: 'qua', state: 'yrest' }, '#a'),
    ];
    expect(new Set(numbers).size).toBe(6);
    expect(elementNumber(view('dusk'), '#a')).toBe(numbers[0]);
    for (const number of numbers) expect(Number.isInteger(number) && number >= 0 && number < 2 ** 31).toBe(true);
  });

  test('list their findings by check; exempt ones and drift need no cause', () => {
    const places = [view(), view('noon', 'tides')] as const;
    const findings = [
      finding(places[0], 'a'),
      finding(places[1], 'a'),
      finding(places[0], 'a', { check: 'unthemed' }),
      finding(places[0], 'b', { status: 'exempt' }),
      finding(places[0], 'b', { check: 'drift' }),
      finding(places[0], 'gone'),
    ];
    const hops = paint('#333333', by('--ink'), [hop('.a')]);
    const [one] = casesOf(
      places.map((place) => [place, [run('a', { ink: hops }), run('b')]] as const),
      findings,
    );
    expect([...(one?.findings ?? [])]).toEqual([
      ['text-contrast', [0, 1]],
      ['unthemed', [2]],
    ]);
    expect([...(one?.written ?? [])]).toEqual(
      [0, 2, 1].map((at) => [at, [hop('.a')]]).toSorted(([a], [b]) => Number(a === 1) - Number(b === 1)),
    );
    expect(one?.samples).toBe(4);
  });

  test('what is hidden is none, unless something is found there', () => {
    const hidden = run('a', { exempt: 'hidden' });
    expect(casesOf([[view(), [hidden]]])).toEqual([]);
    expect(casesOf([[view(), [hidden]]], [finding(view(), 'a')])).toHaveLength(1);
  });

  test('know the checks that an exemption covers there', () => {
    const isExempt: IsExempt = (_, sample, check) => sample.key === 'a' && check !== 'glow';
    const cases = casesOf([[view(), [run('a', { exemptions: [0] }), run('b', { exemptions: [] }), run('c')]]], [], { isExempt });
    // glow judges no text
    expect(cases.map(({ exempt, samples }) => [[...exempt], samples]).toSorted()).toEqual([
      [[], 2],
      [['text-contrast', 'unthemed'], 1],
    ]);
    // nobody is asked where no exemption matches
    expect(casesOf([[view(), [run('a')]]], [], { isExempt: () => true })[0]?.exempt.size).toBe(0);
  });
});

describe('pictures and filters', () => {
  const filtered = (key: string, filters: readonly string[], hops?: readonly WrittenPlace[]): Sample =>
    picture({
      key,
      selector: `#${key}`,
      filters: filters.map((text) => ({
        selector: text.split('|')[0] ?? '',
        filter: text.split('|')[1] ?? '',
        origin: 'author',
        ...(hops === undefined ? {} : { written: hops }),
      })),
    });

  test('of one chain of filters are one case', () => {
    const cases = casesOf(
      [
        [
          view(),
          [
            filtered('a', ['html|invert(1)']),
            filtered('b', ['html|invert(1)']),
            filtered('c', ['#c|invert(1)']),
            filtered('d', []),
          ],
        ],
      ],
      [finding(view(), 'b', { check: 'inverted-picture' })],
    );
    expect(told(cases)).toEqual(['picture 0 1', 'picture 0 1', 'picture 0 2']);
    const turned = cases.find(({ samples }) => samples === 2);
    expect(turned).toMatchObject({
      filters: [{ selector: 'html', filter: 'invert(1)' }],
      required: 0,
      judged: true,
      foreFixed: true,
      backFixed: true,
      fore: { kind: 'unknown' },
    });
    expect([...(turned?.findings ?? [])]).toEqual([['inverted-picture', [0]]]);
    expect(turned?.facts).toEqual({ kind: 'picture', standing: '', edged: false });
  });

  test('where a filter is declared is learnt from whoever was looked up', () => {
    const cases = casesOf([[view(), [filtered('a', ['html|invert(1)']), filtered('b', ['html|invert(1)'], [hop('.b')])]]]);
    expect(cases[0]?.filters).toEqual(
      [{ selector: 'html', filter: 'invert(1)', origin: 'author', written: [hop('.b')] }].map(({ origin: _, ...rest }) => rest),
    );
  });

  // Black on white comes out as white on black.
  const turned = (key: string, over: Partial<ReturnType<typeof textRun>> = {}): Sample =>
    run(key, { color: '#cccccc', background: '#000000', backgroundSpread: ['#000000'], ...over });

  test('of the page explain what was seen under them, and only then', () => {
    const under = (filters: readonly string[], sample = turned('a')): Case | undefined =>
      casesOf([[view(), [filtered('p', filters), sample]]]).find(({ role }) => role === 'ink');
    for (const root of ['html', ':root', 'body', 'html > body'])
      expect(under([`${root}|invert(1)`])).toMatchObject({
        filters: [{ selector: root, filter: 'invert(1)' }],
        foreFixed: false,
        backFixed: false,
      });
    expect(under(['main|invert(1)'])).toMatchObject({ filters: [], foreFixed: true, backFixed: true });
    expect(under(['html|invert(1)'], run('a'))).toMatchObject({ filters: [], foreFixed: false });
    expect(under(['html|grayscale(1)'])).toMatchObject({ filters: [], foreFixed: true });
    // innermost first: the body’s before the root’s; two inversions would cancel
    const both = under(['html|invert(1)', 'body|brightness(1)']);
    expect(both?.filters.map(({ selector }) => selector)).toEqual(['body', 'html']);
  });

  test('of a theme do not reach into another; what comes to be painted alike is one case', () => {
    const dusk: Sample = run('a', {
      color: '#222222',
      background: '#dddddd',
      backgroundSpread: ['#dddddd'],
      ink: paint('#dddddd', by('--ink')),
      layers: [on('#222222', by('--face'))],
    });
    const cases = casesOf(
      [
        [
          view(),
          [filtered('p', ['html|invert(1)']), turned('a'), turned('b', { color: '#cbcbcb' }), turned('c', { color: '#cacaca' })],
        ],
        [view('dusk'), [dusk]],
      ],
      [finding(view(), 'a'), finding(view(), 'c'), finding(view(), 'b', { check: 'unthemed' })],
    ).filter(({ role }) => role === 'ink');
    expect(cases.map(({ theme, samples, filters }) => [theme, samples, filters.length])).toEqual([
      [0, 3, 1],
      [1, 1, 0],
    ]);
    expect(Object.fromEntries(cases[0]?.findings ?? [])).toEqual({ 'text-contrast': [0, 1], unthemed: [2] });
    expect(cases[0]?.place.sample?.key).toBe('a');
  });

  test('of a shadow are taken into account without layers', () => {
    const fall = shadow({ key: 's', color: '#bfbfbf', beneath: '#ffffff', paint: paint('#00000080', literal) });
    const [plain] = casesOf([[view(), [fall]]]);
    expect(plain).toMatchObject({ role: 'shadow', back: [], backFixed: true, foreFixed: false });
    expect(plain?.share).toBeCloseTo(64 / 255 / (128 / 255), 6);
    const inverted = casesOf([
      [view(), [filtered('p', ['html|invert(1)']), { ...fall, color: '#404040', beneath: '#000000' }]],
    ]).find(({ role }) => role === 'shadow');
    expect(inverted).toMatchObject({ filters: [{ selector: 'html' }], foreFixed: false, backFixed: false });
  });
});

describe('a world', () => {
  const judges = new Map([textContrast, unthemed, glow].map((check) => [check.id, check.with()]));
  const cases = [
    made({
      id: 0,
      family: 'f',
      fore: token(0, '#333333'),
      back: [layer(token(1, '#ffffff'))],
      findings: new Map([
        ['unthemed', [9, 3]],
        ['text-contrast', [5]],
      ]),
    }),
    made({ id: 1, family: 'f', theme: 1, fore: token(0, '#dddddd'), back: [layer(token(0, '#222222'))] }),
    made({
      id: 2,
      family: 's',
      role: 'surface',
      fore: token(1, '#ffffff'),
      back: [],
      elements: new Set([7]),
      facts: { kind: 'surface', standing: '', edged: false },
    }),
    made({
      id: 3,
      family: 't',
      theme: 1,
      role: 'surface',
      fore: written('#222222'),
      back: [],
      elements: new Set([8, 7]),
      facts: { kind: 'surface', standing: '', edged: false },
      exempt: new Set(['unthemed']),
    }),
    made({ id: 4, family: 'u', theme: 1, role: 'surface', elements: new Set([9]) }),
    made({ id: 5, family: 'v', facts: { kind: 'shadow', standing: '', edged: false } }),
  ];
  const open = (): ReturnType<typeof openWorld> => openWorld({ index, cases, judges, level: 'AA' });
  const at = (id: number): Case => cases[id] ?? made();

  test('has a fault for each check of each case, by name, with its findings in order', () => {
    const world = open();
    expect(world.faults.map(({ id, case: one, check, findings, weight }) => [id, one.id, check, findings, weight])).toEqual([
      [0, 0, 'text-contrast', [5], 1],
      [1, 0, 'unthemed', [3, 9], Math.log2(3)],
    ]);
    expect([world.faultsOf(at(0)).length, world.faultsOf(at(1))]).toEqual([2, []]);
  });

  test('knows cases by token, family and reference', () => {
    const world = open();
    expect([world.casesOf(0, 0), world.casesOf(0, 1), world.casesOf(1, 0), world.casesOf(1, 1), world.casesOf(9, 0)]).toEqual([
      [0],
      [0, 2],
      [1],
      [],
      [],
    ]);
    expect(world.familyOf(at(1)).map(({ id }) => id)).toEqual([0, 1]);
    expect(world.familyOf(made({ family: 'none' }))).toEqual([]);
    // a surface by its elements, else by its family
    expect([0, 1, 3, 4].map((id) => world.inReference(at(id))?.id)).toEqual([0, 0, 2, undefined]);
    expect(world.inReference(at(4))).toBeNull();
  });

  test('asks of each case the checks of its kind that no exemption covers', () => {
    const world = open();
    const duties = (id: number): readonly string[] => world.dutiesOf(at(id)).map((judge) => judge.id);
    expect([duties(0), duties(2), duties(3), duties(5)]).toEqual([['text-contrast', 'unthemed'], ['unthemed'], [], ['glow']]);
  });
});

describe('a run as it would be', () => {
  const judges = new Map([[textContrast.id, textContrast.with()]]);
  const one = made({
    id: 0,
    fore: token(0, '#333333', 0.5),
    back: [layer(token(1, '#ffffff'))],
    findings: new Map([
      ['text-contrast', [0]],
      ['unthemed', [1]],
    ]),
  });
  const stale = made({ id: 1, fore: { kind: 'stale', token: 0, alpha: 1, color: parseColor('#999999') } });
  const other = made({ id: 2 });
  const open = (): ReturnType<typeof openGround> =>
    openGround(openWorld({ index, cases: [one, stale, other], judges, level: 'AA' }), new Set([2]));
  const mended = (change: Change, over: object = {}, ground = open()): ReturnType<typeof mendedGround> => {
    const part = partOf(ground, change, 'token');
    return mendedGround(
      ground,
      [{ change, recoloring: { ...part.recoloring, ...over } }],
      new Set(ground.world.faults.slice(0, 1)),
    );
  };
  const value = (themes: readonly number[]): Change => ({ kind: 'value', token: 0, themes, color: parseColor('#111111') });

  test('has the token changed, in its themes, and what it paints with it; what was explained is gone', () => {
    const ground = open();
    const after = mended(value([0]), {}, ground);
    const [first, , third] = after.world.cases;
    expect([0, 1].map((theme) => after.world.index.colorOf(theme, 0))).toEqual([parseColor('#111111'), parseColor('#dddddd')]);
    expect(first).toMatchObject({ fore: { kind: 'token', token: 0, alpha: 0.5, color: { ...parseColor('#111111'), alpha: 0.5 } } });
    // half of #11 on white: 136
    expect(toHex(first?.seenFore ?? shown('#ffffff'))).toBe('#888888');
    expect([...(first?.findings.keys() ?? [])]).toEqual(['unthemed']);
    expect(third).toBe(other);
    expect([after.exempt, after.world.level, after.world.answers]).toEqual([ground.exempt, 'AA', ground.world.answers]);
    expect(mendedGround(ground, [], new Set())).toBe(ground);
  });

  test('keeps one declaration one where all that it governs changes, and parts it else', () => {
    const shared = tableOf({ ink: ['#333333', '#333333'], other: ['#000000', '#000000'] }, { shared: ['ink'] });
    const here = openGround(openWorld({ index: shared, cases: [], judges, level: 'AA' }), new Set());
    const ids = (change: Change): unknown => {
      const { index: now } = mendedGround(here, [partOf(here, change, 'token')], new Set()).world;
      return [0, 1].map((theme) => now.definitionOf(theme, 0)?.declared.id);
    };
    expect([ids(value([0, 1])), ids(value([1]))]).toEqual([
      ['ink', 'ink'],
      ['ink', 'ink in 1'],
    ]);
    const alias: Change = { kind: 'alias', token: 0, themes: [0], target: 1 };
    const { index: now } = mendedGround(here, [partOf(here, alias, 'token')], new Set()).world;
    expect([now.definitionOf(0, 0), now.definitionOf(1, 0)?.kind]).toMatchObject([{ kind: 'alias', target: 'other' }, 'literal']);
  });

  test('builds anew what was stale; what changes in part stays as it is', () => {
    const rebuilt = mended({ kind: 'rebuild', token: 0, themes: [0] });
    expect(rebuilt.world.cases[1]?.fore).toEqual({
      kind: 'token',
      token: 0,
      alpha: 1,
      color: parseColor('#333333'),
      inferred: false,
    });
    expect(rebuilt.world.index.colorOf(0, 0)).toEqual(parseColor('#333333'));
    expect(mended(value([0]), { partOf: () => 0.5 }).world.cases[0]).toMatchObject({ fore: one.fore });
  });

  test('takes opacity and filters away', () => {
    const clear = mended({ kind: 'opacity', site: { side: 'fore', ref: one.fore, cases: [0] } });
    expect(clear.world.cases[0]).toMatchObject({ foreOpacity: 1, seenFore: shown('#333333') });
    const turned = made({ id: 0, filters: ['html', 'img'].map((selector) => ({ selector, filter: 'invert(1)' })) });
    const here = openGround(openWorld({ index, cases: [turned], judges, level: 'AA' }), new Set());
    const filter: Change = {
      kind: 'filter',
      selector: 'img',
      selectors: ['img'],
      filter: 'invert(1)',
      written: [],
      themes: [0],
      cases: [0],
    };
    const after = mendedGround(here, [partOf(here, filter, 'usage')], new Set()).world.cases[0];
    expect(after?.filters.map(({ selector }) => selector)).toEqual(['html']);
    expect([toHex(after?.seenFore ?? shown('#000000')), after?.seenBacks.map(toHex)]).toEqual(['#ffffff', ['#000000']]);
  });
});

test('graphics are cases of their roles', () => {
  const dot = graphic({
    color: '#333333',
    against: '#ffffff',
    paint: paint('#333333', by('--ink')),
    layers: [on('#ffffff', by('--face'))],
  });
  const line = { ...dot.paint, property: 'border-top-color' };
  expect(
    told(casesOf([[view(), [dot, { ...dot, role: 'border', paint: line, key: 'b' }, { ...dot, role: 'focus', key: 'c' }]]])),
  ).toEqual(['edge 0 1', 'glyph 0 1', 'ring 0 1']);
});

// derived: white at .1 over #222222 is #383838 (Compositing 1 §5.1)
describe('what a box lays all over its own background', () => {
  const LIFT = 'rgb(255 255 255 / 0.1)';
  const lift: Layer = {
    selector: 'main',
    kind: 'color',
    opacity: 1,
    paint: { ...paint(LIFT, literal), property: 'background-image' },
  };
  const dusk = view('dusk');
  const raised = (layers: readonly Layer[]): readonly Case[] =>
    casesOf([
      [view(), [run('a')]],
      [dusk, [run('a', { color: '#dddddd', background: '#383838', ink: paint('#dddddd', by('--ink')), layers })]],
    ]);
  const faces = ({ back }: Case): unknown => back.map(({ ref, tint }) => [ref.kind, tint?.alpha]);

  test('tints it, and is no surface of its own: the family is that of the theme without', () => {
    const [noon, dark] = raised([on('#222222', by('--face')), lift]);
    expect([noon, dark].map((one) => one && faces(one))).toEqual([[['token', undefined]], [['token', 0.1]]]);
    expect(dark).toMatchObject({ family: noon?.family, backFixed: false });
    expect(dark?.seenBacks.map(toHex)).toEqual(['#383838']);
  });

  test('is a layer by itself where the box paints nothing below it', () => {
    const [, dark] = raised([on('#222222', by('--face'), 'body'), lift]);
    expect(dark && faces(dark)).toEqual([
      ['token', undefined],
      ['literal', undefined],
    ]);
  });

  test('of two cases that differ in it alone each is one', () => {
    const cases = casesOf([
      [dusk, [run('a', { background: '#383838', layers: [on('#222222', by('--face')), lift] })]],
      [dusk, [run('b', { background: '#222222', layers: [on('#222222', by('--face'))] })]],
    ]);
    expect(cases).toHaveLength(2);
  });
});
