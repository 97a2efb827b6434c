// An explanation → its cause: name, counts, confidence, ends. Derived from the cases below and the rules that stand at each function.
import { describe, expect, test } from 'vitest';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Finding } from '../../src/samples/finding.ts';
import type { WrittenPlace } from '../../src/samples/paint.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import type { RuledExplanation } from '../../src/triage/choose/split-by-rule.ts';
import { pairFor } from '../../src/triage/propose/combine.ts';
import { partOf } from '../../src/triage/propose/candidate.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import type { Change, UseSite } from '../../src/triage/recolor/change.ts';
import { causeOf } from '../../src/triage/tell/causes.ts';
import { openWorld } from '../../src/triage/world.ts';
import { textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const index = tableOf(
  {
    ...{ 'silt.0': ['#ffffff', '#ffffff'], 'silt.1': ['#999999', '#999999'], 'silt.2': ['#333333', '#333333'] },
    ...{ 'mark.own': ['{silt.1}', '{silt.1}'], 'face.page': ['#ffffff', '#111111'], 'mark.good': ['{silt.2}', '{silt.0}'] },
  },
  { ramps: [{ name: 'silt', steps: ['silt.0', 'silt.1', 'silt.2'] }] },
);
const at = (path: string): number => index.tokenAt(path);
const judges = new Map([[textContrast.id, textContrast.with()]]);

function text(id: number, over: Partial<Case> = {}): Case {
  const color = '#999999';
  return made({
    ...{ id, key: `k${String(id)}`, family: `f${String(id)}`, fore: token(at('mark.own'), color), seenFore: shown(color) },
    ...{ back: [layer(token(at('face.page'), '#ffffff'))], seenBacks: [shown('#ffffff')] },
    place: {
      ...made().place,
      sample: textRun({ color, background: '#ffffff', selector: `#t${String(id)}`, key: `t${String(id)}` }),
    },
    ...over,
  });
}
const fails = (...ids: readonly number[]): Partial<Case> => ({ findings: new Map([['text-contrast', ids]]), samples: ids.length });
const finding = (i: number): Finding => ({
  ...{
    id: `n${String(i)}`,
    view: 'v',
    selector: `#t${String(i)}`,
    check: 'text-contrast',
    level: 'error',
    key: `t${String(i)}`,
    rect: [0, 0, 1, 1],
    message: '',
    measured: {},
    expected: {},
  },
  ...{
    page: i % 2 === 0 ? 'quay' : 'tides',
    theme: 'noon',
    state: 'rest',
    viewport: 'desk',
    since: '',
    status: 'new',
    cause: null,
  },
});
const FINDINGS = Array.from({ length: 9 }, (_, i) => finding(i));

const alias = (target = 'silt.2', path = 'mark.own'): Change => ({
  kind: 'alias',
  token: at(path),
  themes: [0],
  target: at(target),
});
const site: UseSite = { side: 'fore', ref: token(at('mark.own'), '#999999'), cases: [0] };
const use = (over: Partial<Change & { kind: 'use' }> = {}): Change => ({
  kind: 'use',
  site,
  token: at('mark.good'),
  inks: [],
  partner: false,
  ...over,
});

function told(
  changes: readonly Change[],
  cases: readonly Case[],
  over: Partial<RuledExplanation> = {},
  findings: readonly Finding[] = FINDINGS,
): ReturnType<typeof causeOf> {
  const ground = openGround(openWorld({ index, cases, judges, level: 'AA' }), new Set());
  const parts = changes.map((change) => partOf(ground, change, 'token'));
  return causeOf(ground, findings, {
    ...{ ground, upon: [], changes: parts, evidence: {}, layer: 'token', faults: ground.world.faults, rival: 0 },
    ...{ written: [], isPart: false, variants: [] },
    ...over,
  });
}
const declared = (rule: string, over: Partial<WrittenPlace> = {}): WrittenPlace => ({
  property: 'color',
  value: 'var(--mark-own)',
  rule,
  file: '/q.css',
  line: 3,
  ...over,
});

test('a cause has what it is for, what it leads through, and what it mends', () => {
  const { cause, findings, changes } = told([alias()], [text(0, fails(4, 1)), text(1, fails(2))], { written: [declared('.note')] });
  expect([findings, changes]).toEqual([[1, 2, 4], [alias()]]);
  expect(cause).toMatchObject({
    ...{
      layer: 'token',
      token: 'mark.own',
      step: 'silt.1',
      property: 'color',
      findings: 3,
      themes: ['noon'],
      pages: 2,
      confidence: 0.99,
    },
    repair: { change: 'alias', of: 'mark.own', from: 'silt.1', to: 'silt.2', themes: ['noon'], fixes: 3, breaks: 0 },
  });
  expect(cause.chain.map((link) => [link.property, link.token, link.line])).toEqual([
    ['color', undefined, 3],
    ['--mark-own', 'mark.own', 1],
    ['--silt-1', 'silt.1', 1],
  ]);
});

describe('a name', () => {
  const id = (changes: readonly Change[], over: Partial<RuledExplanation> = {}): string =>
    told(changes, [text(0, fails(0))], over).cause.id;
  const own = id([alias()]);

  test('stays whatever it is proposed to become, and is another for another layer, token, theme or companion', () => {
    expect(id([alias('silt.0')])).toBe(own);
    expect(id([alias()], { rival: 1, written: [declared('.x')] })).toBe(own);
    const others = [
      id([alias()], { layer: 'ramp' }),
      id([alias('silt.2', 'mark.good')]),
      id([{ kind: 'value', token: at('silt.1'), themes: [0], color: parseColor('#333333') }]),
      id([alias(), alias('silt.2', 'face.page')]),
      id([use()]),
    ];
    expect(new Set([own, ...others]).size).toBe(6);
    // what merely uses another token beside it is no part of the name
    expect(id([alias(), use()])).toBe(own);
  });
});

test('what is read at a place is told as it is, and its numbers are no part of the name', () => {
  const selector = 'html > body > p:nth-of-type(2)';
  const key = 'p"Level 0"|text';
  const withLevel = (level: string): ReturnType<typeof causeOf>['cause'] => {
    const sample = textRun({ ...{ key, selector, text: `Level ${level}` }, color: '#999999', background: '#ffffff' });
    const one = text(0, { ...fails(0), place: { view: { ...made().place.view, id: 'v' }, sample } });
    return told([use()], [one], {}, [{ ...finding(0), key, selector }]).cause;
  };
  expect(withLevel('2.41').why).toMatch(/^p "Level 2\.41" takes/u);
  expect(withLevel('2.41').repair?.of).toBe('p "Level 2.41"');
  expect(withLevel('3.87').id).toBe(withLevel('2.41').id);
});

test('a surface is called by its rule and what it is, not by what lies on it', () => {
  const panel = use({
    site: { side: 'surface', ref: token(at('face.page'), '#ffffff'), cases: [0], elements: new Set([7]) },
    token: at('mark.good'),
  });
  const sample = textRun({
    ...{ key: 't0', color: '#999999', background: '#ffffff' },
    layers: [{ selector: 'html > body > section:nth-of-type(2)', kind: 'color', opacity: 1 }],
  });
  const one = text(0, { ...fails(0), grounds: new Set([7]), place: { ...made().place, sample } });
  expect(told([panel], [one], { written: [declared('.css-1sjuylw')] }).cause.why).toMatch(
    /^section \(\.css-1sjuylw\) takes face\.page for its surface/u,
  );
});

describe('confidence', () => {
  const sure = (changes: readonly Change[], cases: readonly Case[], over: Partial<RuledExplanation> = {}): number =>
    told(changes, cases, over).cause.confidence;
  const one = text(0, fails(0));

  test('falls with a rival, with what is left, and by half where something breaks', () => {
    expect([0, 0.25, 1].map((rival) => sure([alias()], [one], { rival }))).toEqual([0.99, 0.8, 0.5]);
    // one of two findings mended: .8 + .2 / 2
    expect(
      sure(
        [alias()],
        [
          one,
          text(1, {
            ...fails(1),
            required: 21,
            foreFixed: false,
            fore: token(at('mark.own'), '#999999'),
            back: [layer(token(at('mark.own'), '#999999'))],
          }),
        ],
      ),
    ).toBe(0.9);
    const passing = text(1, {
      samples: 4,
      back: [layer(written('#222222'))],
      seenBacks: [shown('#222222')],
      place: { ...made().place, sample: textRun({ color: '#999999', background: '#222222', selector: '#p' }) },
    });
    const broken = told([alias()], [one, passing]).cause;
    expect([broken.confidence, broken.repair?.breaks]).toEqual([0.5, 4]);
    expect(broken.why).toContain('breaks 4 places (#p)');
  });
});

test('what a rule takes alike on two surfaces is one thing to do', () => {
  const { repair, why } = told([use(), use({ site: { ...site, cases: [1] } })], [text(0, fails(0)), text(1, fails(1))]).cause;
  expect(repair).toMatchObject({ change: 'use', from: 'mark.own', to: 'mark.good' });
  expect(repair?.also).toBeUndefined();
  expect(why).not.toContain('together');
});

describe('counts', () => {
  test('of a change in parts are each part’s own; of a token that is missing its findings', () => {
    const cases = [text(0, fails(0, 1)), text(1, fails(2))];
    const all = openWorld({ index, cases, judges, level: 'AA' }).faults;
    const part = told([alias()], cases, { isPart: true, faults: all.slice(0, 1) }).cause;
    expect([part.findings, part.repair?.fixes, part.repair?.breaks]).toEqual([2, 2, 0]);
    const whole = told([alias()], cases, { faults: all.slice(0, 1) }).cause;
    // The third is told, and counted, elsewhere.
    expect([whole.findings, whole.repair?.fixes]).toEqual([2, 2]);
    const gap = told([{ kind: 'add', cases: [0] }], cases, { layer: 'gap' }).cause;
    expect([gap.findings, gap.repair?.fixes, gap.repair?.breaks]).toEqual([3, 3, 0]);
    expect(told([alias()], cases, { faults: [] }).cause).toMatchObject({ findings: 0, why: '', chain: [], pages: 0 });
  });
});

describe('what lies there by chance is not named', () => {
  const one = text(0, { ...fails(0), foreOpacity: 0.5 });
  test('where a style or a literal is wrong', () => {
    const opacity = told([{ kind: 'opacity', site }], [one]).cause;
    expect(opacity).not.toHaveProperty('token');
    expect(opacity).not.toHaveProperty('step');
    expect(opacity.chain.map((link) => `${link.property ?? ''}: ${link.value}`).slice(0, 2)).toEqual([
      'opacity: 0.5',
      'color: #999999',
    ]);
    const grey = text(0, { ...fails(0), fore: written('#999999') });
    const literal = told([use({ site: { ...site, ref: grey.fore } })], [grey]).cause;
    expect(literal).not.toHaveProperty('token');
    expect(literal.repair).toMatchObject({ from: '#999999', to: 'mark.good' });
    const indicator = told([{ kind: 'indicator', site, token: at('mark.good') }], [one]).cause;
    expect(indicator.chain).toEqual([{ property: 'outline', value: 'none' }]);
    const filter = { kind: 'filter', selector: 'html', selectors: ['html'], filter: 'invert(1)', themes: [0], cases: [0] } as const;
    expect(told([{ ...filter, written: [] }], [one]).cause.chain).toEqual([{ property: 'filter', value: 'invert(1)' }]);
    expect(
      told([{ ...filter, written: [declared('html', { property: 'filter', value: 'var(--turn)' })] }], [one]).cause.chain,
    ).toEqual([{ property: 'filter', value: 'var(--turn)', file: '/q.css', line: 3 }]);
  });

  test('where a surface is wrong, it leads', () => {
    const panel = use({
      site: { side: 'surface', ref: token(at('face.page'), '#ffffff'), cases: [0], elements: new Set([7]) },
      token: at('mark.good'),
    });
    const sample = textRun({ color: '#999999', background: '#ffffff', layers: [{ selector: '#card', kind: 'color', opacity: 1 }] });
    const cause = told([panel], [text(0, { ...fails(0), grounds: new Set([7]), place: { ...made().place, sample } })]).cause;
    expect(cause.chain[0]).toEqual({ property: 'background-color', value: '#ffffff' });
    expect(cause.repair).toMatchObject({ of: '#card', from: 'face.page' });
    expect(cause.token).toBe('face.page');
    expect(cause).not.toHaveProperty('step');
  });
});

describe('a place', () => {
  const of = (change: Change, hops: readonly WrittenPlace[], one = text(0, fails(0))): string | undefined =>
    told([change], [one], { written: hops }).cause.repair?.of;
  const grey = text(0, { ...fails(0), fore: written('#999999') });
  const literal = use({ site: { ...site, ref: grey.fore } });

  test('is the rule that declares it; of a literal the rule of its own that writes it', () => {
    expect([of(use(), [declared('.note')]), of(use(), [declared('browser')]), of(use(), [])]).toEqual(['.note', '#t0', '#t0']);
    const hops = [declared('.note'), declared('.tag', { property: '--tag', value: '#999999' })];
    expect([of(use(), hops), of(literal, hops, grey)]).toEqual(['.note', '--tag in .tag']);
    const wide = [declared('.note'), declared(':root', { property: '--tag', value: '#999999' })];
    expect([of(literal, wide, grey), of(literal, wide.slice(1), grey)]).toEqual(['.note', '--tag in :root']);
  });

  test('tells two properties that one rule sets apart', () => {
    const ids = ['--tag', '--tag-late'].map((property) => {
      const hops = [declared('.note'), declared('.tag', { property, value: '#999999' })];
      return told([literal], [grey], { written: hops }).cause.id;
    });
    expect(new Set(ids).size).toBe(2);
  });

  test('is built from other properties where its declaration is more than one of them', () => {
    const built = declared('.note', { value: 'hsl(var( --h ) var(--s) var(--h))' });
    const why = (hops: readonly WrittenPlace[]): string => told([literal], [grey], { written: hops }).cause.why;
    expect(why([built])).toContain('builds #999999 from --h and --s for its text');
    expect(why([declared('.note'), built])).toContain('builds #999999 from --h and --s');
    expect(why([declared('.note', { value: '#999999' })])).toContain('writes out #999999');
    // The width beside it is no part of the colour.
    const edge = declared('.note', { value: 'calc(var(--width) * 2) solid var(--edge)' });
    const mixed = declared(':root', { property: '--edge', value: 'color-mix(in oklab, var(--ink) 20%, #0000)' });
    expect(why([edge, mixed])).toContain('builds #999999 from --ink for');
    expect(why([declared('.note', { value: 'light-dark(var(--noon), var(--dusk))' })])).toContain('from --noon and --dusk');
  });
});

describe('two changes at once', () => {
  // Half of #999999 on white is #cccccc; neither opaque nor half of #333333 reads.
  const faint = text(0, { ...fails(0), foreOpacity: 0.5, seenFore: shown('#cccccc') });

  test('are tried where no single one mends without breaking: a fainter place takes another colour and loses its opacity', () => {
    const good = text(1, { fore: token(at('mark.good'), '#333333'), seenFore: shown('#333333') });
    const kinds = (one: Case): unknown => {
      const { world, ...rest } = openGround(openWorld({ index, cases: [one, good], judges, level: 'AA' }), new Set());
      const [fault] = world.faults;
      const pair = fault === undefined ? null : pairFor({ world, ...rest }, [], fault, new Set(world.faults));
      return [pair?.changes.map(({ change }) => change.kind), pair?.mended.map(({ case: { id } }) => id)];
    };
    expect(kinds(faint)).toEqual([['alias', 'opacity'], [0]]);
    // a literal points nowhere: it takes the token that others have there
    expect(kinds({ ...faint, fore: written('#999999') })).toEqual([['use', 'opacity'], [0]]);
    expect(kinds({ ...faint, fore: written('#999999'), back: [] })).toEqual([undefined, undefined]);
  });
});
