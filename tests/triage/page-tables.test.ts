import { describe, expect, test } from 'vitest';
import { toCssText } from '../../src/colour/format-color.ts';
import type { Paint } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { openCoverage, coverageShare } from '../../src/triage/tell/coverage.ts';
import { isBaked, openInference } from '../../src/triage/tokens/infer-origins.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { openPaintReader } from '../../src/triage/cases/paint-ref.ts';
import { pageWide, standIns } from '../../src/triage/tokens/page-wide.ts';
import { openPageTable } from '../../src/triage/tokens/table-of-page.ts';
import { openTokenUses } from '../../src/triage/tokens/token-uses.ts';
import { openTriage } from '../../src/triage/open-triage.ts';
import type { App } from './app-model.ts';
import { healthyApp } from './healthy-app.ts';
import type { PaintedApp, PaintedView } from './paint-app.ts';
import { ALL_ACTIVE, paintApp } from './paint-app.ts';
import { plantOne } from './plant-faults.ts';
import { seeded } from './seeded.ts';

// Apps are data with planted faults; what is expected follows from what was planted.

function withPaints(views: readonly PaintedView[], turn: (paint: Paint) => Paint): readonly PaintedView[] {
  return views.map(({ view, samples }) => ({ view, samples: samples.map((sample) => turned(sample, turn)) }));
}

function turned(sample: Sample, turn: (paint: Paint) => Paint): Sample {
  if (sample.kind === 'picture') return sample;
  if (sample.kind === 'shadow') return { ...sample, paint: turn(sample.paint) };
  const layers = sample.layers.map((layer) => (layer.paint === undefined ? layer : { ...layer, paint: turn(layer.paint) }));
  return sample.kind === 'text' ? { ...sample, ink: turn(sample.ink), layers } : { ...sample, paint: turn(sample.paint), layers };
}

/** As a build serves it that writes every token out. */
function baked(painted: PaintedApp): readonly PaintedView[] {
  return withPaints(painted.views, (paint) => ({ ...paint, origin: { kind: 'literal' } }));
}

function triage(painted: PaintedApp, table: App['table'], views: readonly PaintedView[], served = painted.served) {
  const open = openTriage({ table, findings: painted.findings, checks: ALL_ACTIVE, served });
  for (const { view, samples } of views) open.add(view, samples);
  return open.close().causes.map(({ cause }) => `${cause.layer}: ${cause.repair?.change ?? ''} ${cause.repair?.of ?? ''}`);
}

describe('a build that writes tokens out', () => {
  test('is told by properties that no page serves', () => {
    const app = healthyApp(seeded(1));
    const index = indexTable(app.table);
    const { served } = paintApp(app);
    expect(isBaked(index, served)).toBe(false);
    expect(isBaked(index, [])).toBe(true);
    expect(isBaked(index, [{ theme: 'noon', name: '--somebody-elses', value: '#123456' }])).toBe(true);
  });

  test('what a colour is in all themes together names its token; what fits none stays a literal', () => {
    const { app } = plantOne('strange use', 5);
    const painted = paintApp(app);
    const index = indexTable(app.table);
    const views = baked(painted);
    const inference = openInference(index);
    for (const { view, samples } of views) inference.add(view, samples);
    let [right, all] = [0, 0];
    for (const [at, { view, samples }] of views.entries()) {
      inference.apply(view, samples).forEach((sample, place) => {
        const truth = painted.views[at]?.samples[place];
        if (sample.kind !== 'text' || truth?.kind !== 'text') return;
        const { origin } = sample.ink;
        all += 1;
        if (truth.ink.origin.kind === 'literal') expect(origin).toEqual({ kind: 'literal' });
        if (origin.kind !== 'inferred' || truth.ink.origin.kind !== 'token') return;
        // Several tokens may be one colour in every theme; then each of them is a right answer.
        const [found, meant] = [index.tokenAt(origin.token), index.tokenOfProperty(truth.ink.origin.property)];
        const same = app.table.themes.every((_, theme) => {
          const [one, other] = [index.colorOf(theme, found), index.colorOf(theme, meant)];
          return one !== null && other !== null && toCssText(one) === toCssText(other);
        });
        if (same) right += 1;
      });
    }
    const literals = painted.views
      .flatMap(({ samples }) => samples)
      .filter((sample) => sample.kind === 'text' && sample.ink.origin.kind === 'literal');
    expect(right).toBe(all - literals.length);
  });

  test.each([2, 5, 8])('seed %i: a wrong step is found all the same', (seed) => {
    const { app, planted } = plantOne('ink step', seed);
    const painted = paintApp(app);
    const views = baked(painted);
    const inference = openInference(indexTable(app.table));
    for (const { view, samples } of views) inference.add(view, samples);
    const inferred = views.map(({ view, samples }) => ({ view, samples: inference.apply(view, samples) }));
    expect(triage(painted, app.table, inferred, [])).toEqual([`ramp: value ${planted.of}`]);
  });
});

describe('an app without token files', () => {
  test.each([3, 6, 9])('seed %i: the custom properties of its pages do instead', (seed) => {
    const { app, planted } = plantOne('alias', seed);
    const painted = paintApp(app);
    const open = openPageTable({ themes: app.table.themes, reference: 'noon' });
    for (const { view, samples } of painted.views) open.add(view, samples);
    const table = open.close(painted.served);
    expect(table.ramps.map(({ name }) => name)).toContain('--silt');
    expect(triage(painted, table, painted.views)).toEqual([`token: alias --${planted.of.replaceAll('.', '-')}`]);
  });
});

test('a property that a component sets anew for itself keeps the root’s colour where all others use it', () => {
  // Derived: on the root --face is white; one field sets it to --field for itself, and there the step behind it is --field.
  const [noon] = healthyApp(seeded(1)).table.themes;
  const painted = paintApp(healthyApp(seeded(1)));
  const surface = painted.views[0]?.samples.find(({ kind }) => kind === 'surface');
  if (noon === undefined || surface?.kind !== 'surface') throw new Error('the app has surfaces');
  const field: Sample = {
    ...surface,
    paint: { ...surface.paint, color: '#e0e0e0', origin: { kind: 'token', property: '--face', alpha: 1, step: '--field' } },
  };
  const open = openPageTable({ themes: [noon], reference: noon.name });
  open.add({ id: 'v', page: 'board', theme: noon.name, state: 'rest', viewport: 'desk' }, [field]);
  const { tokens } = open.close([
    { theme: noon.name, name: '--face', value: '#ffffff' },
    { theme: noon.name, name: '--field', value: '#e0e0e0' },
  ]);
  const face = tokens.find(({ path }) => path === '--face')?.definitions[0];
  expect(face?.kind === 'literal' ? toCssText(face.color) : face?.target).toBe('#ffffff');
});

test('where a dye stops at a property of a component, its declaration says what it is taken from', () => {
  const [noon] = healthyApp(seeded(1)).table.themes;
  const painted = paintApp(healthyApp(seeded(1)));
  const surface = painted.views[0]?.samples.find(({ kind }) => kind === 'surface');
  if (noon === undefined || surface?.kind !== 'surface') throw new Error('the app has surfaces');
  const own = { kind: 'token', property: '--part-face', alpha: 1 } as const;
  const written = [
    { property: 'background', value: 'var(--part-face)', rule: '.part' },
    { property: '--part-face', value: 'var(--face)', rule: '.part' },
  ];
  const open = openPageTable({ themes: [noon], reference: noon.name });
  const view = { id: 'v', page: 'board', theme: noon.name, state: 'rest', viewport: 'desk' };
  open.add(view, [{ ...surface, paint: { ...surface.paint, color: '#e0e0e0', origin: own, written } }]);
  const index = indexTable(open.close([{ theme: noon.name, name: '--face', value: '#e0e0e0' }]));
  const read = openPaintReader(index, () => false);
  const ref = (color: string): unknown => read(0, { ...surface.paint, color, origin: own }).ref;
  expect(ref('#e0e0e0')).toMatchObject({ kind: 'token', token: index.tokenAt('--face') });
  // Another of its kind sets the property to something else.
  expect(ref('#123456')).toMatchObject({ kind: 'literal', local: '--part-face' });
});

test('a property points at the one its declaration names, in all themes where the colours agree', () => {
  const themes = healthyApp(seeded(1)).table.themes.slice(0, 2);
  const painted = paintApp(healthyApp(seeded(1)));
  const text = painted.views[0]?.samples.find(({ kind }) => kind === 'text');
  const [noon, dusk] = themes;
  if (noon === undefined || dusk === undefined || text?.kind !== 'text') throw new Error('the app has texts');
  const ink = { ...text.ink, origin: { kind: 'token', property: '--lead', alpha: 1, step: '--silt-700' } as const };
  // Derived: .lead → --lead → --note → --silt-700, looked up in dusk alone; the dye knows but the end of the chain.
  const written = [
    { property: 'color', value: 'var(--lead)', rule: '.lead' },
    { property: '--lead', value: 'var(--note)', rule: 'body' },
    { property: '--note', value: 'var( --silt-700 )', rule: 'body' },
    { property: '--silt-700', value: '#3c4a52', rule: 'body' },
  ];
  const open = openPageTable({ themes, reference: noon.name });
  const view = { id: 'v', page: 'board', state: 'rest', viewport: 'desk' };
  open.add({ ...view, theme: noon.name }, [{ ...text, ink }]);
  open.add({ ...view, theme: dusk.name }, [{ ...text, ink: { ...ink, written } }]);
  const served = themes.flatMap(({ name: theme }) =>
    ['--lead', '--note', '--silt-700'].map((name) => ({ theme, name, value: '#3c4a52' })),
  );
  const { tokens } = open.close(served);
  const targets = (name: string): readonly unknown[] =>
    tokens.find(({ path }) => path === name)?.definitions.map((each) => (each?.kind === 'alias' ? each.target : each?.kind)) ?? [];
  expect(targets('--lead')).toEqual(['--note', '--note']);
  expect(targets('--note')).toEqual(['--silt-700', '--silt-700']);
  expect(targets('--silt-700')).toEqual(['literal', 'literal']);
});

test('where one theme alone declares a token, the colour that its uses fall back to is what it is in the others', () => {
  const themes = healthyApp(seeded(1)).table.themes.slice(0, 2);
  const [noon, dusk] = themes;
  if (noon === undefined || dusk === undefined) throw new Error('the app has two themes');
  const properties = [
    { name: '--deck', value: '#1e1e1e', at: 'html' },
    { name: '--silt', value: '#ccc', at: 'html' },
    { name: '--silt', value: '#ddd', at: '' },
    { name: '--offer', value: '#333', at: '' },
  ];
  expect([...pageWide(properties)].map(([name]) => name)).toEqual(['--deck', '--silt']);
  expect([...standIns(properties)]).toEqual([
    ['--silt', '#ddd'],
    ['--offer', '#333'],
  ]);
  const { tokens } = openPageTable({ themes, reference: noon.name }).close(
    [
      { theme: dusk.name, name: '--deck', value: '#1e1e1e' },
      { theme: noon.name, name: '--silt', value: '#ccc' },
    ],
    [
      { theme: noon.name, name: '--deck', value: '#fff' },
      // What is declared counts, on whichever page.
      { theme: noon.name, name: '--silt', value: '#ddd' },
      // No theme declares it: it is no token of the set.
      { theme: noon.name, name: '--offer', value: '#333' },
    ],
  );
  const colors = tokens.map(({ path, definitions }) => [
    path,
    ...definitions.map((each) => (each?.kind === 'literal' ? toCssText(each.color) : each)),
  ]);
  expect(colors).toEqual([
    ['--deck', '#ffffff', '#1e1e1e'],
    ['--silt', '#cccccc', null],
  ]);
});

test('what body declares is what the page inherits, before what the root has', () => {
  const properties = [
    { name: '--face', value: '#000', at: 'html > body' },
    { name: '--face', value: '#fff', at: 'html' },
    { name: '--mark', value: '#111', at: 'html' },
    { name: '--part', value: '#222', at: '#part' },
  ];
  expect([...pageWide(properties)]).toEqual([
    ['--face', '#000'],
    ['--mark', '#111'],
  ]);
});

test('what an element sets that nearly all of the page lies in holds for the page, over what the root has', () => {
  const properties = [
    { name: '--face', value: '#222', at: '#app > div', wide: true },
    { name: '--face', value: '#fff', at: 'html' },
    { name: '--own', value: '#333', at: '#app > div > nav' },
    { name: '--mark', value: '#444', at: '#app > div', wide: true },
  ] as const;
  expect([...pageWide(properties)]).toEqual([
    ['--face', '#222'],
    ['--mark', '#444'],
  ]);
});

test('a colour that only lies behind others is used', () => {
  const painted = paintApp(healthyApp(seeded(1)));
  const text = painted.views[0]?.samples.find(
    (sample) => sample.kind === 'text' && sample.layers.some(({ paint }) => paint !== undefined),
  );
  const view = painted.views[0]?.view;
  if (text?.kind !== 'text' || view === undefined) throw new Error('the app has texts on something');
  const paint: Paint = { property: 'background-color', color: '#fff', origin: { kind: 'token', property: '--page', alpha: 1 } };
  const uses = openTokenUses(new Map([['--page', ['--page']]]), { level: 'AA', exempt: [], today: '2031-05-04' });
  uses.add(view, [{ ...text, layers: [{ selector: 'body', kind: 'color', opacity: 1, paint }] }]);
  expect(uses.close().uses).toContainEqual({ token: '--page', role: 'surface', count: 1 });
});

test('what paints a box that is no sample is used, as often as is known: once', () => {
  const [first] = paintApp(healthyApp(seeded(1))).views;
  if (first === undefined) throw new Error('the app has views');
  const uses = openTokenUses(
    new Map([
      ['--lamp', ['lamp']],
      ['--silt-200', ['silt.200']],
    ]),
    {
      level: 'AA',
      exempt: [],
      today: '2031-05-04',
    },
  );
  uses.addProperties(first.view, [
    { name: '--lamp', value: '#333', at: 'html', paints: '--silt-200' },
    { name: '--own', value: '#333', at: 'html', paints: '--silt-200' },
    { name: '--idle', value: '#333', at: 'html' },
  ]);
  const met = uses.close();
  expect(met.uses).toEqual([
    { token: 'lamp', role: 'surface', count: 1 },
    // Reached through a property of no token.
    { token: 'silt.200', role: 'surface', count: 1 },
  ]);
  expect([...met.through]).toEqual(['silt.200']);
});

test('a pair that a theme shows nowhere is known to be absent there', () => {
  const painted = paintApp(healthyApp(seeded(1)));
  const text = painted.views[0]?.samples.find((sample) => sample.kind === 'text');
  const view = painted.views[0]?.view;
  if (text?.kind !== 'text' || view === undefined) throw new Error('the app has texts');
  // As light-dark(var(--ink), var(--chalk)) paints it: another token in each theme, on a ground that both have.
  const paint = (property: string): Paint => ({ property: 'color', color: '#777', origin: { kind: 'token', property, alpha: 1 } });
  const on = { selector: 'body', kind: 'color', opacity: 1, paint: { ...paint('--deck'), color: '#fff' } } as const;
  const names = ['--ink', '--chalk', '--deck'].map((name) => [name, [name]] as const);
  const uses = openTokenUses(new Map(names), { level: 'AA', exempt: [], today: '2031-05-04' });
  uses.add({ ...view, theme: 'noon' }, [{ ...text, ink: paint('--ink'), layers: [on] }]);
  uses.add({ ...view, theme: 'dusk' }, [{ ...text, ink: paint('--chalk'), layers: [on] }]);
  expect(uses.close().pairs.map(({ ink, absentIn }) => [ink, absentIn])).toEqual([
    ['--chalk', ['noon']],
    ['--ink', ['dusk']],
  ]);
});

describe('coverage', () => {
  const app = healthyApp(seeded(4));
  const painted = paintApp(app);

  test('is whole where every colour comes from a token', () => {
    const counter = openCoverage();
    for (const { view, samples } of painted.views) counter.add(view, samples);
    expect(coverageShare(counter.rows())).toBe(1);
  });

  test('counts literals and fallbacks against it, and leaves out what is no choice of the page', () => {
    // derived: 2 of 5 painted colours that count go through tokens
    const [first] = painted.views;
    const text = first?.samples.find((sample) => sample.kind === 'text');
    if (first === undefined || text?.kind !== 'text') throw new Error('the app has texts');
    const origins: readonly Paint['origin'][] = [
      { kind: 'token', property: '--mark-main', alpha: 1 },
      { kind: 'derived', properties: ['--mark-main'] },
      { kind: 'token', property: '--missing', alpha: 1, fallback: true },
      { kind: 'literal' },
      { kind: 'literal' },
      { kind: 'system' },
      { kind: 'unknown', why: 'not traced' },
    ];
    const samples = origins.map((origin, at) => ({ ...text, key: String(at), ink: { ...text.ink, origin } }));
    const counter = openCoverage();
    counter.add(first.view, samples, 'gauges');
    counter.add(first.view, [{ ...text, owner: 'office', exempt: 'hidden' as const }]);
    expect(counter.rows()).toEqual([
      { theme: first.view.theme, page: first.view.page, owner: 'gauges', painted: 5, throughTokens: 2 },
    ]);
    expect(coverageShare(counter.rows())).toBe(0.4);
    expect(coverageShare(counter.rows(), (row) => row.owner === 'office')).toBe(1);
  });

  test('is told by theme, page and owner', () => {
    const counter = openCoverage();
    for (const { view, samples } of painted.views) counter.add(view, samples, view.page === 'tides' ? 'charts' : '');
    const rows = counter.rows();
    expect(new Set(rows.map((row) => row.theme))).toEqual(new Set(['noon', 'dusk', 'stark']));
    expect(rows.filter((row) => row.owner === 'charts').every((row) => row.page === 'tides')).toBe(true);
    expect(rows.reduce((sum, row) => sum + row.painted, 0)).toBe(
      painted.views.reduce((sum, { samples }) => sum + samples.length, 0),
    );
  });
});
