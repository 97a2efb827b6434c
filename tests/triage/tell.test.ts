// What is said of a change: sentence, repair and chain, each for every kind of change. Derived: from the words that stand at each kind, the
// names of the table below, and ratios of WCAG 2.
import { describe, expect, test } from 'vitest';
import { contrastRatio, showRatio } from '../../src/colour/contrast-ratio.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Repair, RepairReach } from '../../src/samples/finding.ts';
import type { WrittenPlace } from '../../src/samples/paint.ts';
import type { Case, Role } from '../../src/triage/cases/case.ts';
import type { Ground, Part } from '../../src/triage/propose/candidate.ts';
import { partOf } from '../../src/triage/propose/candidate.ts';
import { paintable } from '../../src/triage/propose/nearby-colors.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import type { Change, UseSite } from '../../src/triage/recolor/change.ts';
import { chainOf, chainOfFilter, chainOfSurface } from '../../src/triage/tell/chain.ts';
import type { WhyOf } from '../../src/triage/tell/explain-why.ts';
import { explainWhy } from '../../src/triage/tell/explain-why.ts';
import { counted, listed, listedBriefly, nameOfColor, nameOfRef, themesOfChange } from '../../src/triage/tell/naming.ts';
import type { RepairOf } from '../../src/triage/tell/repair.ts';
import { opacityOf, repairOf } from '../../src/triage/tell/repair.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { openWorld } from '../../src/triage/world.ts';
import { shadow, textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';
import { EXAMPLE as RAMP } from '../tables/tokens/ramp-faults.ts';

const TOKENS = {
  ...Object.fromEntries(RAMP.map((color, at) => [`silt.${String(at)}`, [color, color]])),
  'tide.0': ['#445566', '#445566'],
  'mark.quiet': ['{silt.7}', '{silt.7}'],
  'face.card': ['{silt.1}', '{silt.9}'],
  'mark.shared': ['{silt.7}', '{silt.7}'],
  'sib.a': ['{silt.7}', '{silt.3}'],
  'sib.b': ['{silt.7}', '{silt.3}'],
  'sib.c': ['{silt.7}', '{silt.3}'],
  'mark.tide': ['{tide.0}', '{tide.0}'],
  lamp: ['#ff2020', '#ff2020'],
} as const;
const index = tableOf(TOKENS, {
  ramps: [
    { name: 'silt', steps: RAMP.map((_, at) => `silt.${String(at)}`) },
    { name: 'tide', steps: ['tide.0'] },
  ],
  shared: ['mark.shared'],
});
const at = (path: string): number => index.tokenAt(path);

const onCard = {
  ...{ theme: 1, fore: token(at('mark.quiet'), '#1f586c'), back: [layer(token(at('face.card'), '#0f3344'))] },
  ...{ seenFore: shown('#1f586c'), seenBacks: [shown('#0f3344')] },
};
const quiet = made({ ...onCard, id: 0, findings: new Map([['text-contrast', [0]]]) });
const ratio = showRatio(contrastRatio({ ink: shown('#1f586c'), background: shown('#0f3344') }));
const FAINT = `where mark.quiet on face.card reaches ${ratio} of 4.5`;

function groundOf(cases: readonly Case[]): Ground {
  return openGround(openWorld({ index, cases, judges: new Map(), level: 'AA' }), new Set());
}

const fore = (ref = quiet.fore): UseSite => ({ side: 'fore', ref, cases: [0] });
const face: UseSite = { side: 'surface', ref: token(at('face.card'), '#0f3344'), cases: [0], elements: new Set([1]) };
const value = (path: string, color: string): Change => ({ kind: 'value', token: at(path), themes: [1], color: parseColor(color) });
const alias = (path: string, target: string): Change => ({ kind: 'alias', token: at(path), themes: [1], target: at(target) });
const use = (site: UseSite, inks: (Change & { kind: 'use' })['inks'] = []): Change => ({
  ...{ kind: 'use', site, token: at('sib.a'), inks, partner: false },
});
const filter = (selector: string, hops: readonly WrittenPlace[] = []): Change => ({
  ...{ kind: 'filter', selector, selectors: [selector], filter: 'invert(1)', written: hops, themes: [1], cases: [0] },
});

type Told = Partial<Omit<WhyOf, 'parts' | 'repair'>> & { readonly ground?: Ground; readonly layer?: Part['layer'] };

function why(changes: readonly Change[], repair: Partial<RepairReach & Pick<Repair, 'from' | 'to'>>, told: Told = {}): string {
  const { shown: one = quiet, layer: lies = 'token', ...over } = told;
  const ground = told.ground ?? groundOf([one]);
  const said = { change: 'value', of: 'OF', from: 'FROM', to: 'TO' } as const;
  const mended: Repair = { ...said, themes: ['dusk'], fixes: 2, breaks: 0, ...repair };
  return explainWhy(ground, {
    parts: changes.map((change) => partOf(ground, change, lies)),
    repair: mended,
    evidence: {},
    faults: ground.world.faults,
    shown: one,
    themes: [1],
    pages: 1,
    place: '.note',
    variants: [],
    builtFrom: [],
    touched: 2,
    broken: [],
    told: over.faults ?? ground.world.faults,
    ...over,
  });
}

describe('a value', () => {
  test.each([
    ['silt.7', '#93c1cf', 'dark'],
    ['silt.7', '#08202d', 'light'],
    ['lamp', '#c08080', 'colourful'],
  ])('of %s that is to become %s is too %s', (path, color, how) => {
    const users = path === 'silt.7' ? ' for mark.quiet' : '';
    expect(why([value(path, color)], {})).toBe(
      `OF (FROM) is too ${how} in dusk${users}; TO mends both findings and breaks nothing.`,
    );
  });

  test('that is to hide more is too faint', () => {
    const clear = tableOf({ veil: [null, 'rgb(0 0 0 / 0.45)'] });
    const ground = openGround(openWorld({ index: clear, cases: [], judges: new Map(), level: 'AA' }), new Set());
    const change: Change = { kind: 'value', token: 0, themes: [1], color: parseColor('rgb(0 0 0 / 0.54)') };
    expect(why([change], {}, { ground, faults: groundOf([quiet]).world.faults })).toBe(
      'OF (FROM) is too faint in dusk; TO mends both findings and breaks nothing.',
    );
  });

  test('that glares is too colourful; users are those of the faults', () => {
    const neon = { ...quiet, findings: new Map([['neon', [0]]]) };
    expect(why([value('silt.7', '#93c1cf')], { themes: ['noon', 'dusk'] }, { shown: neon })).toMatch(
      /^OF \(FROM\) is too colourful in noon and dusk for mark\.quiet;/u,
    );
  });

  test('off the course of its ramp is said to be put there, or near', () => {
    const evidence = { course: 'odd' } as const;
    const course = groundOf([]).trend.courseOf(1, at('silt.7'));
    const there = course === null ? '' : toCssText(paintable(course.expected));
    expect(why([value('silt.7', there)], { to: there }, { evidence })).toBe(
      `OF (FROM) is too dark in dusk: its neighbours on the ramp put it at ${there}, which mends both findings and breaks nothing.`,
    );
    expect(why([value('silt.7', '#93c1cf')], { to: '#93c1cf' }, { evidence })).toBe(
      `OF (FROM) is too dark in dusk: its neighbours on the ramp put it near ${there}; #93c1cf mends both findings and breaks nothing.`,
    );
    // what is no step has no course
    expect(why([value('lamp', '#ff8080')], { to: '#ff8080' }, { evidence })).toContain('put it near #ff8080;');
  });
});

describe('an alias', () => {
  test('points where it cannot be read', () => {
    expect(why([alias('mark.quiet', 'silt.3')], { to: 'silt.3', from: 'silt.7' })).toBe(
      `mark.quiet points at silt.7 in dusk, ${FAINT}; silt.3 mends both findings and breaks nothing.`,
    );
  });

  test('has no value of its own in a theme that another governs', () => {
    expect(why([alias('mark.shared', 'silt.3')], { from: 'silt.7' })).toMatch(
      /^mark\.shared has no value of its own in dusk and keeps silt\.7 of noon, where /u,
    );
    const both: Change = { kind: 'alias', token: at('mark.shared'), themes: [0, 1], target: at('silt.3') };
    expect(why([both], { from: 'silt.7', themes: ['noon', 'dusk'] })).toMatch(
      /^mark\.shared points at silt\.7 in noon and dusk, /u,
    );
    const noon: Change = { kind: 'alias', token: at('mark.shared'), themes: [0], target: at('silt.3') };
    expect(why([noon], { from: 'silt.7', themes: ['noon'] })).toMatch(/^mark\.shared points at silt\.7 in noon, /u);
  });

  test('stands apart from those on its step, or on its ramp', () => {
    expect(why([alias('mark.quiet', 'silt.3')], {}, { evidence: { siblings: 'odd', because: 'steps' } })).toBe(
      'mark.quiet points at FROM in dusk, while others on its step in noon point to silt.3 here; TO mends both findings and breaks nothing.',
    );
    // Where they do not point is no reason to point there.
    expect(why([alias('mark.quiet', 'silt.5')], {}, { evidence: { siblings: 'odd', because: 'steps' } })).toBe(
      `mark.quiet points at FROM in dusk, ${FAINT}; TO mends both findings and breaks nothing.`,
    );
    const byRamp = { evidence: { siblings: 'odd', because: 'ramp' } } as const;
    expect(why([alias('mark.quiet', 'silt.3')], {}, byRamp)).toContain('while others on silt in noon stay on it here;');
    expect(why([alias('mark.quiet', 'tide.0')], {}, byRamp)).toContain('while others on silt in noon turn to tide here;');
    expect(why([alias('mark.quiet', 'lamp')], {}, byRamp)).toContain('while others on silt in noon turn to no ramp here;');
  });
});

describe('a use', () => {
  test('writes a colour out, or takes a token', () => {
    const grey = { ...quiet, fore: written('#9aa3a8') };
    expect(why([use(fore(grey.fore))], { fixes: 1 }, { shown: grey, touched: 1 })).toBe(
      `.note writes out #9aa3a8 for its text, where #9aa3a8 on face.card reaches ${ratio} of 4.5 in dusk; sib.a is there for that, mends the one finding and breaks nothing.`,
    );
    expect(why([use(fore())], { fixes: 3 }, { pages: 4, touched: 3, evidence: { role: 'strange' } })).toBe(
      `.note (4 pages) takes mark.quiet for its text, which elsewhere is no colour for text, ${FAINT} in dusk; sib.a is there for that, mends all 3 findings and breaks nothing.`,
    );
  });

  test('of a surface takes what lies on it along', () => {
    const inks = ['silt.3', 'silt.4', 'silt.3', 'silt.5', 'silt.6'].map((path) => ({
      role: 'ink' as const,
      from: '',
      token: at(path),
    }));
    expect(why([use(face, inks)], {}, { evidence: { role: 'strange' } })).toBe(
      `.note takes face.card for its surface, which elsewhere is no colour for surfaces, ${FAINT} in dusk; sib.a is there for that, with silt.3, silt.4, silt.5 and 1 more for what is on it, mends both findings and breaks nothing.`,
    );
  });

  test.each<[Role, string]>([
    ['edge', 'outline'],
    ['ring', 'focus ring'],
    ['glyph', 'icon'],
    ['shadow', 'shadow'],
    ['picture', 'picture'],
  ])('of %s is called %s', (role, what) => {
    expect(why([use(fore())], {}, { shown: { ...quiet, role }, evidence: { role: 'strange' } })).toContain(
      `for its ${what}, which elsewhere is no colour for ${what}s,`,
    );
  });

  test('may be built from other properties', () => {
    const grey = { ...quiet, fore: written('#9aa3a8') };
    const builtFrom = ['--hue', '--strength'];
    expect(why([use(fore(grey.fore))], {}, { shown: grey, builtFrom })).toMatch(
      /^\.note builds #9aa3a8 from --hue and --strength for its text, /u,
    );
    // what a token is built from is the token's matter
    expect(why([use(fore())], {}, { builtFrom })).toMatch(/^\.note takes mark\.quiet for its text, /u);
  });

  test('of several variants lists each with its rule', () => {
    const variant = (of: string, to: string): WhyOf['variants'][number] => ({ change: use(fore()), of, from: `#${of}`, to });
    const one = [variant('a', 'x'), variant('b', 'x')];
    const literal = one.map((each) => ({ ...each, change: use(fore(written('#9aa3a8'))) }));
    expect(why([use(fore())], {}, { variants: literal })).toContain(
      'takes colours for its text that are written out, one for each',
    );
    expect(why([use(fore())], {}, { variants: one, pages: 2 })).toBe(
      `.note (2 pages) takes colours for its text, one for each variant: #a in a and #b in b, ${FAINT} in dusk; x is there for that, mends both findings and breaks nothing.`,
    );
    const many = ['a', 'b', 'c', 'd', 'e'].map((name, i) => variant(name, ['x', 'y', 'z', 'w', 'v'][i] ?? ''));
    expect(why([use(fore())], {}, { variants: many })).toContain(
      `one for each variant: #a in a, #b in b, #c in c, #d in d and 1 more, ${FAINT} in dusk; x, y, z and 2 more are there for that,`,
    );
  });

  test('of a custom property is that property, which paints more than one place', () => {
    expect(why([use(fore())], {}, { place: '--tag in .tag' })).toContain('--tag in .tag takes mark.quiet for text, where');
  });

  test('falls short in some themes and stays as it is in others', () => {
    const stuck = made({ ...onCard, id: 1, findings: new Map([['unthemed', [1]]]) });
    const noon = made({ ...onCard, id: 0, theme: 0, findings: new Map([['text-contrast', [0]]]) });
    const told = (ground: Ground, themes: readonly number[]): string => why([use(fore())], {}, { ground, themes, shown: noon });
    expect(told(groundOf([noon, stuck]), [0, 1])).toContain(`for its text, ${FAINT} in noon, and stays as it is in dusk; sib.a`);
    const alone = groundOf([made({ ...stuck, id: 0 })]);
    expect(told(alone, [1])).toContain('for its text, which stays as it is in dusk; sib.a');
    // where it falls short as well, that is enough
    const both = made({ ...stuck, id: 0, findings: new Map([...quiet.findings, ['unthemed', [1]]]) });
    expect(told(groundOf([both]), [1])).toContain(`for its text, ${FAINT} in dusk; sib.a`);
  });
});

describe('what is wrong at the place shown', () => {
  // second library (colorjs.io): L* of #1f586c and #0f3344 are 34.7 and 19.6
  test.each<[string, Partial<Case>, string]>([
    ['graphic-contrast', {}, FAINT],
    ['glow', {}, 'where its shadow is 15.1 L* lighter than what it falls on'],
    ['neon', {}, 'where it glares on its dark surroundings'],
    ['flipped', {}, 'where a surface leaves its tone'],
    ['separation', {}, 'where it differs by 15 L* from what is around it'],
    ['separation', { seenFore: shown('#0f3344') }, 'where it cannot be told from what is around it'],
    ['unthemed', {}, 'which did not follow the theme'],
    ['inverted-picture', {}, 'where pictures come out inverted'],
    ['tide', {}, 'where tide finds it wrong'],
    ['graphic-contrast', { backFixed: true }, `where mark.quiet on the picture or gradient behind it reaches ${ratio} of 4.5`],
    // an edge beside something that its layers do not make
    [
      'graphic-contrast',
      { backFixed: true, facts: { ...quiet.facts, kind: 'graphic' } },
      `where mark.quiet on #0f3344 reaches ${ratio} of 4.5`,
    ],
    // nothing is asked of an icon beside its name but what it reaches in the reference theme
    ['graphic-contrast', { required: 0 }, `where mark.quiet on face.card reaches ${ratio} of 3`],
    ['graphic-contrast', { back: [] }, `where mark.quiet on #0f3344 reaches ${ratio} of 4.5`],
  ])('%s', (check, over, words) => {
    const one = { ...quiet, ...over, findings: new Map([[check, [0]]]) };
    expect(why([alias('mark.quiet', 'silt.3')], {}, { shown: one })).toContain(`mark.quiet points at FROM in dusk, ${words}; TO`);
  });

  test('of several checks the first by name', () => {
    const one = { ...quiet, findings: new Map([...['text-contrast', 'neon', 'separation'].map((check) => [check, [0]] as const)]) };
    expect(why([alias('mark.quiet', 'silt.3')], {}, { shown: one })).toContain('where it glares on');
  });
});

describe('other changes', () => {
  test.each<[Change, Told, string]>([
    [
      { kind: 'indicator', site: fore(), token: at('sib.a') },
      {},
      '.note shows nothing when it is focused by keyboard in dusk; others draw an outline in sib.a; doing the same mends both findings and breaks nothing.',
    ],
    [
      { kind: 'alpha', site: { ...fore(), ref: token(at('mark.quiet'), '#9aa3a880', 0.5) }, alpha: 0.65 },
      {},
      `.note draws its text with 50 % of mark.quiet in dusk, which leaves ${ratio} of the 4.5 it needs; 65 % of it is enough, mends both findings and breaks nothing.`,
    ],
    [
      { kind: 'opacity', site: fore() },
      { layer: 'usage' },
      `.note is drawn with FROM in dusk, which leaves text ${ratio} of the 4.5 it needs; without it both findings are gone and nothing breaks.`,
    ],
    [
      { kind: 'unglow', site: fore() },
      { themes: [0, 1] },
      '.note writes out a shadow (FROM) that is lighter than what it falls on in noon and dusk; in black both findings are gone and nothing breaks.',
    ],
    [
      filter('html > body'),
      {},
      'FROM on OF turns the whole page over in dusk, with its pictures, its shadows and what should keep its tone; without it both findings are gone and nothing breaks.',
    ],
    [filter('figure > img'), {}, 'FROM on OF inverts what it shows in dusk; without it both findings are gone and nothing breaks.'],
    [
      { kind: 'add', cases: [0] },
      {},
      `The set has no token for text on face.card in dusk: mark.quiet reaches ${ratio}; a new one needs a contrast of TO; it would mend both findings.`,
    ],
    [
      { kind: 'add', cases: [0] },
      { evidence: { hopeless: true } },
      `No token of the set can be read on face.card in dusk: mark.quiet reaches ${ratio}; a new one needs a contrast of TO; it would mend both findings.`,
    ],
    [
      { kind: 'rebuild', token: at('mark.quiet'), themes: [1] },
      {},
      'The page serves OF as FROM in dusk, but the token files say TO; building the page anew mends both findings and breaks nothing.',
    ],
  ])('%j', (change, told, words) => {
    expect(why([change], {}, told)).toBe(words);
  });

  test('a missing token says which rules write a colour out where others take a token', () => {
    const plain = (rule: string): Case => {
      const wrote = [{ property: 'color', value: '#1f586c', rule }];
      return made({ ...onCard, fore: written('#1f586c'), wrote, findings: quiet.findings });
    };
    const told = (...rules: readonly string[]): string => {
      const ground = groundOf([quiet, ...rules.map((rule, i) => ({ ...plain(rule), id: i + 1, family: rule }))]);
      return why([{ kind: 'add', cases: [0] }], {}, { ground });
    };
    const lead = `The set has no token for text on face.card in dusk: mark.quiet reaches ${ratio}`;
    expect(told('.berth')).toContain(`${lead}, and .berth writes out #1f586c; a new one needs`);
    expect(told('.berth', '.quay')).toContain(`${lead}, and .berth writes out #1f586c (1 other rule as well); a new one needs`);
  });

  test('of an app that has no tokens, none is said to be missing from a set', () => {
    const bare = made({ ...{ theme: 1, seenFore: shown('#1f586c'), seenBacks: [shown('#0f3344')] }, findings: quiet.findings });
    const tokenless = openGround(openWorld({ index: tableOf({}, {}), cases: [bare], judges: new Map(), level: 'AA' }), new Set());
    expect(why([{ kind: 'add', cases: [0] }], {}, { ground: tokenless, shown: bare, evidence: { hopeless: true } })).toBe(
      `.note is drawn in ${toCssText(bare.fore.color)}, where ${toCssText(bare.fore.color)} on #0f3344 reaches ${ratio} of 4.5 in dusk; no token is known, and a colour for it needs a contrast of TO; it would mend both findings.`,
    );
  });

  test('a companion is told in the same sentence', () => {
    const together = '; together that mends both findings and breaks nothing.';
    const lead = `mark.quiet points at FROM in dusk, ${FAINT}`;
    const first = alias('mark.quiet', 'silt.3');
    expect(why([first, alias('face.card', 'silt.8')], {})).toBe(`${lead}; face.card must turn with it, to silt.8${together}`);
    expect(why([first, { kind: 'opacity', site: fore() }], {})).toBe(`${lead}, and is made fainter by its opacity${together}`);
    for (const change of [value('silt.7', '#ffffff'), use(fore()), filter('html'), { kind: 'add', cases: [] } as const])
      expect(why([first, change], {})).toBe(`${lead}${together}`);
    expect(why([use(fore()), use(fore())], {})).toMatch(/is there for that, mends both findings and breaks nothing\.$/u);
    expect(why([], {})).toBe('');
  });

  test('what is not mended, and what breaks, is counted', () => {
    const first = alias('mark.quiet', 'silt.3');
    const end = (repair: Parameters<typeof why>[1], told: Told): string => why([first], repair, told).split('; ')[1] ?? '';
    expect(end({ fixes: 1 }, { touched: 5 })).toBe('TO mends 1 of 5 findings and breaks nothing.');
    expect(end({ fixes: 4 }, { touched: 2 })).toBe('TO mends all 4 findings and breaks nothing.');
    expect(end({ breaks: 1 }, { broken: ['#a'] })).toBe('TO mends both findings and breaks 1 place (#a).');
    expect(end({ breaks: 7 }, { broken: ['#a', '#b', '#c', '#d'] })).toBe(
      'TO mends both findings and breaks 7 places (#a, #b, #c and 1 more).',
    );
    const away = why([{ kind: 'unglow', site: fore() }], { fixes: 1, breaks: 2 }, { touched: 1, broken: ['#a'] });
    expect(away).toMatch(/; in black the one finding is gone and breaks 2 places \(#a\)\.$/u);
  });
});

describe('a repair', () => {
  const repaired = (
    change: Change,
    over: Partial<RepairOf> = {},
    cases: readonly Case[] = [over.shown ?? quiet],
  ): Repair | null => {
    const ground = groundOf(cases);
    return repairOf(ground, {
      parts: [partOf(ground, change, 'token')],
      upon: ground.world,
      ...{ shown: quiet, themes: [1], fixes: 3, breaks: 1, place: '.note', variants: [] },
      ...over,
    });
  };
  const counts = { themes: ['dusk'], fixes: 3, breaks: 1 };
  const style = (property: string, from: string, to: string, of = '.note'): Repair => ({
    ...{ change: 'style', of, from: `${property}: ${from}`, to: `${property}: ${to}`, style: { property, from, to } },
    ...counts,
  });
  const stale = made({ ...quiet, fore: { kind: 'stale', token: at('mark.quiet'), alpha: 1, color: parseColor('#47889c') } });
  // What the page has of an older build may lie behind, among others that are none of this token.
  const behind = made({
    ...quiet,
    back: [
      layer({ kind: 'stale', token: at('lamp'), alpha: 1, color: parseColor('#16465a') }),
      layer(token(at('mark.quiet'), '#2f7086')),
      layer({ kind: 'stale', token: at('mark.quiet'), alpha: 1, color: parseColor('#47889c') }),
    ],
  });
  const fall = (over: Parameters<typeof shadow>[0]): Case =>
    made({ ...quiet, fore: written('#88ff8880'), place: { ...quiet.place, sample: shadow(over) } });
  const lit = { color: '#88ff88', beneath: '#000000' };

  test.each<[string, Change, Partial<RepairOf>, Repair]>([
    ['a value', value('silt.7', '#93c1cf'), {}, { change: 'value', of: 'silt.7', from: '#1f586c', to: '#93c1cf', ...counts }],
    ['an alias', alias('mark.quiet', 'silt.3'), {}, { change: 'alias', of: 'mark.quiet', from: 'silt.7', to: 'silt.3', ...counts }],
    [
      'an alias of a literal',
      alias('lamp', 'silt.3'),
      {},
      { change: 'alias', of: 'lamp', from: '#ff2020', to: 'silt.3', ...counts },
    ],
    ['a use', use(fore()), {}, { change: 'use', of: '.note', from: 'mark.quiet', to: 'sib.a', ...counts }],
    [
      'an indicator',
      { kind: 'indicator', site: fore(), token: at('sib.a') },
      {},
      style('outline', 'none', '2px solid var(--sib-a)'),
    ],
    [
      'an alpha',
      { kind: 'alpha', site: fore(), alpha: 0.6 },
      { shown: { ...quiet, fore: token(at('mark.quiet'), '#9aa3a880', 0.5) } },
      style(
        'color',
        'color-mix(in srgb, var(--mark-quiet) 50%, transparent)',
        'color-mix(in srgb, var(--mark-quiet) 60%, transparent)',
      ),
    ],
    ['an opacity', { kind: 'opacity', site: fore() }, { shown: { ...quiet, foreOpacity: 0.45 } }, style('opacity', '0.45', '1')],
    ['a filter', filter('figure > img'), {}, style('filter', 'invert(1)', 'none', 'figure > img')],
    [
      'a filter with its rule',
      filter('img', [{ property: 'filter', value: 'invert(1)', rule: '.photo' }]),
      {},
      style('filter', 'invert(1)', 'none', '.photo'),
    ],
    [
      'a shadow of no sample',
      { kind: 'unglow', site: fore() },
      { shown: { ...quiet, fore: written('#88ff8880') } },
      style('box-shadow', 'rgb(136 255 136 / 0.50196)', 'rgb(0 0 0 / 0.50196)'),
    ],
    [
      'a box shadow',
      { kind: 'unglow', site: fore() },
      { shown: fall({ ...lit, offset: [0, -4], blur: 12, spread: 2 }) },
      style('box-shadow', '0 -4px 12px 2px rgb(136 255 136 / 0.50196)', '0 -4px 12px 2px rgb(0 0 0 / 0.50196)'),
    ],
    [
      'an inset one',
      { kind: 'unglow', site: fore() },
      { shown: fall({ ...lit, offset: [1, 0], blur: 0, spread: 0, inset: true }) },
      style('box-shadow', 'inset 1px 0 0 0 rgb(136 255 136 / 0.50196)', 'inset 1px 0 0 0 rgb(0 0 0 / 0.50196)'),
    ],
    [
      'a text shadow',
      { kind: 'unglow', site: fore() },
      { shown: fall({ ...lit, property: 'text-shadow', offset: [0, 1], blur: 2 }) },
      style('text-shadow', '0 1px 2px rgb(136 255 136 / 0.50196)', '0 1px 2px rgb(0 0 0 / 0.50196)'),
    ],
    [
      'a halo, which is none in black',
      { kind: 'unglow', site: fore() },
      { shown: fall({ ...lit, property: 'text-shadow', offset: [0, 0], blur: 14 }) },
      style('text-shadow', '0 0 14px rgb(136 255 136 / 0.50196)', 'none'),
    ],
    [
      'a drop shadow',
      { kind: 'unglow', site: fore() },
      { shown: fall({ ...lit, property: 'drop-shadow', offset: [0, 1], blur: 2 }) },
      style('filter', 'drop-shadow(0 1px 2px rgb(136 255 136 / 0.50196))', 'drop-shadow(0 1px 2px rgb(0 0 0 / 0.50196))'),
    ],
    [
      'a build',
      { kind: 'rebuild', token: at('mark.quiet'), themes: [1] },
      { shown: stale },
      { change: 'rebuild', of: '--mark-quiet', from: 'silt.5', to: 'silt.7', ...counts },
    ],
    [
      'a build of a literal',
      { kind: 'rebuild', token: at('lamp'), themes: [1] },
      {},
      { change: 'rebuild', of: '--lamp', from: 'silt.7', to: '#ff2020', ...counts },
    ],
    [
      'a build that lies behind',
      { kind: 'rebuild', token: at('mark.quiet'), themes: [1] },
      { shown: behind },
      { change: 'rebuild', of: '--mark-quiet', from: 'silt.5', to: 'silt.7', ...counts },
    ],
  ])('of %s', (_, change, over, expected) => {
    expect(repaired(change, over)).toEqual(expected);
  });

  test('lists what changes with it', () => {
    const ground = groundOf([quiet]);
    const parts = [alias('mark.quiet', 'silt.3'), alias('face.card', 'silt.8')].map((change) => partOf(ground, change, 'token'));
    expect(repaired(alias('mark.quiet', 'silt.3'), { parts })).toEqual({
      ...{ change: 'alias', of: 'mark.quiet', from: 'silt.7', to: 'silt.3', ...counts },
      also: [{ change: 'alias', of: 'face.card', from: 'silt.9', to: 'silt.8' }],
    });
    expect(repaired(alias('mark.quiet', 'silt.3'), { parts: [] })).toBeNull();
  });

  test('names each ink of a surface, by its rule where one was looked up', () => {
    const rule = { property: 'color', value: '', rule: '.level' };
    const inked = (over: Partial<Case>): Repair | null => {
      const one = made({ ...quiet, ...over });
      const from = one.fore.kind === 'literal' ? `l${toCssText(one.fore.color)}` : `t${String(at('mark.quiet'))}*1`;
      return repaired(use(face, [{ role: one.role, from, token: at('silt.3') }]), {}, [one]);
    };
    const also = (repair: Repair | null): unknown =>
      repair?.also?.map(({ of, from, to, ...rest }) => [of, from, to, 'drawn' in rest ? rest.drawn : null]);
    expect(also(inked({ wrote: [{ ...rule, rule: 'browser' }, { ...rule, rule: 'style attribute' }, rule] }))).toEqual([
      ['text of .level on .note', 'mark.quiet', 'silt.3', { what: 'text', rule: '.level', place: '.note' }],
    ]);
    expect(also(inked({}))).toEqual([['text on .note', 'mark.quiet', 'silt.3', { what: 'text', place: '.note' }]]);
    // a literal is found by its colour, whatever its rule
    expect(also(inked({ wrote: [rule], fore: written('#9aa3a8') }))).toEqual([
      ['text on .note', '#9aa3a8', 'silt.3', { what: 'text', place: '.note' }],
    ]);
    const sample = (selector: string): Case['place'] => ({
      ...quiet.place,
      sample: textRun({ color: '#000000', background: '#ffffff', selector }),
    });
    expect(also(inked({ role: 'surface', place: sample('main > p:nth-of-type(2) > code:nth-of-type(1)') }))).toEqual([
      ['surface of code on .note', 'mark.quiet', 'silt.3', { what: 'surface', rule: 'code', place: '.note' }],
    ]);
    expect(also(inked({ role: 'surface', place: sample('main > #tray') }))).toEqual([
      ['surface on .note', 'mark.quiet', 'silt.3', { what: 'surface', place: '.note' }],
    ]);
    // an ink that lies on none of the places
    expect(also(repaired(use(face, [{ role: 'glyph', from: 'x', token: at('silt.3') }])))).toEqual([
      ['icon on .note', '', 'silt.3', { what: 'icon', place: '.note' }],
    ]);
  });

  test('of variants is a list of uses, the first as the repair', () => {
    const change = use(face, [{ role: 'glyph', from: 'x', token: at('silt.3') }]);
    const ground = groundOf([quiet]);
    const variants = ['a', 'b'].map((of, i) => ({ change: i === 0 ? change : use(fore()), of, from: `#${of}`, to: `t.${of}` }));
    expect(repaired(change, { parts: [partOf(ground, change, 'usage')], variants })).toEqual({
      ...{ change: 'use', of: 'a', from: '#a', to: 't.a', ...counts },
      also: [
        { change: 'use', of: 'b', from: '#b', to: 't.b' },
        { change: 'use', of: 'icon on a', drawn: { what: 'icon', place: 'a' }, from: '', to: 'silt.3' },
      ],
    });
  });

  test('of a token that is missing says what it must be, themes that ask the same together', () => {
    const noon = made({ ...onCard, id: 0, theme: 0, family: 'f' });
    const dusk = made({ ...onCard, id: 1, family: 'f', findings: quiet.findings });
    const repair = repaired({ kind: 'add', cases: [1] }, { shown: dusk, themes: [1] }, [noon, dusk]);
    const asks = repair?.change === 'add' ? repair.asks : [];
    expect(asks.map(({ suggestion: _, ...ask }) => ask)).toEqual([
      { theme: 'noon', on: '#0f3344', contrast: 4.5 },
      { theme: 'dusk', on: '#0f3344', contrast: 4.5 },
    ]);
    const suggested = asks[0]?.suggestion ?? '';
    expect(repair).toMatchObject({
      of: 'face.card',
      from: 'mark.quiet',
      to: `4.5 on #0f3344 in noon and dusk (such as ${suggested})`,
    });
    // nearest to the present colour that reaches it: by no more than a step of lightness, and a hundredth more than asked
    const reached = contrastRatio({ ink: shown(suggested), background: shown('#0f3344') });
    expect(reached).toBeGreaterThanOrEqual(4.5 * 1.01);
    expect(reached).toBeLessThan(5.2);
    // on a middling grey neither black nor white reaches 7
    const hard = made({ ...dusk, id: 0, required: 7, seenBacks: [shown('#767676')], backFixed: true });
    expect(repaired({ kind: 'add', cases: [0] }, { shown: hard }, [hard])).toMatchObject({
      ...{ of: '.note', to: '7 on #767676 in dusk (where no colour reaches it)' },
      asks: [{ theme: 'dusk', on: '#767676', contrast: 7 }],
    });
  });

  test('is written for the themes in which something painted depends on it', () => {
    const both: Change = { kind: 'value', token: at('silt.7'), themes: [0, 1], color: parseColor('#93c1cf') };
    expect(repaired(both)?.themes).toEqual(['dusk']);
    const noon = made({ ...onCard, id: 1, theme: 0 });
    expect(repaired(both, {}, [quiet, noon])?.themes).toEqual(['noon', 'dusk']);
    expect(repaired(both, {}, [])?.themes).toEqual(['noon', 'dusk']);
    expect(repaired(use(fore()), { themes: [0, 1] })?.themes).toEqual(['noon', 'dusk']);
  });

  test('an opacity of the page counts with what a token is faded by', () => {
    expect(opacityOf({ ...quiet, foreOpacity: 0.5, fore: token(0, '#000000', 0.3333) })).toBe(0.167);
    expect(opacityOf({ ...quiet, foreOpacity: 0.5, fore: written('#00000080') })).toBe(0.5);
  });
});

describe('a chain', () => {
  const file = (path: string, line: number): object => ({ file: `${path}.json`, line });
  const links = [
    { property: '--mark-quiet', token: 'mark.quiet', value: '{silt.7}', ...file('mark.quiet', 2) },
    { property: '--silt-7', token: 'silt.7', value: '#1f586c', ...file('silt.7', 2) },
  ];
  const declared = { property: 'color', value: 'var(--mark-quiet)', rule: '.note', file: '/quay.css', line: 7, column: 3 };

  test('leads from the declaration through the tokens to the literal', () => {
    const sample = textRun({
      color: '#1f586c',
      background: '#0f3344',
      ink: { property: 'fill', color: '#1f586c', origin: { kind: 'literal' } },
    });
    const place = { ...quiet.place, sample };
    expect(chainOf(index, { ...quiet, place }, null, [declared])).toEqual([
      { property: 'fill', value: '#1f586c', file: '/quay.css', line: 7 },
      ...links,
    ]);
    expect(chainOf(index, quiet, at('silt.7'), [])).toEqual([{ property: 'color', value: '#1f586c' }, ...links]);
  });

  test('takes the declaration of the first finding where none is given', () => {
    const found = new Map([
      [4, [{ ...declared, line: 4 }]],
      [2, [{ ...declared, line: 2 }]],
    ]);
    expect(chainOf(index, { ...quiet, written: found }, null, [])[0]).toEqual({
      property: 'color',
      value: '#1f586c',
      file: '/quay.css',
      line: 2,
    });
  });

  test('leads through what lies behind where the focus does', () => {
    expect(chainOf(index, quiet, at('silt.9'), [declared])).toEqual([
      { property: 'background-color', value: '#0f3344' },
      { property: '--face-card', token: 'face.card', value: '{silt.9}', ...file('face.card', 2) },
      { property: '--silt-9', token: 'silt.9', value: '#0f3344', ...file('silt.9', 2) },
    ]);
    // where nothing leads through it, what is in front
    expect(chainOf(index, quiet, at('lamp'), [])[1]).toEqual(links[0]);
  });

  test('of properties of the page tells a place where that value is written, not where another theme writes its own', () => {
    const bare = indexTable({
      ...index.table,
      tokens: index.table.tokens.map((entry) => ({
        ...entry,
        definitions: entry.definitions.map((each) => (each === null ? null : { ...each, declared: { id: each.declared.id } })),
      })),
    });
    const end = (value: string): unknown =>
      chainOf(bare, quiet, null, [declared, { property: '--silt-7', value, rule: ':root', file: '/noon.css', line: 3 }]).at(-1);
    const link = { property: '--silt-7', token: 'silt.7', value: '#1f586c' };
    const place = { file: '/noon.css', line: 3 };
    expect(end('#1f586c')).toEqual({ ...link, ...place });
    // What a function comes to is not known here.
    expect(end('light-dark(#9aa3a8, #1f586c)')).toEqual({ ...link, ...place });
    expect(end('#9aa3a8')).toEqual(link);
  });

  test('of a literal shows the hops that were looked up', () => {
    const hop = { property: '--tag', value: '#9aa3a8', rule: ':root' };
    expect(chainOf(index, { ...quiet, fore: written('#9aa3a8') }, null, [declared, hop])).toEqual([
      { property: 'color', value: '#9aa3a8', file: '/quay.css', line: 7 },
      { property: '--tag', value: '#9aa3a8' },
    ]);
  });

  test('of a surface and of a filter', () => {
    expect(chainOfSurface(index, 0, token(at('face.card'), '#dcecf1'), [declared])[0]).toEqual({
      ...{ property: 'background-color', value: '#dcecf1', file: '/quay.css', line: 7 },
    });
    expect(chainOfSurface(index, 0, token(at('face.card'), '#dcecf1'), []).map(({ token: path }) => path)).toEqual([
      ...[undefined, 'face.card', 'silt.1'],
    ]);
    expect(
      chainOfFilter([
        { ...declared, property: 'filter', value: 'invert(1)' },
        { property: '--turn', value: 'invert(1)', rule: ':root' },
      ]),
    ).toEqual([
      { property: 'filter', value: 'invert(1)', file: '/quay.css', line: 7 },
      { property: '--turn', value: 'invert(1)' },
    ]);
  });
});

describe('names', () => {
  test('of lists and numbers', () => {
    const words = ['a', 'b', 'c', 'd'];
    expect([0, 1, 2, 3].map((count) => listed(words.slice(0, count)))).toEqual(['', 'a', 'a and b', 'a, b and c']);
    expect([2, 3, 4].map((count) => listedBriefly(words.slice(0, count), 3))).toEqual([
      'a and b',
      'a, b and c',
      'a, b, c and 1 more',
    ]);
    expect([counted(1, 'page'), counted(2, 'page'), counted(0, 'box', 'boxes')]).toEqual(['1 page', '2 pages', '0 boxes']);
  });

  test('of what decides a colour', () => {
    const color = parseColor('#010203');
    expect(
      [
        token(at('lamp'), '#ff2020'),
        { kind: 'stale', token: at('lamp'), alpha: 1, color } as const,
        { kind: 'derived', tokens: [at('lamp'), at('silt.3')], color } as const,
        { kind: 'derived', tokens: [], color } as const,
        written('#010203'),
        { kind: 'system', color } as const,
        { kind: 'unknown', color } as const,
      ].map((ref) => nameOfRef(index, ref)),
    ).toEqual([
      ...[
        'lamp',
        'lamp',
        'a mix of lamp and silt.3',
        '#010203',
        '#010203',
        'the browser’s #010203',
        'a colour that was not traced',
      ],
    ]);
  });

  test('of a colour: the one step that has it', () => {
    expect(nameOfColor(index, 1, parseColor('#93c1cf'))).toBe('silt.3');
    expect(nameOfColor(index, 1, parseColor('#ff2020'))).toBe('#ff2020');
    const twins = tableOf({ a: ['#111111', null], b: ['#111111', '#111111'] }, { ramps: [{ name: 'r', steps: ['a', 'b'] }] });
    expect([0, 1].map((theme) => nameOfColor(twins, theme, parseColor('#111111')))).toEqual(['#111111', 'b']);
  });

  test('of themes: those a change is written for, where it is for some', () => {
    const themed = [
      value('silt.7', '#ffffff'),
      alias('mark.quiet', 'silt.3'),
      filter('html'),
      { kind: 'rebuild', token: 0, themes: [1] } as const,
    ];
    const plain: readonly Change[] = [
      use(fore()),
      { kind: 'indicator', site: fore(), token: 0 },
      { kind: 'opacity', site: fore() },
      { kind: 'alpha', site: fore(), alpha: 0.6 },
      { kind: 'unglow', site: fore() },
      { kind: 'add', cases: [] },
    ];
    expect(themed.map(themesOfChange)).toEqual(themed.map(() => [1]));
    expect(plain.map(themesOfChange)).toEqual(plain.map(() => null));
  });
});
