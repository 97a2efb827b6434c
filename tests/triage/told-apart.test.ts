// How explanations are parted, joined and shown. Derived from the cases that each test writes down and the words at each function.
import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Cause, Finding, Repair, RepairPart } from '../../src/samples/finding.ts';
import type { WrittenPlace } from '../../src/samples/paint.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import type { GroundedExplanation } from '../../src/triage/choose/from-below.ts';
import { splitByRule } from '../../src/triage/choose/split-by-rule.ts';
import type { Candidate, Ground, Weighing } from '../../src/triage/propose/candidate.ts';
import { best, partOf, weightIn } from '../../src/triage/propose/candidate.ts';
import { isContrast, proposeGap } from '../../src/triage/propose/gap.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import { strangeShare } from '../../src/triage/propose/strange-uses.ts';
import type { Change, UseSite } from '../../src/triage/recolor/change.ts';
import type { ExplainedCause } from '../../src/triage/tell/causes.ts';
import { ownRule } from '../../src/triage/cases/own-rules.ts';
import { shownOf } from '../../src/triage/tell/causes.ts';
import { explainLines } from '../../src/triage/tell/explain-lines.ts';
import { placeName, readableName, readablePlace } from '../../src/triage/tell/readable-place.ts';
import { withTokenFaults } from '../../src/triage/tell/token-file-causes.ts';
import { causeSubject } from '../../src/gate/words.ts';
import { unknownCauses } from '../../src/triage/tell/unknown-causes.ts';
import type { CaseFault } from '../../src/triage/world.ts';
import { openWorld } from '../../src/triage/world.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const index = tableOf(
  {
    ...{ 'silt.1': ['#eeeeee', '#eeeeee'], 'silt.2': ['#777777', '#777777'], 'mark.main': ['{silt.1}', '{silt.1}'] },
    ...{ 'mark.edge': ['{silt.2}', '{silt.2}'], 'face.page': ['#ffffff', '#111111'] },
  },
  { ramps: [{ name: 'silt', steps: ['silt.1', 'silt.2'] }] },
);
const at = (path: string): number => index.tokenAt(path);
const groundOf = (...cases: readonly Case[]): Ground =>
  openGround(openWorld({ index, cases, judges: new Map(), level: 'AA' }), new Set());
const failing = (ids: readonly number[], check = 'text-contrast'): Partial<Case> => ({ findings: new Map([[check, ids]]) });
const finding = (id: string, over: Partial<Finding> = {}): Finding => ({
  ...{
    id,
    view: 'v',
    selector: `#${id}`,
    check: 'text-contrast',
    level: 'error',
    key: id,
    rect: [0, 0, 1, 1],
    message: id,
    measured: {},
    expected: {},
  },
  ...{ page: 'quay', theme: 'noon', state: 'rest', viewport: 'desk', since: '', status: 'new', cause: null },
  ...over,
});
const place = (rule: string, over: Partial<WrittenPlace> = {}): WrittenPlace => ({
  property: 'color',
  value: '#9aa3a8',
  rule,
  file: '/quay.css',
  ...over,
});

describe('lines of a cause', () => {
  const bare: Cause = {
    id: 'c',
    layer: 'usage',
    chain: [],
    findings: 1,
    themes: ['noon', 'dusk'],
    pages: 2,
    confidence: 0.5,
    why: 'Why.',
  };
  const swap = { of: 'OF', from: 'FROM', to: 'TO' };
  const parts: readonly (readonly [RepairPart, string])[] = [
    [{ change: 'value', ...swap }, 'give OF the value TO instead of FROM (dusk)'],
    [{ change: 'alias', ...swap }, 'point OF at TO instead of FROM (dusk)'],
    [{ change: 'use', ...swap }, 'let OF use TO instead of FROM (dusk)'],
    [{ change: 'add', ...swap, asks: [] }, 'add a token for what lies on OF: TO'],
    [{ change: 'rebuild', ...swap }, 'build the page anew: OF is served as FROM, the files say TO (dusk)'],
    [{ change: 'style', ...swap, style: { property: 'p', from: 'a', to: 'b' } }, 'in OF, write TO instead of FROM (dusk)'],
  ];

  test.each(parts)('%j', (part, text) => {
    const repair: Repair = { ...part, also: [part], after: ['c9'], themes: ['dusk'], fixes: 3, breaks: 1 };
    expect(explainLines({ ...bare, repair })).toEqual([
      { kind: 'why', text: 'Why.' },
      { kind: 'repair', text },
      { kind: 'repair', text: `and ${text.replace(' (dusk)', '')}` },
      { kind: 'repair', text: 'this comes after the repair of cause c9: without it, it would mend less or break more' },
      { kind: 'counts', text: 'layer: usage · 1 finding · 2 pages · noon, dusk · mends 3, breaks 1 · confidence 0.50' },
    ]);
  });

  test('without a repair, of one page; a repair for no theme; a colour that it becomes', () => {
    expect(explainLines({ ...bare, findings: 2, pages: 1 }).at(-1)?.text).toBe(
      'layer: usage · 2 findings · 1 page · noon, dusk · confidence 0.50',
    );
    const repair: Repair = { change: 'value', of: 'a', from: '#111', to: '#ABC', themes: [], fixes: 0, breaks: 0 };
    expect(explainLines({ ...bare, repair })[1]).toEqual({
      kind: 'repair',
      text: 'give a the value #ABC instead of #111',
      color: '#aabbcc',
    });
  });

  test('each hop has the colour at the end of the chain, and its place as far as it is known', () => {
    const chain = [
      { property: 'color', value: 'var(--a)', file: '/quay.css' },
      { token: 'a', value: '#010203', file: 'a.json', line: 3 },
      { property: '--b', value: 'none' },
    ];
    expect(explainLines({ ...bare, chain }).slice(1, -1)).toEqual([
      { kind: 'hop', text: 'color: var(--a)', color: '#010203', place: '/quay.css' },
      { kind: 'hop', text: '→ a: #010203', color: '#010203', place: 'a.json:3' },
      { kind: 'hop', text: '→ --b: none' },
    ]);
  });
});

describe('uses by where they are written', () => {
  const site: UseSite = { side: 'fore', ref: written('#9aa3a8'), cases: [0] };
  const use = (over: Partial<Change & { kind: 'use' }> = {}): Change => ({
    kind: 'use',
    site,
    token: at('mark.edge'),
    inks: [],
    partner: false,
    ...over,
  });
  const explained = (
    one: Case,
    over: { readonly change?: Change; readonly layer?: GroundedExplanation['layer']; readonly rival?: number } = {},
  ): GroundedExplanation => {
    const ground = groundOf(one);
    const { change = use(), layer: lies = 'usage', rival = 0 } = over;
    return {
      ground,
      upon: [],
      changes: [partOf(ground, change, lies)],
      evidence: {},
      layer: lies,
      faults: ground.world.faults,
      rival,
    };
  };
  const at3 = (...places: readonly (WrittenPlace | null)[]): Case =>
    made({
      ...failing(places.map((_, i) => i)),
      written: new Map(places.flatMap((each, i) => (each === null ? [] : [[i, [each]] as const]))),
    });
  const told = (...all: readonly GroundedExplanation[]): unknown =>
    splitByRule(all).map(({ faults, written: hops, isPart, variants }) => [
      faults.flatMap(({ findings }) => findings),
      hops[0]?.rule,
      isPart,
      variants.map((each) => each.findings),
    ]);

  test('one rule is one fault, two are two; what was not looked up goes with the one that has most', () => {
    expect(told(explained(at3(place('.a'), place('.a'))))).toEqual([[[0, 1], '.a', false, [2]]]);
    expect(told(explained(at3(place('.b'), place('.a'), null, place('.a'))))).toEqual([
      [[1, 2, 3], '.a', true, [3]],
      [[0], '.b', true, [1]],
    ]);
    // as many of each: the first by name
    expect(told(explained(at3(place('.b'), place('.a'))))).toEqual([
      [[1], '.a', true, [1]],
      [[0], '.b', true, [1]],
    ]);
    expect(told(explained(at3(null, place('browser'))))).toEqual([[[0, 1], undefined, false, []]]);
  });

  test('two changes of one rule are one fault; the greater comes first, the rival is the stronger one’s', () => {
    const [one, other] = [
      explained(at3(place('.a')), { rival: 0.2 }),
      explained(at3(place('.a', { line: 9 }), place('.a')), { rival: 0.1 }),
    ];
    const [joined, ...others] = splitByRule([one, other]);
    expect(others).toEqual([]);
    expect(joined).toMatchObject({ isPart: true, rival: 0.2 });
    expect(joined?.changes).toEqual([...other.changes, ...one.changes]);
    expect(joined?.variants.map(({ findings }) => findings)).toEqual([2, 1]);
    expect(joined?.faults.map(({ findings }) => findings)).toEqual([[0, 1], [0]]);
  });

  test.each<[string, WrittenPlace, WrittenPlace, number]>([
    ['declarations of one rule in a style sheet', place('.a'), place('.a', { property: 'fill', value: '#123456' }), 1],
    ['rules of one name in two style sheets', place('.a'), place('.a', { file: '/other.css' }), 2],
    [
      'what a rule takes from properties',
      place('.a', { value: 'var(--x)' }),
      place('.a', { value: 'var(--y)', property: 'fill' }),
      2,
    ],
    ['what a rule takes for one property', place('.a', { value: 'var(--x)' }), place('.a', { value: 'var(--y)' }), 1],
    ['one rule within two pages', place('.a', { file: '/quay.html' }), place('.a', { file: '/tides.html' }), 1],
    [
      'two values of a rule within pages',
      place('.a', { file: '/quay.html' }),
      place('.a', { file: '/quay.html', value: '#123456' }),
      2,
    ],
    [
      'a style sheet with a query',
      place('.a', { file: '/quay.css?v=1' }),
      place('.a', { file: '/quay.css?v=1', value: '#123456' }),
      1,
    ],
  ])('%s', (_, one, other, count) => {
    expect(splitByRule([explained(at3(one, other))])).toHaveLength(count);
  });

  test('an opacity over things of several colours is one change, by the rule that declares it', () => {
    const faded = (id: number, rule: string): GroundedExplanation => {
      const fade = { selector: '#tides', opacity: 0.4, written: [place(rule, { property: 'opacity', value: '.4' })] };
      const change: Change = { kind: 'opacity', site: { ...site, cases: [id] } };
      return explained(made({ ...failing([id]), id: 0, faded: new Map([[id, fade]]), written: new Map([[id, [place('.ink')]]]) }), {
        change,
      });
    };
    const [joined, ...others] = splitByRule([faded(0, '.faint'), faded(1, '.faint')]);
    expect(others).toEqual([]);
    expect(joined?.changes.map(({ change }) => change.kind === 'opacity' && change.site.cases)).toEqual([[0, 1]]);
    expect(joined?.faults.map(({ findings }) => findings)).toEqual([[0], [1]]);
    expect(splitByRule([faded(0, '.faint'), faded(1, '.old')]).map(({ written: [own] }) => own?.rule)).toEqual(['.faint', '.old']);
  });

  test('of other layers and kinds nothing is parted; a surface goes by where it is painted', () => {
    const two = at3(place('.a'), place('.b'));
    const alias: Change = { kind: 'alias', token: at('mark.main'), themes: [0], target: at('silt.2') };
    for (const over of [{ change: alias, layer: 'token' }, { change: { kind: 'opacity', site } }, { layer: 'gap' }] as const)
      expect(told(explained(two, over))).toEqual([[[0, 1], undefined, false, []]]);
    const face = made({ ...two, role: 'surface', elements: new Set([7]), wrote: [place('.card')] });
    const panel = use({ site: { side: 'surface', ref: face.fore, cases: [0], elements: new Set([7]) } });
    expect(told(explained(face, { change: panel }))).toEqual([[[0, 1], '.card', false, [2]]]);
    expect(told(explained({ ...face, wrote: [] }, { change: panel }))).toEqual([[[0, 1], undefined, false, []]]);
  });

  test('the place’s own rule is the last that is not the whole page’s', () => {
    const own = (...rules: readonly string[]): string | undefined => ownRule(rules.map((rule) => place(rule)));
    expect([
      own('.a', '.b'),
      own('.a', ':root'),
      own('.a', 'html.dusk'),
      own('.a', '[data-theme=dusk]'),
      own('.a', 'body, .b'),
    ]).toEqual(['.b', '.a', '.a', '.a', '.a']);
    expect([own('.a', 'body .b'), own('.a', 'style attribute'), own('browser'), own(':root')]).toEqual([
      'body .b',
      '.a',
      undefined,
      undefined,
    ]);
  });

  test('the fault seen most is shown; of equals the first', () => {
    const ground = groundOf(
      made({ id: 0, ...failing([0]) }),
      made({ id: 1, ...failing([1, 2]) }),
      made({ id: 2, ...failing([3, 4]) }),
    );
    expect(shownOf(ground.world.faults)?.id).toBe(1);
    expect(shownOf(ground.world.faults.toReversed())?.id).toBe(1);
    expect(shownOf([])).toBeNull();
  });
});

describe('what nothing mends', () => {
  const color = parseColor('#9aa3a8');
  const said = (facts: Partial<Case>, check = 'text-contrast', findings = [finding('a')]): readonly string[] => {
    const ground = groundOf(made({ fore: written('#9aa3a8'), ...failing([0], check), ...facts }));
    return unknownCauses(ground, findings, ground.world.faults, new Map()).map(({ cause }) => cause.why);
  };

  test.each<[Partial<Case>, string, string]>([
    [
      { fore: { kind: 'unknown', color } },
      'glow',
      '#a (a colour that was not traced) in noon cannot be told: its colour could not be traced to a declaration.',
    ],
    [
      { foreFixed: true },
      'glow',
      '#a (#9aa3a8) in noon cannot be told: what is seen is not what its colours add up to (a filter, blend mode, picture or shadow above changes it).',
    ],
    [
      { fore: { kind: 'derived', tokens: [0, 1], color } },
      'glow',
      '#a (a mix of silt.1 and silt.2) in noon cannot be told: its colour is computed from a mix of silt.1 and silt.2.',
    ],
    [
      { backFixed: true },
      'neon',
      '#a (#9aa3a8) in noon cannot be told: a picture, a gradient or something untraced lies behind it.',
    ],
    [
      { backFixed: true },
      'glow',
      '#a (#9aa3a8) in noon cannot be told: no change of one or two definitions or uses mends it without breaking others.',
    ],
    [
      {},
      'neon',
      '#a (#9aa3a8) in noon cannot be told: no change of one or two definitions or uses mends it without breaking others.',
    ],
  ])('%j, %s', (facts, check, words) => {
    expect(said(facts, check)).toEqual([words]);
  });

  test('is one cause for each check, colour and obstacle', () => {
    const cases = [
      made({ id: 0, fore: written('#9aa3a8'), ...failing([0, 2]) }),
      made({ id: 1, theme: 1, fore: written('#9aa3a8'), ...failing([1]) }),
      made({ id: 2, fore: written('#9aa3a9'), ...failing([3]) }),
      made({ id: 3, fore: written('#9aa3a8'), backFixed: true, ...failing([4]) }),
      made({ id: 4, fore: written('#9aa3a8'), ...failing([5], 'neon') }),
    ];
    const ground = groundOf(...cases);
    const findings = ['a', 'b', 'c', 'd', 'e', 'f'].map((id, i) => finding(id, { page: i === 2 ? 'tides' : 'quay' }));
    const all = unknownCauses(ground, findings, ground.world.faults, new Map());
    expect(all.map((each) => each.findings)).toEqual([[0, 1, 2], [3], [4], [5]]);
    expect(new Set(all.map(({ cause }) => cause.id)).size).toBe(4);
    expect(all[0]).toMatchObject({
      changes: [],
      cause: {
        layer: 'unknown',
        findings: 3,
        pages: 2,
        themes: ['noon', 'dusk'],
        confidence: 0,
        chain: [{ property: 'color', value: '#9aa3a8' }],
      },
    });
    expect(all[0]?.cause.why).toMatch(/^#a \(#9aa3a8\) in noon and dusk cannot be told: /u);
  });

  test('is a colour written out that stayed, though no token would do there', () => {
    const ground = groundOf(made({ fore: written('#9aa3a8'), wrote: [place('.ribbon')], ...failing([0], 'unthemed') }));
    const [found] = unknownCauses(ground, [finding('a')], ground.world.faults, new Map());
    expect([found?.cause.layer, found?.cause.why]).toEqual([
      'gap',
      '.ribbon writes out #9aa3a8 for its text, which did not follow the theme in noon; no token of the set would do there.',
    ]);
    expect(found === undefined ? null : causeSubject(found.cause)).toBe('color of .ribbon');
  });

  test('is what each rule writes out, where no token is known', () => {
    const facts = { fore: written('#9aa3a8'), seenFore: shown('#9aa3a8') };
    const cases = [
      made({ id: 0, ...facts, wrote: [place('.a')], ...failing([0]) }),
      made({ id: 1, ...facts, wrote: [place('.b')], ...failing([1]) }),
    ];
    const ground = openGround(openWorld({ index: tableOf({}), cases, judges: new Map(), level: 'AA' }), new Set());
    // derived: #9aa3a8 on white is 2.56
    expect(
      unknownCauses(ground, [finding('a'), finding('b')], ground.world.faults, new Map()).map(({ cause }) => cause.why),
    ).toEqual(
      ['.a', '.b'].map(
        (rule) =>
          `${rule} writes out #9aa3a8 for its text, where #9aa3a8 on #ffffff reaches 2.56 of 4.5 in noon; no token is known to take its place.`,
      ),
    );
  });

  test('is called by the rule that writes a literal, else by what people read there', () => {
    expect(said({ wrote: [place('.card_x7Qz9')] })).toEqual([expect.stringMatching(/^card \(\.card_x7Qz9\) \(#9aa3a8\) in noon/u)]);
    expect(said({ wrote: [place('.a')], fore: token(at('mark.main'), '#eeeeee') })).toEqual([
      expect.stringMatching(/^#a \(mark\.main\) in noon/u),
    ]);
    const button = finding('a', { selector: 'html > body > button', key: 'button"Open"' });
    expect(said({}, 'neon', [button])).toEqual([expect.stringMatching(/^button "Open" \(#9aa3a8\) in noon/u)]);
  });
});

describe('faults of token files', () => {
  const fault = (id: string, over: Partial<Finding> = {}): Finding =>
    finding(id, {
      check: 'token-fault',
      selector: 'silt.2',
      measured: { layer: 'ramp', themes: 'noon, dusk', file: 'silt.json', line: 7 },
      ...over,
    });
  const cause = (change: Change, repair: { readonly from?: string; readonly themes?: readonly string[] } = {}): ExplainedCause => {
    const whole: Repair = { change: 'value', of: 'x', from: 'y', to: 'z', themes: ['dusk'], fixes: 1, breaks: 0, ...repair };
    return {
      ...{ changes: [change], findings: [1] },
      cause: { id: 'c', layer: 'token', chain: [], findings: 1, themes: [], pages: 1, confidence: 1, why: '', repair: whole },
    };
  };
  const value: Change = { kind: 'value', token: at('silt.2'), themes: [1], color: parseColor('#777777') };
  const alias: Change = { kind: 'alias', token: at('silt.2'), themes: [1], target: at('silt.1') };
  const other: Change = { kind: 'rebuild', token: at('silt.2'), themes: [1] };

  test('are evidence for the cause that changes the token, or takes it away, in one of their themes', () => {
    const joins = (known: ExplainedCause, one = fault('a')): boolean => withTokenFaults(index, [known], [one]).length === 1;
    expect([joins(cause(value)), joins(cause(alias)), joins(cause(other)), joins(cause(other, { from: 'silt.2' }))]).toEqual([
      true,
      true,
      false,
      true,
    ]);
    expect([joins(cause(value, { themes: ['stark'] })), joins(cause(value), fault('a', { selector: 'silt.1' }))]).toEqual([
      false,
      false,
    ]);
    expect(joins(cause(value), fault('a', { measured: {}, theme: 'dusk' }))).toBe(true);
    expect(joins(cause(value), fault('a', { measured: {}, theme: 'noon' }))).toBe(false);
    const [joined] = withTokenFaults(index, [cause(value)], [fault('a'), finding('b'), fault('c', { level: 'note' })]);
    expect(joined).toMatchObject({ findings: [0, 1, 2], cause: { findings: 3 } });
    const untouched = cause(value);
    expect(withTokenFaults(index, [untouched], [finding('b'), fault('x', { status: 'exempt' })])).toEqual([untouched]);
  });

  test('else are a cause of their own, one for each token and layer; notes alone make none', () => {
    expect(withTokenFaults(index, [], [fault('a', { level: 'note' })])).toEqual([]);
    const [own, role, ...others] = withTokenFaults(
      index,
      [],
      [
        fault('a', { measured: { ...fault('a').measured, themes: 'dusk' } }),
        fault('b', { selector: 'mark.main', measured: { layer: 'sea', file: '', line: 0 } }),
        fault('c', { measured: { ...fault('c').measured, themes: 'noon' } }),
      ],
    );
    expect(others).toEqual([]);
    expect(own).toMatchObject({ findings: [0, 2], changes: [] });
    expect(own?.cause).toEqual({
      ...{ id: own?.cause.id, layer: 'ramp', step: 'silt.2', chain: [{ token: 'silt.2', value: '', file: 'silt.json', line: 7 }] },
      ...{ findings: 2, themes: ['noon', 'dusk'], pages: 0, confidence: 0.6, why: 'a' },
    });
    expect(role?.cause).toMatchObject({
      layer: 'token',
      token: 'mark.main',
      chain: [{ token: 'mark.main', value: '' }],
      themes: ['noon'],
    });
    expect(role?.cause).not.toHaveProperty('step');
    const chainOf = (measured: Finding['measured']): unknown =>
      withTokenFaults(index, [], [fault('x', { measured })])[0]?.cause.chain;
    const bare = { token: 'silt.2', value: '' };
    expect([{}, { file: '', line: 0 }, { file: 7, line: '7' }, { file: 'a', line: 1 }].map(chainOf)).toEqual([
      ...[[bare], [bare], [bare], [{ ...bare, file: 'a', line: 1 }]],
    ]);
    expect(own?.cause.id).not.toBe(role?.cause.id);
  });
});

describe('a token that is missing', () => {
  const page = {
    back: [layer(token(at('face.page'), '#ffffff'))],
    seenBacks: [shown('#ffffff')],
    fore: token(at('mark.main'), '#eeeeee'),
    seenFore: shown('#eeeeee'),
  };
  const gap = (cases: readonly Case[], isOpen: (fault: CaseFault) => boolean = () => true): Candidate | null => {
    const ground = groundOf(...cases);
    return proposeGap(ground, 'k', ground.world.faults).propose(isOpen);
  };
  const faint = made({ ...page, ...failing([0, 1]) });

  test('is asked for first where nothing of the set would do, last where nothing natural would', () => {
    // on white, of #eeeeee, #777777 (4.48) and #ffffff none reaches 4.5
    expect(gap([faint])).toMatchObject({
      layer: 'gap',
      base: 0.75,
      size: 0,
      evidence: { hopeless: true },
      parts: [{ change: { kind: 'add', cases: [0] } }],
    });
    expect(gap([faint])?.outcome).toMatchObject({ gain: Math.log2(3), broken: [], left: [] });
    // of 3, `mark.edge` does, though nobody uses it as an ink
    const large = made({ ...faint, required: 3 });
    expect(gap([large])).toMatchObject({ base: 2.5, evidence: {} });
    // where it is used as one, it is a matter of use
    expect(gap([large, made({ ...page, id: 1, family: 'g', fore: token(at('mark.edge'), '#777777') })])).toBeNull();
  });

  test('is one for one ground where no colour would do on all: for that which most of them share', () => {
    // 7 on white asks for a luminance of at most .1, on black for at least .3 (SC 1.4.6)
    const on = (id: number, behind: string): Case =>
      made({
        ...{ ...page, id, family: `f${String(id)}`, required: 7, ...failing([2 * id, 2 * id + 1]) },
        ...{ seenBacks: [shown(behind)], fore: token(at('mark.main'), '#777777'), seenFore: shown('#777777') },
      });
    const casesOf = (found: Candidate | null): unknown => found?.parts[0].change.kind === 'add' && found.parts[0].change.cases;
    expect(casesOf(gap([on(0, '#ffffff'), on(1, '#f4f4f4')]))).toEqual([0, 1]);
    expect(casesOf(gap([on(0, '#000000'), on(1, '#ffffff'), on(2, '#ffffff')]))).toEqual([1, 2]);
  });

  test('is no matter of opacity, of what is explained, of other checks, or of what is asked nothing', () => {
    expect(gap([made({ ...faint, foreOpacity: 0.5 })])).toBeNull();
    expect(gap([faint], () => false)).toBeNull();
    expect(gap([made({ ...faint, ...failing([0], 'neon') })])).toBeNull();
    expect(gap([made({ ...faint, required: 0 })])).toBeNull();
    const asked = (check: string, required: number): boolean =>
      groundOf(made({ required, ...failing([0], check) })).world.faults.some(isContrast);
    expect([asked('text-contrast', 3), asked('graphic-contrast', 3), asked('graphic-contrast', 0), asked('glow', 3)]).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });
});

test('candidates: the best of several, of equals the first; weights of what is open', () => {
  const looked: string[] = [];
  const of = (base: number, score: number, most = score): Weighing => ({
    most,
    weigh: (least = 0) => {
      looked.push(`${String(base)} for more than ${String(least)}`);
      return score > least ? { ...gapOf(), base, score } : null;
    },
  });
  expect(best([of(1, 1), null, of(2, 2), of(3, 2)])?.base).toBe(2);
  // The most promising is looked at first, and nothing that can score no more than what was found.
  expect(looked.splice(0)).toEqual(['2 for more than 0']);
  expect(best([of(1, 3, 4), of(2, 1, 9), of(3, 2, 3)])?.base).toBe(1);
  expect(looked).toEqual(['2 for more than 0', '1 for more than 1']);
  expect([best([]), best([null, of(1, 0)])]).toEqual([null, null]);
  const { faults } = groundOf(made({ id: 0, ...failing([0]) }), made({ id: 1, ...failing([1, 2, 3]) })).world;
  expect([weightIn(faults, () => true), weightIn(faults, ({ id }) => id === 1), weightIn(faults, () => false)]).toEqual([3, 2, 0]);

  function gapOf(): Candidate {
    const ground = groundOf(made({ required: 21, ...failing([0]) }));
    const found = proposeGap(ground, 'k', ground.world.faults).propose(() => true);
    if (found === null) throw new RangeError('nothing reaches 21 but black on white');
    return found;
  }
});

test('the share of faults at uses that a token is not meant for', () => {
  const used = (id: number, role: Case['role'], over: Partial<Case> = {}): Case =>
    made({ id, family: `f${String(id)}`, role, fore: token(at('mark.edge'), '#777777'), ...over });
  const ground = groundOf(
    used(0, 'edge'),
    used(1, 'ink', failing([0])),
    used(2, 'edge', failing([1, 2, 3])),
    made({ id: 3, family: 'x', ...failing([4]) }),
  );
  const { faults } = ground.world;
  // 1 of 1 + 2 + 1
  expect(strangeShare(ground, faults, at('mark.edge'))).toBe(0.25);
  expect(strangeShare(ground, faults, at('silt.2'))).toBe(0.25);
  expect([strangeShare(ground, faults, at('silt.1')), strangeShare(ground, [], at('silt.2'))]).toEqual([0, 0]);
});

test('places are called by words that are not too long, rules by what their author called them', () => {
  const path = 'html > body > a';
  const words = (count: number): string => `a"${'x'.repeat(count)}"`;
  expect([32, 33].map((count) => readablePlace(path, { selector: path, key: words(count) }))).toEqual([
    `a "${'x'.repeat(32)}"`,
    `a "${'x'.repeat(32)} …"`,
  ]);
  // 60 letters with the brackets
  const link = (count: number): string => `a[href=${'x'.repeat(count)}]`;
  expect([52, 53].map((count) => readablePlace(path, { selector: path, key: link(count) }))).toEqual([link(52), path]);
  expect(readablePlace(path, undefined)).toBe(path);
  expect(readablePlace('p:nth-of-type(2)', { selector: 'p:nth-of-type(2)', key: 'p#a' })).toBe('p#a');
  // A property is told where it is a colour, not where it is a number of one.
  const own = { property: '--face', value: '#fff', rule: '.a' };
  const numbers = [
    { ...own, property: '--h', value: '20' },
    { ...own, value: 'hsl(var(--h) 10% 20%)', rule: '.b' },
  ];
  expect([placeName([own]), placeName(numbers), placeName(numbers.slice(1))]).toEqual(['--face in .a', '.a', '--face in .b']);
  expect([placeName([place('.a')], '#b'), placeName([place('browser')], '#b'), placeName([], '#b'), placeName([])]).toEqual([
    '.a',
    '#b',
    '#b',
    '',
  ]);
  expect(
    ['.ab_x7Qz9 .cd_x7Qz9 .ab_y8Rz9', '.card_abcde', '.card_abCde', '.card-a1b2c', '.card-abc12', '.jss-a1b2c3', '.card_x7Q'].map(
      (rule) => readableName(rule),
    ),
  ).toEqual([
    ...[
      'ab, cd (.ab_x7Qz9 .cd_x7Qz9 .ab_y8Rz9)',
      '.card_abcde',
      'card (.card_abCde)',
      'card (.card-a1b2c)',
      '.card-abc12',
      '.jss-a1b2c3',
      '.card_x7Q',
    ],
  ]);
});
