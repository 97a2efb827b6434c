// What a change would do, on a few cases made by hand. Derived: contrasts of WCAG 2 (on white #999999 2.84, #767676 4.54, #757575 4.61,
// #333333 12.6; on #222222 #999999 5.6, #333333 1.26), weights log2(1 + n).
import { describe, expect, test } from 'vitest';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { unthemed } from '../../src/checks/unthemed.ts';
import type { Color } from '../../src/colour/color.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Finding } from '../../src/samples/finding.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import { refKey } from '../../src/triage/cases/paint-ref.ts';
import { countsOf, evaluate } from '../../src/triage/choose/evaluate.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import { scoreOf, visibility } from '../../src/triage/propose/candidate.ts';
import type { Change, UseSite } from '../../src/triage/recolor/change.ts';
import { isOwn, recoloringOf } from '../../src/triage/recolor/make-recoloring.ts';
import type { Recoloring } from '../../src/triage/recolor/recoloring.ts';
import type { ExplainedCause } from '../../src/triage/tell/causes.ts';
import { compareTry, openTryOut } from '../../src/triage/try-out.ts';
import { propertiesUnder } from '../../src/triage/worn-properties.ts';
import type { World } from '../../src/triage/world.ts';
import { openWorld, weightOf } from '../../src/triage/world.ts';
import { shadow, surface, textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const index = tableOf({
  ink: ['#999999', '#999999'],
  face: ['#ffffff', '#222222'],
  mark: ['{ink}', '{ink}'],
  dark: ['#333333', '#333333'],
  glass: ['rgb(0 0 0 / 0.5)', null],
});
const [INK, FACE, MARK, DARK] = [0, 1, 2, 3];

/** Text in `ink` on `back`, seen as it is painted. */
function text(id: number, back: string, over: Partial<Case> = {}): Case {
  const fore = over.fore ?? token(INK, '#999999');
  const color = toCssText(fore.color);
  return made({
    ...{ id, key: `k${String(id)}`, family: `f${String(id)}`, fore, seenFore: shown(color) },
    ...{ back: [layer(token(FACE, back))], seenBacks: [shown(back)] },
    place: { ...made().place, sample: textRun({ color, background: back, selector: `#t${String(id)}`, key: `t${String(id)}` }) },
    ...over,
  });
}
const failing = (at: readonly number[], check = 'text-contrast'): Partial<Case> => ({
  findings: new Map([[check, at]]),
  samples: at.length,
});

function worldOf(...cases: readonly Case[]): World {
  const judges = new Map([textContrast, unthemed].map((check) => [check.id, check.with()]));
  return openWorld({ index, cases, judges, level: 'AA' });
}
const value = (color: string, themes: readonly number[] = [0, 1]): Change => ({
  kind: 'value',
  token: INK,
  themes,
  color: parseColor(color),
});
const tell = (world: World, change: Recoloring, options = {}): Record<string, unknown> => {
  const { mended, broken, left, unsure, ...sums } = evaluate(world, change, options);
  const ids = (faults: typeof mended): readonly number[] => faults.map(({ case: one }) => one.id);
  const lost = broken.map((each) => `${String(each.case.id)} ${each.check} ${String(each.places)}`);
  return { mended: ids(mended), broken: lost, left: ids(left), unsure: ids(unsure), ...sums };
};
const NOTHING = { mended: [], broken: [], left: [], unsure: [], gain: 0, bystanders: 0, harm: 0 };

describe('a change', () => {
  const world = worldOf(
    text(0, '#ffffff', failing([4, 2, 9])),
    text(1, '#222222', { samples: 3 }),
    text(2, '#ffffff', { samples: 7, judged: false, required: 0 }),
    text(3, '#ffffff', { fore: token(MARK, '#999999'), samples: 1, ...failing([5]) }),
    text(4, '#ffffff', { fore: written('#999999'), ...failing([6]) }),
    text(5, '#ffffff', { fore: { kind: 'derived', tokens: [INK], color: parseColor('#999999') }, ...failing([7]) }),
    text(6, '#222222', { fore: token(INK, '#999999'), theme: 1, samples: 15 }),
  );
  const under = (change: Change, options = {}): Record<string, unknown> => tell(world, recoloringOf(change, world), options);

  test('mends what passes by a margin, breaks what passed, leaves what it does not reach', () => {
    expect(under(value('#333333', [0]))).toEqual({
      ...{ mended: [0, 3], broken: ['1 text-contrast 3'], left: [], unsure: [5] },
      ...{ gain: 2 + 1, bystanders: 3 * 0.3, harm: 2 },
    });
    expect(under(value('#888888', [0]))).toMatchObject({ mended: [], left: [0, 3], gain: 0 });
    // 4.54 passes, but not by a hundredth
    expect(under(value('#767676', [0]))).toMatchObject({ mended: [], left: [0, 3] });
    expect(under(value('#757575', [0]))).toMatchObject({ mended: [0, 3], left: [] });
    // To its own colour it touches all the same: that is how what lies around is counted.
    expect(under(value('#999999', [0]))).toMatchObject({ mended: [], left: [0, 3], bystanders: 2 + 3 * 0.3 });
  });

  test('counts findings and places', () => {
    expect(countsOf(evaluate(world, recoloringOf(value('#333333'), world)))).toEqual({ fixes: 4, breaks: 3 + 15 });
    expect([0, 1, 3, 7].map(weightOf)).toEqual([0, 1, 2, 3]);
  });

  test('that is hardly seen where nothing was wrong has fewer bystanders', () => {
    const paler = value('#a0a0a0', [1]);
    expect(under(paler)).toEqual({ ...NOTHING, bystanders: 4 });
    expect(under(paler, { visible: (one: Case) => (one.id === 6 ? 0.25 : 0) })).toEqual({ ...NOTHING, bystanders: 1 });
  });

  test('of part of a case mends nothing there, and breaks and touches its part alone', () => {
    const half: Recoloring = { ...recoloringOf(value('#333333', [0, 1]), world), partOf: () => 0.5 };
    expect(tell(world, half)).toEqual({
      ...{ mended: [], left: [], unsure: [5], gain: 0 },
      // 1.5 and 7.5 places, rounded up; half of seven of what is under no duty
      ...{
        broken: ['1 text-contrast 2', '6 text-contrast 8'],
        harm: Math.log2(3) + Math.log2(9),
        bystanders: Math.log2(4.5) * 0.3,
      },
    });
  });

  test('breaks nothing that is known elsewhere; leaves no fault that is another’s', () => {
    const plain = recoloringOf(value('#333333', [0, 1]), world);
    expect(tell(world, { ...plain, isKnownElsewhere: (one) => one.id === 1 })['broken']).toEqual(['6 text-contrast 15']);
    const still = recoloringOf(value('#888888', [0]), world);
    expect(tell(world, { ...still, sharesFault: (one) => one.id === 3 })).toMatchObject({ mended: [3], left: [0] });
  });

  test('touches nothing that is not there, and nothing that stays', () => {
    expect(tell(world, { touched: [99, 4], colorOf: () => undefined })).toEqual(NOTHING);
  });

  test('looked at quickly asks texts and graphics alone, without the reference', () => {
    expect(under(value('#333333', [0]), { quick: true })).toMatchObject({ mended: [0, 3], broken: ['1 text-contrast 3'] });
  });
});

describe('what compares', () => {
  // A literal ink that stayed #333333 while its ground went from white to #222222 can no longer be read.
  const noon = text(0, '#ffffff', { fore: written('#333333'), family: 'f' });
  const dusk = text(1, '#222222', { fore: written('#333333'), family: 'f', theme: 1, ...failing([0], 'unthemed') });
  const world = worldOf(noon, dusk);

  test('is asked with the reference as it would be', () => {
    const site: UseSite = { side: 'fore', ref: noon.fore, cases: [0, 1] };
    const use: Change = { kind: 'use', site, token: INK, inks: [], partner: false };
    // through a token it is no literal any more
    expect(tell(world, recoloringOf(use, world))).toMatchObject({ mended: [1] });
    const paler: Recoloring = { touched: [1], colorOf: (_, at) => (at === -1 ? parseColor('#343434') : undefined) };
    expect(tell(world, paler)).toMatchObject({ mended: [], left: [1] });
    const both: Recoloring = { touched: [1], colorOf: (_, at) => (at === -1 ? parseColor('#555555') : undefined) };
    const other: Recoloring = { ...both, colorOf: (one, at) => (one.id === 1 ? both.colorOf(one, at) : undefined) };
    expect(tell(world, other)).toMatchObject({ mended: [1], left: [] });
    // both change alike: it stays what it was
    expect(tell(world, both)).toMatchObject({ mended: [], left: [1] });
  });
});

describe('of what stayed written out', () => {
  // White stayed where the page went from #ffffff to #222222: 87 L* apart instead of 0.
  const panel = (id: number, theme: number, around: string, over: Partial<Case> = {}): Case =>
    made({
      ...{ id, key: `p${String(id)}`, family: 'p', theme, role: 'surface', fore: written('#ffffff'), seenFore: shown('#ffffff') },
      ...{ back: [layer(token(FACE, around))], seenBacks: [shown(around)] },
      facts: { kind: 'surface', standing: '', edged: false },
      place: { ...made().place, sample: surface({ color: '#ffffff', around, selector: '#panel', key: 'panel' }) },
      ...over,
    });
  const world = worldOf(panel(0, 0, '#ffffff'), panel(1, 1, '#222222', failing([0], 'unthemed')));

  test('a surface is not mended by what it lies on', () => {
    const behind = (color: string): Recoloring => ({
      touched: [1],
      colorOf: (_, at) => (at === 0 ? parseColor(color) : undefined),
    });
    expect(tell(world, behind('#ffffff'))).toMatchObject({ mended: [], left: [1] });
    const own: Recoloring = { touched: [1], colorOf: (_, at) => (at === -1 ? parseColor('#333333') : undefined) };
    expect(tell(world, own)).toMatchObject({ mended: [1], left: [] });
  });

  test('a literal that is the colour of its token there follows it from now on', () => {
    const [noon, dusk] = [0, 1].map((theme) =>
      text(theme, '#ffffff', { fore: written('#999999'), family: 'f', theme, ...(theme === 1 ? failing([0], 'unthemed') : {}) }),
    ) as [Case, Case];
    const site: UseSite = { side: 'fore', ref: noon.fore, cases: [0, 1] };
    const both = worldOf(noon, dusk);
    const use: Change = { kind: 'use', site, token: INK, inks: [], partner: false };
    expect(tell(both, recoloringOf(use, both))).toMatchObject({ mended: [1] });
  });
});

describe('a change on the colours of a case', () => {
  const fore = token(INK, '#999999', 0.5);
  const one = text(0, '#ffffff', { fore });
  const stale = text(1, '#ffffff', { fore: { kind: 'stale', token: MARK, alpha: 0.5, color: parseColor('#111111') } });
  const face = made({
    ...{ id: 2, role: 'surface', fore: token(FACE, '#ffffff'), back: [], elements: new Set([7, 8]), family: 's' },
    facts: { kind: 'surface', standing: '', edged: false },
  });
  const upon = text(3, '#ffffff', { grounds: new Set([7, 9]), ...failing([1]) });
  const world = worldOf(one, stale, face, upon);
  const ask = (change: Change, which: Case, ...ats: readonly number[]): unknown => {
    const recoloring = recoloringOf(change, world);
    return ats.map((at) => {
      const color: Color | null | undefined = recoloring.colorOf(which, at);
      return color === null || color === undefined ? color : toCssText(color);
    });
  };
  const site: UseSite = { side: 'fore', ref: fore, cases: [0, 3] };

  test('of tokens goes with their alpha, and not where the page is stale', () => {
    expect(ask(value('#000000'), one, -1, 0, 5)).toEqual(['rgb(0 0 0 / 0.5)', undefined, undefined]);
    expect(ask(value('#000000', [1]), one, -1)).toEqual([undefined]);
    expect(ask(value('#000000'), stale, -1)).toEqual([undefined]);
    expect(ask({ kind: 'alias', token: INK, themes: [0], target: DARK }, one, -1)).toEqual(['rgb(51 51 51 / 0.5)']);
    expect(ask({ kind: 'value', token: FACE, themes: [0], color: parseColor('#eeeeee') }, one, -1, 0)).toEqual([
      undefined,
      '#eeeeee',
    ]);
    const mixed = text(0, '#ffffff', { fore: { kind: 'derived', tokens: [INK], color: parseColor('#999999') } });
    expect(ask(value('#000000'), mixed, -1)).toEqual([null]);
    expect(recoloringOf(value('#000000'), world).touched).toEqual([0, 1, 3]);
  });

  test('that builds anew reaches what is stale alone', () => {
    const rebuild: Change = { kind: 'rebuild', token: INK, themes: [0] };
    expect(ask(rebuild, stale, -1, 0)).toEqual(['rgb(153 153 153 / 0.5)', undefined]);
    expect(ask(rebuild, one, -1)).toEqual([undefined]);
    expect(ask({ ...rebuild, token: DARK }, stale, -1)).toEqual([undefined]);
  });

  test('of a use paints with the token', () => {
    const use: Change = { kind: 'use', site, token: DARK, inks: [], partner: false };
    expect(ask(use, one, -1, 0)).toEqual(['#333333', undefined]);
    const recoloring = recoloringOf(use, world);
    expect([recoloring.touched, recoloring.paintedBy?.(one), recoloring.partOf?.(one)]).toEqual([[0, 3], '--dark', undefined]);
  });

  test('of a surface paints its elements, what lies on it, and its inks', () => {
    const panel = { side: 'surface', ref: face.fore, cases: [2, 3], elements: new Set([7]) } as const;
    const use: Change = {
      kind: 'use',
      site: panel,
      token: DARK,
      inks: [{ role: 'ink', from: refKey(upon.fore), token: FACE }],
      partner: true,
    };
    expect(ask(use, face, -1, 0)).toEqual(['#333333', undefined]);
    expect(ask(use, upon, -1, 0, 1)).toEqual(['#ffffff', '#333333', undefined]);
    expect(ask({ ...use, inks: [] }, upon, -1)).toEqual([undefined]);
    expect(ask(use, { ...upon, role: 'glyph' }, -1)).toEqual([undefined]);
    const recoloring = recoloringOf(use, world);
    expect([face, upon, { ...upon, role: 'glyph' as const }].map((each) => recoloring.paintedBy?.(each))).toEqual([
      '--dark',
      '--face',
      undefined,
    ]);
    // one of two elements, one of two grounds; of none nothing
    expect([face, upon, one].map((each) => recoloring.partOf?.(each))).toEqual([0.5, 0.5, 0]);
    expect(
      [face, { ...face, elements: new Set([8]) }, { ...face, role: 'ink' as const }].map((each) => isOwn(panel, each)),
    ).toEqual([true, false, false]);
  });

  test('of a partner shares the fault that its token has in its own places', () => {
    const panel = { side: 'surface', ref: face.fore, cases: [2], elements: new Set([7]) } as const;
    const own = made({ ...face, id: 0, fore: token(DARK, '#333333'), ...failing([1], 'unthemed') });
    const here = worldOf(own);
    const shares = (change: Partial<Change & { kind: 'use' }>, which: Case, check = 'unthemed'): boolean | undefined =>
      recoloringOf({ kind: 'use', site: panel, token: DARK, inks: [], partner: true, ...change }, here).sharesFault?.(which, check);
    expect(shares({}, face)).toBe(true);
    expect([
      shares({ partner: false }, face),
      shares({}, upon),
      shares({}, face, 'flipped'),
      shares({ token: FACE }, face),
    ]).toEqual([...[false, false, false, false]]);
  });

  test('that takes opacity or nothing away, makes a shadow black, or draws anew', () => {
    const clear = recoloringOf({ kind: 'opacity', site }, world);
    expect([clear.opacityOf?.(one), clear.touched]).toEqual([1, [0, 3]]);
    expect(ask({ kind: 'opacity', site }, one, -1, 0)).toEqual(['#999999', undefined]);
    expect(ask({ kind: 'opacity', site }, text(0, '#ffffff'), -1)).toEqual([undefined]);
    expect(ask({ kind: 'opacity', site }, text(0, '#ffffff', { fore: written('#11111180') }), -1)).toEqual([undefined]);
    expect(ask({ kind: 'unglow', site }, one, -1, 0)).toEqual(['#000000', undefined]);
    const ring: Change = { kind: 'indicator', site, token: DARK };
    expect([ask(ring, one, -1, 0), recoloringOf(ring, world).redraws?.(one)]).toEqual([['#333333', undefined], true]);
    expect(recoloringOf({ kind: 'add', cases: [0] }, world).touched).toEqual([]);
    expect(ask({ kind: 'add', cases: [0] }, one, -1)).toEqual([undefined]);
  });

  test('of a filter clears it, and knows what another theme shows without it', () => {
    const filters = ['html', 'img'].map((selector) => ({ selector, filter: 'invert(1)' }));
    const turned = text(0, '#222222', { theme: 1, family: 'f', filters });
    const noon = text(1, '#ffffff', { family: 'f', ...failing([0]) });
    const here = worldOf(turned, noon);
    const change = {
      kind: 'filter',
      selector: 'img',
      selectors: ['img'],
      filter: 'invert(1)',
      written: [],
      themes: [1],
      cases: [0],
    } as const;
    const recoloring = recoloringOf(change, here);
    expect([recoloring.touched, recoloring.clears?.(turned), recoloring.clears?.(noon)]).toEqual([[0], 'img', undefined]);
    const known = (check: string, foreColor: string, back: string, which = turned): boolean | undefined =>
      recoloring.isKnownElsewhere?.(which, check, [{ fore: shown(foreColor), back: shown(back) }]);
    expect([known('text-contrast', '#999999', '#ffffff'), known('unthemed', '#999999', '#ffffff')]).toEqual([true, true]);
    expect(known('flipped', '#999999', '#ffffff')).toBe(false);
    expect([known('unthemed', '#111111', '#ffffff'), known('unthemed', '#999999', '#111111')]).toEqual([false, false]);
    expect(known('unthemed', '#999999', '#ffffff', noon)).toBe(false);
    expect(recoloring.isKnownElsewhere?.(turned, 'unthemed', [])).toBe(false);
  });
});

describe('a score', () => {
  const plain = { gain: 4, left: 0, bystanders: 0, harm: 0, base: 1, size: 0 };
  // gain² / (gain + bystanders + 12 × harm) × gain / (gain + left) / (base × (1 + size))
  test.each([
    [plain, 4],
    [{ ...plain, left: 4 }, 2],
    [{ ...plain, bystanders: 4 }, 2],
    [{ ...plain, harm: 1 }, 1],
    [{ ...plain, base: 2 }, 2],
    [{ ...plain, size: 1 }, 2],
    [{ ...plain, gain: 0 }, 0],
    [{ gain: 4, left: 4, bystanders: 4, harm: 2, base: 2, size: 1 }, 0.0625],
  ])('%j: %d', (part, score) => {
    expect(scoreOf(part)).toBeCloseTo(score, 9);
  });

  test('a change is fully seen from five times what is just noticeable', () => {
    expect(visibility(parseColor('#000000'), parseColor('#ffffff'))).toBe(1);
    expect(visibility(parseColor('#808080'), parseColor('#808080'))).toBe(0);
    expect(visibility(parseColor('#80808080'), { ...parseColor('#808080'), alpha: 128 / 255 + 0.05 })).toBeCloseTo(0.5, 6);
  });
});

describe('tried out on the page', () => {
  const finding = (id: string, selector: string, view = 'v'): Finding => ({
    ...{
      id,
      view,
      selector,
      check: 'text-contrast',
      level: 'error',
      key: id,
      rect: [0, 0, 1, 1],
      message: '',
      measured: {},
      expected: {},
    },
    ...{ page: 'quay', theme: 'noon', state: 'rest', viewport: 'desk', since: '', status: 'new', cause: null },
  });
  const findings = [finding('a', '#t0'), finding('b', '#t0'), finding('c', 'x-tide >>> p'), finding('d', '#t9', 'w')];
  const ground = openGround(worldOf(text(0, '#ffffff', failing([0, 1, 2])), text(1, '#222222', { samples: 3 })), new Set());
  const cause = (changes: readonly Change[], after: readonly ExplainedCause[] = []): ExplainedCause => ({
    ...{ changes, after, findings: [0, 1, 2, 3] },
    cause: { id: 'c', layer: 'token', chain: [], findings: 4, themes: [], pages: 1, confidence: 1, why: '' },
  });
  const view = (theme: string, id = 'v'): Parameters<ReturnType<typeof openTryOut>['wearFor']>[0] => ({
    id,
    page: 'quay',
    theme,
    state: 'rest',
    viewport: 'desk',
  });
  const wear = (change: Change, where = view('noon')): ReturnType<ReturnType<typeof openTryOut>['wearFor']> =>
    openTryOut(ground, cause([change]), findings).wearFor(where);
  const rules = (...css: readonly string[]): unknown => ({ properties: [], rules: css.map((each) => ({ within: '', css: each })) });
  const site: UseSite = { side: 'fore', ref: token(INK, '#999999'), cases: [0] };
  const only = [findings[0] ?? finding('a', '#t0')];
  const worn = (change: Change, g = ground): unknown =>
    openTryOut(g, { ...cause([change]), findings: [0] }, only).wearFor(view('noon'));

  test('tokens: every property that hangs on them, in the themes that change', () => {
    expect(wear(value('#333333'))).toEqual({
      properties: [
        { name: '--ink', color: '#333333' },
        { name: '--mark', color: '#333333' },
      ],
      rules: [],
    });
    expect([wear(value('#333333', [1])), wear(value('#333333'), view('gone'))]).toEqual([null, null]);
    expect(wear({ kind: 'alias', token: MARK, themes: [0], target: DARK })).toEqual({
      properties: [{ name: '--mark', color: '#333333' }],
      rules: [],
    });
    expect(wear({ kind: 'rebuild', token: INK, themes: [0] })).toEqual({
      properties: [
        { name: '--ink', color: '#999999' },
        { name: '--mark', color: '#999999' },
      ],
      rules: [],
    });
    expect(wear({ kind: 'add', cases: [0] })).toBeNull();
  });

  test('styles: rules for the elements of the view’s own findings, each once, within what holds them', () => {
    expect(wear({ kind: 'indicator', site, token: DARK })).toEqual({
      properties: [],
      rules: [
        { within: '', css: '#t0{outline:2px solid var(--dark)!important}' },
        { within: 'x-tide', css: 'p{outline:2px solid var(--dark)!important}' },
      ],
    });
    expect(wear({ kind: 'indicator', site, token: DARK }, view('noon', 'w'))).toEqual(
      rules('#t9{outline:2px solid var(--dark)!important}'),
    );
    expect(wear({ kind: 'indicator', site, token: DARK }, view('noon', 'z'))).toBeNull();
    expect(worn({ kind: 'opacity', site })).toEqual(rules('#t0{opacity:1!important}', ':has(#t0){opacity:1!important}'));
    expect(worn({ kind: 'unglow', site })).toEqual(rules('#t0{box-shadow:#000000!important}'));
    const filter = {
      kind: 'filter',
      selector: 'html',
      selectors: ['html'],
      filter: 'invert(1)',
      written: [],
      themes: [0],
      cases: [],
    } as const;
    expect(worn(filter)).toEqual(rules('html{filter:none!important}'));
  });

  test('uses: the property that paints, on shapes too, and the inks upon', () => {
    const use = (over: Partial<Change & { kind: 'use' }> = {}): Change => ({
      kind: 'use',
      site,
      token: DARK,
      inks: [],
      partner: false,
      ...over,
    });
    expect(worn(use())).toEqual(rules('#t0{color:var(--dark)!important}'));
    const inks = [{ role: 'ink' as const, from: refKey(token(INK, '#999999')), token: FACE }];
    expect(worn(use({ inks }))).toEqual(rules('#t0{color:var(--dark)!important}', '#t0, #t0 *{color:var(--face)!important}'));
    expect(worn(use({ inks: [{ role: 'glyph', from: '', token: FACE }] }))).toEqual(rules('#t0{color:var(--dark)!important}'));
    const drawnWith = (property: string): ReturnType<typeof openGround> => {
      const sample = shadow({
        color: '#000000',
        beneath: '#ffffff',
        paint: { property, color: '#000000', origin: { kind: 'literal' } },
      });
      return openGround(worldOf(text(0, '#ffffff', { ...failing([0]), place: { ...made().place, sample } })), new Set());
    };
    // All edges of a box are told by its upper one.
    expect(worn(use(), drawnWith('border-top-color'))).toEqual(rules('#t0{border-color:var(--dark)!important}'));
    expect(worn(use(), drawnWith('border-left-color'))).toEqual(rules('#t0{border-left-color:var(--dark)!important}'));
    for (const property of ['fill', 'stroke']) {
      const drawn = drawnWith(property);
      expect(worn(use(), drawn)).toEqual(
        rules(`#t0{${property}:var(--dark)!important}`, `#t0 [${property}]{${property}:var(--dark)!important}`),
      );
    }
    const unseen = openGround(
      worldOf(text(0, '#ffffff', { ...failing([0]), place: { ...made().place, sample: null } })),
      new Set(),
    );
    expect(worn(use(), unseen)).toBeNull();
    expect(worn(use({ site: { ...site, cases: [] } }))).toBeNull();
    // of a surface the surface's own paint, none where none of the cases is it
    expect(worn(use({ site: { side: 'surface', ref: site.ref, cases: [0], elements: new Set([1]) } }))).toBeNull();
  });

  test('uses: in every theme in which the declaration holds, also where nothing is found', () => {
    const both = openGround(
      worldOf(
        text(0, '#ffffff', { fore: written('#999999'), ...failing([0]) }),
        text(1, '#222222', { fore: written('#999999'), theme: 1 }),
      ),
      new Set(),
    );
    const use: Change = {
      kind: 'use',
      site: { ...site, ref: written('#999999'), cases: [0, 1] },
      token: DARK,
      inks: [],
      partner: false,
    };
    const inDusk = (change: Change): unknown =>
      openTryOut(both, { ...cause([change]), findings: [0] }, only).wearFor(view('dusk', 'u'));
    expect(inDusk(use)).toEqual(rules('#t0{color:var(--dark)!important}'));
    expect(inDusk({ ...use, site: { ...use.site, cases: [0] } })).toBeNull();
    expect(inDusk({ kind: 'indicator', site: use.site, token: DARK })).toBeNull();
  });

  test('uses: what the browser paints by itself goes by the scheme of the theme', () => {
    const own = { kind: 'system', color: parseColor('#ffffff') } as const;
    const box = text(0, '#ffffff', { role: 'surface', fore: own, elements: new Set([7]), ...failing([0]) });
    const site: UseSite = { side: 'surface', ref: own, cases: [0], elements: new Set([7]) };
    expect(worn({ kind: 'use', site, token: DARK, inks: [], partner: false }, openGround(worldOf(box), new Set()))).toEqual(
      rules(':root{color-scheme:light!important}', '#t0{color:var(--dark)!important}'),
    );
  });

  test('a surface where it is itself found fault with, and not on what lies on it', () => {
    const face = token(FACE, '#ffffff');
    const sample = shadow({
      color: '#ffffff',
      beneath: '#222222',
      paint: { property: 'background-color', color: '#ffffff', origin: { kind: 'literal' } },
    });
    const surface = (at: readonly number[]): Case =>
      made({
        id: 0,
        role: 'surface',
        fore: face,
        elements: new Set([1]),
        place: { ...made().place, sample },
        ...failing(at, 'unthemed'),
      });
    const upon = (id: number, at: number, fore: ReturnType<typeof token>): Case =>
      text(id, '#ffffff', { ...failing([at]), fore, grounds: new Set([1]) });
    const change: Change = {
      ...{ kind: 'use', token: DARK, partner: false },
      site: { side: 'surface', ref: face, cases: [0, 1, 2], elements: new Set([1]) },
      inks: [{ role: 'ink', from: refKey(token(INK, '#999999')), token: FACE }],
    };
    const places = ['#panel', '#panel > p', '#panel > b'].map((selector, at) => finding(`f${String(at)}`, selector));
    const wornOn = (own: readonly number[], { inks }: Pick<typeof change, 'inks'> = change): unknown => {
      const world = worldOf(surface(own), upon(1, 1, token(INK, '#999999')), upon(2, 2, token(DARK, '#333333')));
      const told = { ...cause([{ ...change, inks }]), findings: [0, 1, 2] };
      return openTryOut(openGround(world, new Set()), told, places).wearFor(view('noon'));
    };
    const [panel, all] = ['#panel{background-color:var(--dark)!important}', '#panel, #panel *{color:var(--face)!important}'];
    expect(wornOn([0])).toEqual(rules(panel, all));
    // Each ink where it is known to stand.
    const both = [...change.inks, { role: 'ink' as const, from: refKey(token(DARK, '#333333')), token: INK }];
    expect(wornOn([0], { inks: both })).toEqual(
      rules(
        ...[panel, all, '#panel, #panel *{color:var(--ink)!important}'],
        ...['#panel > p{color:var(--face)!important}', '#panel > b{color:var(--ink)!important}'],
      ),
    );
    // Of a surface with no fault of its own its selector is not known: what lies on it gets one.
    const onTexts = ['#panel', '#panel > p', '#panel > b'].map((at) => `${at}{background-color:var(--dark)!important}`);
    expect(wornOn([], { inks: [] })).toEqual(rules(...onTexts));
  });

  test('uses: each of several where its own findings are', () => {
    const two = openGround(
      worldOf(
        text(0, '#ffffff', { fore: written('#999999'), ...failing([0]) }),
        text(1, '#ffffff', { fore: written('#88aa99'), ...failing([1]) }),
      ),
      new Set(),
    );
    const use = (id: number, color: string, to: number): Change => ({
      ...{ kind: 'use', token: to, inks: [], partner: false },
      site: { side: 'fore', ref: written(color), cases: [id] },
    });
    const told = { ...cause([use(0, '#999999', DARK), use(1, '#88aa99', FACE)]), findings: [0, 1] };
    expect(openTryOut(two, told, [finding('a', '#t0'), finding('b', '#t1')]).wearFor(view('noon'))).toEqual(
      rules('#t0{color:var(--dark)!important}', '#t1{color:var(--face)!important}'),
    );
  });

  test('what one finding stands for: by the rule that paints it, which gives way to what overrides it', () => {
    const own = { property: 'box-shadow', value: '0 2px 9px #fff', rule: '.pier' };
    const cards = (place: string, count: number): unknown => {
      const told = [{ ...finding('a', place), measured: { count } }];
      const lit = openGround(worldOf(text(0, '#ffffff', { ...failing([0]), wrote: [own] })), new Set());
      const unglow: Change = { kind: 'unglow', site };
      return openTryOut(lit, { ...cause([unglow]), findings: [0] }, told).wearFor(view('noon'));
    };
    expect(cards('#t0', 1)).toEqual(rules('#t0{box-shadow:#000000!important}'));
    expect(cards('#t0', 3)).toEqual(rules('.pier{box-shadow:#000000}', '#t0{box-shadow:#000000!important}'));
    expect(cards('x-tide >>> p', 3)).toEqual({
      properties: [],
      rules: [
        { within: 'x-tide', css: '.pier{box-shadow:#000000}' },
        { within: 'x-tide', css: 'p{box-shadow:#000000!important}' },
      ],
    });
  });

  test('what is promised, alone and upon what it comes after', () => {
    const forecast = (changes: readonly Change[], after: readonly ExplainedCause[] = []): unknown =>
      openTryOut(ground, cause(changes, after), findings).forecast;
    expect(forecast([value('#333333', [0])])).toEqual({ mended: ['a', 'b', 'c'], broken: 3 });
    expect(forecast([value('#888888', [0])])).toEqual({ mended: [], broken: 3 });
    expect(forecast([])).toEqual({ mended: [], broken: 0 });
    // Of what two rules do alike, each cause promises its own.
    const use: Change = { kind: 'use', site, token: DARK, inks: [], partner: false };
    expect(openTryOut(ground, cause([use]), findings).forecast.mended).toEqual(['a', 'b', 'c']);
    expect(openTryOut(ground, { ...cause([use]), findings: [0] }, findings).forecast.mended).toEqual(['a']);
    // First the face turns dark, on which the ink reads as it is; a dark ink upon it loses these three places and the three that passed.
    const first = cause([{ kind: 'value', token: FACE, themes: [0], color: parseColor('#222222') }]);
    expect(forecast([value('#333333', [0])], [first])).toEqual({ mended: ['a', 'b', 'c'], broken: 6 });
    const both = openTryOut(ground, cause([value('#333333', [0])], [first]), findings).wearFor(view('noon'));
    expect(both?.properties.map(({ name }) => name)).toEqual(['--face', '--ink', '--mark']);
  });

  test('promise and outcome, in the views that were rendered again', () => {
    const [a, b, c, d] = ['a', 'b', 'c', 'd'].map((id) => finding(id, `#${id}`, id === 'd' ? 'w' : 'v'));
    const e = finding('e', '#e');
    if (a === undefined || b === undefined || c === undefined || d === undefined) throw new RangeError('four were made');
    expect(
      compareTry({ mended: ['a', 'b', 'd', 'x'], broken: 7 }, new Set(['v']), { before: [a, b, c, d], after: [b, c, e, d] }),
    ).toEqual({
      predicted: { mended: 2, broken: 7 },
      actual: { mended: 1, broken: 1 },
      stayed: [b],
      appeared: [e],
    });
  });

  test('what a view wears of tokens that move', () => {
    expect(propertiesUnder(index, 0, (at) => (at === INK ? parseColor('#333333') : index.colorOf(0, at)))).toEqual([
      { name: '--ink', color: '#333333' },
    ]);
    expect(propertiesUnder(index, 1, () => parseColor('#222222')).map(({ name }) => name)).toEqual(['--ink', '--mark', '--dark']);
    expect(propertiesUnder(index, 0, () => null)).toEqual([]);
  });
});
