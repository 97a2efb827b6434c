// Which changes are tried for a fault, and which of them is chosen: on a few cases made by hand. Derived: keys name what would change, by the
// rules that stand at each proposal; contrasts of WCAG 2 on white: #999999 2.84, #777777 4.48, #333333 12.6.
import { describe, expect, test } from 'vitest';
import { graphicContrast } from '../../src/checks/graphic-contrast.ts';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { opaque } from '../../src/colour/color.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import { refKey } from '../../src/triage/cases/paint-ref.ts';
import { choose } from '../../src/triage/choose/choose.ts';
import { chooseFromBelow } from '../../src/triage/choose/from-below.ts';
import { openLinks } from '../../src/triage/choose/links.ts';
import type { RuledExplanation } from '../../src/triage/choose/split-by-rule.ts';
import { partOf } from '../../src/triage/propose/candidate.ts';
import type { Candidate, Ground } from '../../src/triage/propose/candidate.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import {
  proposeIndicator,
  proposeOpacity,
  proposeOutline,
  proposeRebuild,
  proposeUnglow,
  proposeUnfilter,
} from '../../src/triage/propose/page.ts';
import { demandsOf, unlikeGap } from '../../src/triage/propose/gap.ts';
import { groundKey, literalKey, proposalsFor } from '../../src/triage/propose/propose.ts';
import { proposeAlpha } from '../../src/triage/propose/page.ts';
import { proposeAlias } from '../../src/triage/propose/alias.ts';
import { proposeUse } from '../../src/triage/propose/use.ts';
import { ofTokens, openFaults, proposeValue } from '../../src/triage/propose/value.ts';
import { between, fitted, paintable } from '../../src/triage/propose/nearby-colors.ts';
import type { Change, UseSite } from '../../src/triage/recolor/change.ts';
import type { ExplainedCause } from '../../src/triage/tell/causes.ts';
import { withOrder } from '../../src/triage/tell/hangs-on.ts';
import { openWorld } from '../../src/triage/world.ts';
import { graphic, textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const STEPS = ['#ffffff', '#bbbbbb', '#999999', '#777777', '#333333', '#111111'];
const index = tableOf(
  {
    ...Object.fromEntries(STEPS.map((color, at) => [`silt.${String(at)}`, [color, color]])),
    ...{ 'mark.own': ['{silt.2}', '{silt.2}'], 'mark.shared': ['{silt.2}', '{silt.2}'], 'face.page': ['#ffffff', '#111111'] },
    ...{ 'fall.low': ['#888888', '#888888'], 'mark.good': ['{silt.4}', '{silt.0}'], 'edge.ring': ['{silt.4}', '{silt.0}'] },
  },
  {
    ramps: [{ name: 'silt', steps: STEPS.map((_, at) => `silt.${String(at)}`) }],
    shared: ['mark.shared'],
    composite: ['fall.low'],
  },
);
const at = (path: string): number => index.tokenAt(path);
const judges = new Map([textContrast, graphicContrast].map((check) => [check.id, check.with()]));
const groundOf = (...cases: readonly Case[]): Ground => openGround(openWorld({ index, cases, judges, level: 'AA' }), new Set());
const failing = (ids: readonly number[], check = 'text-contrast'): Partial<Case> => ({
  findings: new Map([[check, ids]]),
  samples: ids.length,
});

/** Text of a colour on the page, by default of `mark.own`. */
function text(id: number, over: Partial<Case> = {}): Case {
  const fore = over.fore ?? token(at('mark.own'), '#999999');
  const theme = over.theme ?? 0;
  const back = theme === 0 ? '#ffffff' : '#111111';
  const color = toCssText({ ...fore.color, alpha: 1 });
  return made({
    ...{ id, key: `k${String(id)}`, family: `f${String(id)}`, fore, seenFore: shown(color), theme },
    ...{ back: [layer(token(at('face.page'), back))], seenBacks: [shown(back)] },
    place: { ...made().place, sample: textRun({ color, background: back, selector: `#t${String(id)}`, key: `t${String(id)}` }) },
    ...over,
  });
}

const keys = (of: number, cases: readonly Case[], stale: readonly number[] = []): readonly string[] => {
  const ground = groundOf(...cases);
  const fault = ground.world.faults.find((each) => each.case.id === of);
  const links = openLinks(ground, (theme, one) => theme === 0 && stale.includes(one));
  const named = (key: string): string =>
    key.replace(/^(value|alias|rebuild) (\d+)/u, (_, what: string, one: string) => `${what} ${index.pathOf(Number(one))}`);
  return fault === undefined ? [] : proposalsFor(links, fault).map(({ key }) => named(key));
};
const PAGE = refKey(token(at('face.page'), '#ffffff'));
const GAPS = (one: Case): readonly string[] => [`gap ${groundKey(index, one)}`, `gap ${one.family}`];
const BEHIND = ['value face.page 0', 'alias face.page 0'];

describe('what could mend a fault', () => {
  test('each token on the way to the literal, the place, what it lies on, and what is missing', () => {
    const one = text(0, { ...failing([0]), grounds: new Set([7]) });
    const passing = text(1, { grounds: new Set([7]) });
    expect(keys(0, [one, passing])).toEqual([
      'alias mark.own 0',
      'value silt.2 0',
      ...BEHIND,
      'use 0',
      `use surface ${PAGE} 0,1`,
      ...GAPS(one),
    ]);
    expect(keys(0, [text(0, failing([0]))])).toEqual(['alias mark.own 0', 'value silt.2 0', ...BEHIND, 'use 0', ...GAPS(text(0))]);
  });

  test('of what themes share, all that it governs, those that fail, and the one at hand', () => {
    const shared = (id: number, theme: number, fails: boolean): Case =>
      text(id, { fore: token(at('mark.shared'), '#999999'), theme, family: 'f', ...(fails ? failing([id]) : {}) });
    const alias = (cases: readonly Case[]): readonly string[] =>
      keys(0, cases).filter((key) => key.startsWith('alias mark.shared'));
    expect(alias([shared(0, 0, true), shared(1, 1, false)])).toEqual(['alias mark.shared 0,1', 'alias mark.shared 0']);
    expect(alias([shared(0, 0, true), shared(1, 1, true)])).toEqual(['alias mark.shared 0,1', 'alias mark.shared 0']);
    expect(keys(1, [shared(0, 0, true), shared(1, 1, true)]).filter((key) => key.startsWith('alias mark.shared'))).toEqual([
      ...['alias mark.shared 0,1', 'alias mark.shared 1'],
    ]);
  });

  test('of what is more than a colour no step; of what the page has of an older build, to build it anew', () => {
    expect(keys(0, [text(0, { fore: token(at('fall.low'), '#888888'), back: [], ...failing([0]) })])[0]).toBe('value fall.low 0');
    expect(keys(0, [text(0, { fore: token(at('fall.low'), '#888888'), back: [], ...failing([0]) })])).not.toContain(
      'alias fall.low 0',
    );
    const stale = text(0, {
      fore: { kind: 'stale', token: at('mark.own'), alpha: 1, color: parseColor('#999999') },
      back: [],
      ...failing([0]),
    });
    expect(keys(0, [stale], [at('silt.2')])[0]).toBe('rebuild silt.2 0');
    expect(keys(0, [stale], [at('silt.2'), at('mark.own')])[0]).toBe('rebuild silt.2 0');
    expect(keys(0, [stale])[0]).toBe('rebuild mark.own ');
    expect(
      keys(0, [text(0, { fore: { kind: 'derived', tokens: [0], color: parseColor('#999999') }, back: [], ...failing([0]) })]),
    ).toEqual(['use 0', ...GAPS(text(0, { back: [] }))]);
  });

  test('of a literal all that wears it in the role', () => {
    const grey = { fore: written('#999999') };
    const cases = [
      text(0, { ...grey, ...failing([0]), back: [] }),
      text(1, grey),
      text(2, { ...grey, role: 'glyph' }),
      text(3, { fore: written('#999998') }),
    ];
    expect(keys(0, cases)[0]).toBe('use 0,1');
    expect(literalKey(cases[2] ?? made())).toBe('glyph l#999999');
  });

  test('for a surface that is written out and cannot be told from the page, the page is not to change', () => {
    const bar = (fore: Case['fore']): Case => text(0, { role: 'surface', required: 0, fore, ...failing([0], 'separation') });
    const isAsked = (fore: Case['fore']): boolean =>
      groundOf(bar(fore)).world.faults.some(ofTokens((fault) => fault.check === 'separation'));
    expect(isAsked(written('#ffffff'))).toBe(false);
    expect(isAsked(token(at('mark.own'), '#ffffff'))).toBe(true);
  });

  test('where words lie on the face of a control, no other face but an outline; what tells a face is missing as an outline is', () => {
    const face = text(0, {
      ...{ role: 'face', elements: new Set([7]), required: 3, back: [], fore: written('#eeeeee') },
      ...failing([0], 'graphic-contrast'),
    });
    const words = text(1, { grounds: new Set([7]) });
    const gaps = ['gap edge f0 grey', 'gap f0'];
    expect(keys(0, [face])).toEqual(['use 0', ...gaps]);
    expect(keys(0, [face, text(1, { grounds: new Set([8]) })])).toEqual(['use 0', ...gaps]);
    expect(keys(0, [face, words])).toEqual(['outline 0', ...gaps]);
  });

  test('an opacity, a shadow written out, a focus indicator that is not there, filters', () => {
    const own = (over: Partial<Case>): readonly string[] =>
      keys(0, [text(0, { fore: written('#999999'), back: [], ...failing([0]), ...over })]);
    const gaps = GAPS(text(0, { back: [] }));
    expect(own({ foreOpacity: 0.9 })).toEqual(['use 0', 'opacity 0', ...gaps]);
    expect(own({ fore: token(at('mark.own'), '#999999', 0.9) })).toEqual([
      'alias mark.own 0',
      'value silt.2 0',
      'use 0',
      'alpha 0',
      ...gaps,
    ]);
    expect(own({ role: 'shadow', ...failing([0], 'glow') })).toEqual(['use 0', 'unglow 0']);
    expect(own({ role: 'shadow', fore: token(at('fall.low'), '#888888'), ...failing([0], 'glow') })).toEqual([
      'value fall.low 0',
      'use 0',
    ]);
    const ring = {
      role: 'ring',
      seenFore: shown('#ffffff'),
      foreFixed: true,
      required: 3,
      ...failing([0], 'graphic-contrast'),
    } as const;
    expect(own(ring)).toEqual(['use 0', 'indicator 0']);
    expect(own({ ...ring, foreFixed: false })).toEqual(['use 0']);
    expect(own({ ...ring, seenFore: shown('#dddddd') })).toEqual(['use 0', 'gap ring f0 grey', 'gap f0']);
    const photo = (id: number, selector: string, over: Partial<Case> = {}): Case =>
      made({ id, role: 'picture', filters: [{ selector, filter: 'invert(1)' }], ...failing([id], 'inverted-picture'), ...over });
    expect(keys(0, [photo(0, 'figure:nth-of-type(1) > img')])).toEqual(['filter figure:nth-of-type(1) > img invert(1) 0']);
    const alike = [
      photo(0, 'figure:nth-of-type(1) > img'),
      photo(1, 'figure:nth-of-type(2) > img'),
      photo(2, 'figure > svg'),
      photo(3, 'figure:nth-of-type(3) > img', { theme: 1 }),
    ];
    expect(keys(0, alike)).toEqual(['filter figure > img invert(1) 0']);
  });

  test('what is missing on one surface is one for all greys, and another for reds', () => {
    const key = (color: string, id = 0): string => groundKey(index, text(id, { fore: written(color), grounds: new Set([7]) }));
    expect(key('#999999')).toBe(key('#8b949e', 1));
    expect(key('#dc4446')).toBe(key('#ff4d4f', 1));
    expect(new Set([key('#999999'), key('#dc4446'), key('#1677ff'), key('#52c41a'), key('#faad14')]).size).toBe(5);
    // either side of the full turn
    expect(key('#d81b60')).toBe(key('#e91e3a'));
  });

  test('of a surface its failing elements, painted by the same thing', () => {
    const panel = (id: number, elements: readonly number[], over: Partial<Case> = {}): Case =>
      made({
        id,
        family: 's',
        role: 'surface',
        fore: written('#ffffff'),
        back: [],
        elements: new Set(elements),
        facts: { kind: 'surface', standing: '', edged: false },
        ...over,
      });
    const cases = [
      panel(0, [7], failing([0], 'unthemed')),
      panel(1, [8]),
      text(2, { back: [layer(written('#ffffff'))], grounds: new Set([7]) }),
      text(3, { back: [layer(written('#eeeeee'))], grounds: new Set([7]) }),
      panel(4, [7], { fore: written('#eeeeee'), family: 'x' }),
    ];
    expect(keys(0, cases)).toEqual(['use surface l#ffffff 0,2']);
  });
});

test('where there are no tokens, a pair of colours is one missing thing, whatever property handed it on', () => {
  const none = tableOf({});
  const pair = (fore: string, back: string, local?: string): string =>
    groundKey(none, made({ fore: written(fore, local), back: [layer(written(back))] }));
  expect(pair('#777777', '#ffffff', '--own')).toBe(pair('#777777', '#ffffff'));
  expect(pair('#777777', '#ffffff')).not.toBe(pair('#777778', '#ffffff'));
  expect(pair('#777777', '#ffffff')).not.toBe(pair('#777777', '#eeeeee'));
});

describe('a proposal made concrete', () => {
  const all = (): boolean => true;
  const one = text(0, failing([0, 1, 2]));
  const fore: UseSite = { side: 'fore', ref: one.fore, cases: [0] };
  const tell = (found: Candidate | null): unknown =>
    found === null
      ? null
      : [found.layer, found.base, found.parts[0].change.kind, found.outcome.mended.length, found.outcome.broken.length];

  test('points a token at a step that reads, best nearest; nothing is sent where it is', () => {
    const found = proposeAlias(groundOf(one), at('mark.own'), [0]).propose(all);
    expect(found?.parts[0].change).toMatchObject({ kind: 'alias', token: at('mark.own'), themes: [0], target: at('silt.4') });
    expect([found?.layer, found?.base, found?.outcome.gain]).toEqual(['token', 1, 2]);
    expect(proposeAlias(groundOf(one), at('mark.own'), [0]).propose(() => false)).toBeNull();
    expect(proposeAlias(groundOf(text(0)), at('mark.own'), [0]).propose(all)).toBeNull();
    // an override beside a declaration that stays costs more
    const shared = text(0, { fore: token(at('mark.shared'), '#999999'), ...failing([0]) });
    expect(proposeAlias(groundOf(shared), at('mark.shared'), [0]).propose(all)?.base).toBe(1.15);
    // of a literal the steps nearest in colour are tried
    const lone = text(0, { back: [layer(token(at('face.page'), '#ffffff'))], ...failing([0]) });
    expect(proposeAlias(groundOf(lone), at('face.page'), [0]).propose(all)?.parts[0].change).toMatchObject({
      token: at('face.page'),
      target: at('silt.5'),
    });
  });

  test('takes back as little alpha as reads', () => {
    // derived: #222222 at .5 on white is #909090, 3.19:1; at .65 #6f6f6f, 5.02:1; at .6 #7a7a7a, 4.29:1
    const faint = token(at('silt.5'), '#22222280', 0.5);
    const one = text(0, { fore: faint, seenFore: shown('#909090'), ...failing([0]) });
    const found = proposeAlpha(groundOf(one), { side: 'fore', ref: faint, cases: [0] }, 0.5).propose(all);
    expect(found?.parts.map(({ change, layer }) => [layer, change])).toMatchObject([['usage', { kind: 'alpha', alpha: 0.65 }]]);
    expect(found?.outcome.mended).toHaveLength(1);
  });

  test('sends what is written out in all themes to a ramp of its own colour alone', () => {
    // #777777 reaches 4.48 on white, #555555 7.46.
    const target = (color: string): unknown => {
      const steps = ['#f2f2f2', '#d9d9d9', '#999999', '#777777', '#555555', '#222222'];
      const set = tableOf(
        { ...Object.fromEntries(steps.map((step, n) => [`silt.${String(n)}`, [step, step]])), own: [color, color] },
        { ramps: [{ name: 'silt', steps: steps.map((_, n) => `silt.${String(n)}`) }] },
      );
      const own = set.tokenAt('own');
      const case0 = text(0, { fore: token(own, color), seenFore: shown(color), ...failing([0]) });
      const world = openWorld({ index: set, cases: [case0], judges, level: 'AA' });
      const change = proposeAlias(openGround(world, new Set()), own, [0]).propose(all)?.parts[0].change;
      return change?.kind === 'alias' ? set.pathOf(change.target) : null;
    };
    expect(target('#9a9998')).toBe('silt.4');
    expect(target('#5fb0c4')).toBeNull();
  });

  test('gives a token the nearest value that reads, by a margin', () => {
    const found = proposeValue(
      groundOf(text(0, { fore: token(at('fall.low'), '#888888'), ...failing([0]) })),
      at('fall.low'),
      [0],
    ).propose(all);
    const change = found?.parts[0].change;
    const color = change?.kind === 'value' ? toCssText(change.color) : '';
    // 4.5 × 1.01 on white is reached from #757575 on
    expect(color).toBe('#757575');
    expect([found?.layer, found?.base]).toEqual(['token', 1.1]);
    expect(proposeValue(groundOf(one), at('silt.2'), [0]).propose(all)).toMatchObject({ layer: 'ramp' });
    expect(proposeValue(groundOf(one), at('fall.low'), [0]).propose(all)).toBeNull();
    expect(proposeValue(groundOf(one), 99, [0]).propose(all)).toBeNull();
  });

  test('lets a place use a token that others use so', () => {
    const good = text(1, { fore: token(at('mark.good'), '#333333'), samples: 7 });
    const grey = text(0, { fore: written('#9a9a9a'), ...failing([0]) });
    const found = proposeUse(groundOf(grey, good), { ...fore, ref: grey.fore }).propose(all);
    expect(found?.parts[0].change).toMatchObject({ kind: 'use', token: at('mark.good'), inks: [], partner: false });
    expect([found?.layer, found?.outcome.gain]).toEqual(['usage', 1]);
    expect(proposeUse(groundOf(grey), { ...fore, ref: grey.fore }).propose(all)).toBeNull();
    expect(proposeUse(groundOf(grey, good), { ...fore, ref: grey.fore }).propose(() => false)).toBeNull();
  });

  test('takes away what hides a place, or draws what is missing', () => {
    const faint = text(0, {
      fore: token(at('mark.good'), '#333333'),
      foreOpacity: 0.4,
      seenFore: shown('#adadad'),
      ...failing([0]),
    });
    expect(tell(proposeOpacity(groundOf(faint), fore).propose(all))).toEqual(['usage', 0.9, 'opacity', 1, 0]);
    expect(proposeUnglow(groundOf(faint), fore).propose(all)).toBeNull();
    const stale = text(0, {
      fore: { kind: 'stale', token: at('mark.good'), alpha: 1, color: parseColor('#999999') },
      ...failing([0]),
    });
    expect(tell(proposeRebuild(groundOf(stale), at('mark.good'), [0]).propose(all))).toEqual(['build', 0.3, 'rebuild', 1, 0]);
    const ring = (id: number, over: Partial<Case>): Case =>
      text(id, {
        role: 'ring',
        required: 3,
        facts: { kind: 'graphic', standing: '', edged: false },
        place: { ...made().place, sample: graphic({ color: '#ffffff', against: '#ffffff', role: 'focus' }) },
        ...over,
      });
    const bare = ring(0, {
      fore: { kind: 'unknown', color: parseColor('#ffffff') },
      foreFixed: true,
      seenFore: shown('#ffffff'),
      ...failing([0], 'graphic-contrast'),
    });
    const drawn = ring(1, { fore: token(at('edge.ring'), '#333333'), samples: 3 });
    const found = proposeIndicator(groundOf(bare, drawn), fore).propose(all);
    expect(found?.parts[0].change).toMatchObject({ kind: 'indicator', token: at('edge.ring') });
    expect(tell(found)).toEqual(['usage', 0.4, 'indicator', 1, 0]);
    expect(proposeIndicator(groundOf(bare), fore).propose(all)).toBeNull();
    const field = text(0, {
      ...{ role: 'face', required: 3, fore: written('#eeeeee'), facts: { kind: 'graphic', standing: '', edged: false } },
      place: { ...made().place, sample: graphic({ color: '#eeeeee', against: '#ffffff', role: 'border' }) },
      ...failing([0], 'graphic-contrast'),
    });
    const edge = { ...drawn, role: 'edge', fore: token(at('edge.ring'), '#333333') } as const;
    const outlined = proposeOutline(groundOf(field, edge), fore, field).propose(all);
    expect(outlined?.parts[0].change).toMatchObject({ kind: 'outline', token: at('edge.ring') });
    expect(tell(outlined)).toEqual(['usage', 0.4, 'outline', 1, 0]);
    // What words are drawn in is no colour for outlines, though somewhere it is one.
    const odd = { ...edge, fore: token(at('mark.good'), '#333333') };
    expect(proposeOutline(groundOf(field, odd), fore, field).propose(all)).toBeNull();
    const turned = text(0, {
      fore: token(at('mark.good'), '#333333'),
      seenFore: shown('#cccccc'),
      seenBacks: [shown('#ffffff')],
      filters: [{ selector: 'main', filter: 'invert(1)' }],
      backFixed: false,
      ...failing([0]),
    });
    const filter = { selector: 'main', selectors: ['main'], filter: 'invert(1)', written: [], themes: [0], cases: [0] };
    expect(tell(proposeUnfilter(groundOf(turned), filter).propose(all))).toEqual(['usage', 0.4, 'filter', 1, 0]);
  });

  test('a token that is missing is asked for on what is seen: colours beyond sRGB are painted clipped', () => {
    // recorded: sRGB of oklch(57.7% 0.245 27.325), with a channel below 0
    const red = opaque(parseColor('color(srgb 0.90646 -0.09594 0.04221)'));
    const one = text(0, { seenBacks: [red], ...failing([0]) });
    const [demand] = demandsOf(groundOf(one).world, [one]);
    expect(demand === undefined ? '' : toCssText(demand.on)).toBe('#e7000b');
  });

  test('a token that is missing serves the same declaration in the theme in which it merely stayed, on whatever it lies there', () => {
    const wrote = [{ property: 'color', value: '#999999', rule: '.hint' }];
    const stayed = (over: Partial<Case>): Case =>
      text(1, { fore: written('#999999'), theme: 1, family: 'b', ...failing([1], 'unthemed'), ...over });
    const missing = (other: Case): readonly unknown[] => {
      const ground = groundOf(text(0, { fore: written('#999999'), family: 'a', wrote, ...failing([0]) }), other);
      const [change] = unlikeGap(ground, all, ground.world.faults)?.parts.map((part) => part.change) ?? [];
      return change?.kind === 'add' ? change.cases : [];
    };
    expect(missing(stayed({ wrote }))).toEqual([0, 1]);
    expect(missing(stayed({ wrote: [{ property: 'color', value: '#999999', rule: '.note' }] }))).toEqual([0]);
    expect(missing(stayed({}))).toEqual([0]);
  });

  test('that takes something away is held against neither what it sets right along the way, nor what stays wrong', () => {
    const faded = { fore: token(at('mark.good'), '#333333'), foreOpacity: 0.4, seenFore: shown('#adadad') };
    const passing = text(1, { ...faded, required: 1, samples: 3, foreOpacity: 0.9 });
    const hard = text(2, { ...faded, ...failing([1]), required: 21, fore: token(at('mark.own'), '#999999') });
    const found = proposeOpacity(groundOf(text(0, { ...faded, ...failing([0]) }), passing, hard), {
      ...fore,
      cases: [0, 1, 2],
    }).propose(all);
    // a fifth of what three places weigh; a fault that stays
    expect(found?.outcome).toMatchObject({ gain: 1, bystanders: 2 * 0.2, left: [{ id: 1 }] });
    expect(found?.score).toBeCloseTo(1 / 1.4 / 0.9, 9);
  });

  test('reaches the open faults of what hangs on the token', () => {
    const ground = groundOf(one, text(1, failing([3])), text(2, { fore: written('#999999'), ...failing([4]) }));
    expect(openFaults(ground, all, at('silt.2'), [0]).map(({ id }) => id)).toEqual([0, 1]);
    expect(openFaults(ground, ({ id }) => id === 1, at('silt.2'), [0]).map(({ id }) => id)).toEqual([1]);
    expect(openFaults(ground, all, at('silt.2'), [1])).toEqual([]);
  });

  test('colours between two keep the hue of the first, and fit a screen', () => {
    const [black, white, blue] = ['#000000', '#ffffff', '#1f6feb'].map(parseColor);
    if (black === undefined || white === undefined || blue === undefined) throw new RangeError('three were read');
    expect([between(black, white, 0), between(black, white, 1)].map(toCssText)).toEqual(['#000000', '#ffffff']);
    expect(toCssText(between(blue, blue, 0.5))).toBe('#1f6feb');
    expect(toCssText(between({ ...blue, alpha: 0.5 }, white, 0))).toBe('rgb(31 111 235 / 0.5)');
    expect(toCssText(paintable(parseColor('color(srgb 0.1216 0.4353 0.9216)')))).toBe('#1f6feb');
    // At the lightness of white there is nothing but white, within a code.
    for (const channel of Object.values(fitted({ okLightness: 1, chroma: 0.2, hueDeg: 200 })))
      expect(channel).toBeGreaterThanOrEqual(254 / 255);
  });
});

describe('a choice', () => {
  const chosen = (...cases: readonly Case[]): unknown => {
    const { explanations, unexplained } = choose(openLinks(groundOf(...cases), () => false));
    return [
      explanations.map(({ changes, faults }) => [
        changes.map(({ change }) => change.kind).join(' '),
        faults.map(({ case: one }) => one.id),
      ]),
      unexplained.map(({ case: one }) => one.id),
    ];
  };
  const grey = { fore: written('#9a9a9a') };

  test('explains every fault once, by as few changes as do, and says what nothing explains', () => {
    expect(chosen()).toEqual([[], []]);
    const lone = [
      text(0, failing([0, 1])),
      text(1, failing([2])),
      text(2, { fore: token(at('mark.good'), '#333333'), samples: 3 }),
    ];
    expect(chosen(...lone)).toEqual([[['alias', [0, 1]]], []]);
    const two = [
      text(0, failing([0])),
      text(1, { ...grey, ...failing([1]) }),
      text(2, { fore: token(at('mark.good'), '#333333'), samples: 3 }),
    ];
    const [explained] = chosen(...two) as readonly [readonly (readonly [string, readonly number[]])[]];
    expect(explained.flatMap(([, ids]) => ids).toSorted()).toEqual([0, 1]);
    const traced = {
      fore: { kind: 'unknown', color: parseColor('#999999') } as const,
      back: [],
      foreFixed: true,
      backFixed: true,
      foreOpacity: 0.5,
    };
    expect(chosen(text(0, { ...traced, ...failing([0], 'tide') }))).toEqual([[], [0]]);
  });

  test('from below names what it takes for made', () => {
    const { explanations, unexplained } = chooseFromBelow(
      groundOf(text(0, failing([0])), text(1, { fore: token(at('mark.good'), '#333333') })),
      () => false,
    );
    expect(unexplained).toEqual([]);
    expect(explanations.map(({ upon, faults }) => [upon.length, faults.map(({ id }) => id)])).toEqual([[0, [0]]]);
  });
});

describe('a repair that rests on others', () => {
  const [one, other] = [text(0, failing([0])), text(1, { fore: token(at('mark.good'), '#333333'), ...failing([1]) })];
  const ground = groundOf(one, other);
  const change = (path: string, target: string): Change => ({ kind: 'alias', token: at(path), themes: [0], target: at(target) });
  const explanation = (of: Change, upon: readonly ReturnType<typeof partOf>[], here = ground): RuledExplanation => ({
    ...{ ground: here, upon, changes: [partOf(here, of, 'token')], evidence: {}, layer: 'token', faults: [], rival: 0 },
    ...{ written: [], isPart: false, variants: [] },
  });
  const cause = (id: string): ExplainedCause => ({
    ...{ changes: [], findings: [] },
    cause: {
      ...{ id, layer: 'token', chain: [], findings: 1, themes: [], pages: 1, confidence: 1, why: '' },
      repair: { change: 'alias', of: '', from: '', to: '', themes: [], fixes: 1, breaks: 0 },
    },
  });
  const after = (all: readonly RuledExplanation[], causes = ['a', 'b', 'c'].slice(0, all.length).map(cause)): unknown =>
    withOrder(ground, all, causes).map((each) => [each.cause.repair?.after, each.after?.map(({ cause: { id } }) => id)]);

  // The step that `mark.own` is to take was put right first; as the page is, it would mend nothing there.
  const stepped: Change = { kind: 'value', token: at('silt.3'), themes: [0], color: parseColor('#333333') };
  const below = explanation(stepped, []);
  const right = tableOf(
    {
      ...Object.fromEntries(STEPS.map((color, i) => [`silt.${String(i)}`, [i === 3 ? '#333333' : color, color]])),
      'mark.own': ['{silt.2}', '{silt.2}'],
      'mark.shared': ['{silt.2}', null],
      'face.page': ['#ffffff', null],
    },
    { ramps: [{ name: 'silt', steps: STEPS.map((_, i) => `silt.${String(i)}`) }] },
  );
  const mended = openGround(openWorld({ index: right, cases: [one], judges, level: 'AA' }), new Set());

  test('names them where alone it would mend less', () => {
    const upon = explanation(change('mark.own', 'silt.3'), below.changes, mended);
    expect(after([below, upon])).toEqual([
      [undefined, undefined],
      [['a'], ['a']],
    ]);
    // what it does not lead through is none of its matter
    const apart = explanation({ ...stepped, token: at('fall.low') }, []);
    expect(after([apart, explanation(change('mark.own', 'silt.3'), apart.changes, mended)])).toEqual([
      [undefined, undefined],
      [undefined, undefined],
    ]);
  });

  test('that change what it leads through, whatever it is, or what it paints', () => {
    // Upon another page nothing of it holds alone: then all that counts is whether the other lies beneath it.
    const far = openGround(openWorld({ index, cases: [text(0, { ...failing([0]), theme: 0 })], judges, level: 'AA' }), new Set());
    const empty = groundOf();
    const isNamed = (first: Change, then: Change): boolean => {
      const beneath: RuledExplanation = explanation(first, [], empty);
      const part = partOf(far, then, 'token');
      const upon: RuledExplanation = {
        ...explanation(then, beneath.changes, far),
        changes: [{ ...part, recoloring: promising(part.recoloring) }],
      };
      const [, found] = withOrder(empty, [beneath, upon], [cause('a'), cause('b')]);
      return found?.cause.repair?.after !== undefined;
    };
    // What it promises there, on a page without cases it does not keep.
    const promising = (recoloring: ReturnType<typeof partOf>['recoloring']): typeof recoloring => ({
      ...recoloring,
      touched: [0],
      colorOf: (_, layerAt) => (layerAt === -1 ? parseColor('#111111') : undefined),
    });
    const site: UseSite = { side: 'fore', ref: one.fore, cases: [] };
    const use = (path: string, inks: readonly string[] = []): Change => ({
      ...{ kind: 'use', site, token: at(path), partner: false },
      inks: inks.map((ink) => ({ role: 'ink', from: '', token: at(ink) })),
    });
    const step: Change = { kind: 'value', token: at('silt.4'), themes: [0], color: parseColor('#222222') };
    const through: readonly Change[] = [
      change('mark.own', 'silt.4'),
      use('mark.good'),
      use('fall.low', ['mark.good']),
      { kind: 'indicator', site, token: at('edge.ring') },
      { kind: 'value', token: at('mark.good'), themes: [0], color: parseColor('#222222') },
      { kind: 'rebuild', token: at('mark.good'), themes: [0] },
    ];
    expect(through.map((then) => isNamed(step, then))).toEqual(through.map(() => true));
    const aside: readonly Change[] = [
      change('mark.own', 'silt.1'),
      use('fall.low'),
      { kind: 'opacity', site },
      { kind: 'unglow', site },
      { kind: 'filter', selector: 'html', selectors: ['html'], filter: 'invert(1)', written: [], themes: [0], cases: [] },
    ];
    expect(aside.map((then) => isNamed(step, then))).toEqual(aside.map(() => false));
    // what has no token of its own leads nowhere
    expect(isNamed({ kind: 'opacity', site }, change('mark.own', 'silt.4'))).toBe(false);
    // unless it paints one of the cases that the other does
    const painting = (cases: readonly number[]): Change => ({ kind: 'opacity', site: { ...site, cases } });
    expect([[0], [5, 0], [5]].map((cases) => isNamed(painting(cases), change('mark.own', 'silt.4')))).toEqual([true, true, false]);
    // in one theme is enough: `mark.good` ends on the lightest step in the dark one
    expect(isNamed({ ...step, token: at('silt.0') }, use('mark.good'))).toBe(true);
  });

  test('and none where it holds alone, rests on nothing, or asks for a new token', () => {
    const none = [
      [undefined, undefined],
      [undefined, undefined],
    ];
    expect(after([below, explanation(change('mark.own', 'silt.4'), below.changes)])).toEqual(none);
    expect(after([below, explanation(change('mark.own', 'silt.3'), [], mended)])).toEqual(none);
    expect(after([below, explanation({ kind: 'add', cases: [0] }, below.changes, mended)])).toEqual(none);
  });
});
