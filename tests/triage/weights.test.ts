// How far-fetched each explanation is held to be: the numbers at `BASE` and beside it, each alone. Derived from those rules.
import { describe, expect, test } from 'vitest';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { deltaE2000, deltaEOk } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import { proposeAlias } from '../../src/triage/propose/alias.ts';
import type { Candidate, Ground } from '../../src/triage/propose/candidate.ts';
import { openWeighing, partOf, scoreOf } from '../../src/triage/propose/candidate.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import { proposeUse } from '../../src/triage/propose/use.ts';
import { proposeValue } from '../../src/triage/propose/value.ts';
import type { UseSite } from '../../src/triage/recolor/change.ts';
import { inksFor } from '../../src/triage/recolor/inks-for.ts';
import { openWorld } from '../../src/triage/world.ts';
import { textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';
import { EXAMPLE as RAMP } from '../tables/tokens/ramp-faults.ts';

const ramp = (colors: readonly string[]): Readonly<Record<string, readonly string[]>> =>
  Object.fromEntries(colors.map((color, at) => [`silt.${String(at)}`, [color, color]]));
const ROLES = {
  ...{ 'face.page': ['#ffffff', '#111111'], 'mark.quiet': ['{silt.3}', '{silt.3}'], 'mark.good': ['{silt.8}', '{silt.8}'] },
  ...{ 'other.good': ['#333333', '#333333'], 'edge.line': ['{silt.3}', '{silt.3}'], 'mark.shared': ['{silt.3}', '{silt.3}'] },
};
const build = (
  colors: readonly string[] = RAMP,
  more: Readonly<Record<string, readonly string[]>> = {},
): ReturnType<typeof tableOf> =>
  tableOf(
    { ...ramp(colors), ...ROLES, ...more },
    { ramps: [{ name: 'silt', steps: RAMP.map((_, at) => `silt.${String(at)}`) }], shared: ['mark.shared'] },
  );

/** Cases of a table: text of a token or colour on the page. */
function scene(index = build()) {
  const at = (path: string): number => index.tokenAt(path);
  const colorOf = (theme: number, path: string): string => {
    const color = index.colorOf(theme, at(path));
    return color === null ? '#000000' : `rgb(${[color.r, color.g, color.b].map((v) => Math.round(v * 255)).join(' ')})`;
  };
  const text = (id: number, ink: string, over: Partial<Case> = {}): Case => {
    const theme = over.theme ?? 0;
    const color = ink.startsWith('#') ? ink : colorOf(theme, ink);
    const back = colorOf(theme, 'face.page');
    return made({
      ...{
        id,
        key: `k${String(id)}`,
        family: `f${String(id)}`,
        fore: ink.startsWith('#') ? written(ink) : token(at(ink), color),
        seenFore: shown(color),
      },
      ...{ back: [layer(token(at('face.page'), back))], seenBacks: [shown(back)] },
      place: { ...made().place, sample: textRun({ color, background: back, selector: `#t${String(id)}` }) },
      ...over,
    });
  };
  const judges = new Map([[textContrast.id, textContrast.with()]]);
  const ground = (...cases: readonly Case[]): Ground => openGround(openWorld({ index, cases, judges, level: 'AA' }), new Set());
  return { at, text, ground, index };
}
const fails = (...ids: readonly number[]): Partial<Case> => ({ findings: new Map([['text-contrast', ids]]), samples: ids.length });
const all = (): boolean => true;
const apart = (one: string, other: string): number => deltaE2000(parseColor(one), parseColor(other)) / 60;

describe('a use', () => {
  const { at, text, ground } = scene();
  const use = (one: Case, others: readonly Case[], target: string): Candidate | null => {
    const site: UseSite = { side: 'fore', ref: one.fore, cases: [one.id] };
    const found = proposeUse(ground(one, ...others), site).propose(all);
    const change = found?.parts[0].change;
    return change?.kind === 'use' && change.token === at(target) ? found : null;
  };
  const good = text(1, 'mark.good', { samples: 7 });

  test('of a literal costs .8, and how far it is from what is there', () => {
    expect(use(text(0, '#9a9a9a', fails(0)), [good], 'mark.good')?.base).toBeCloseTo(0.8 + apart('#9a9a9a', '#16465a'), 9);
  });

  test('that others use less costs up to .4 more', () => {
    // weights of 1 and 7 places: 1 and 3
    const rare = use(
      text(0, '#9a9a9a', fails(0)),
      [text(1, 'other.good', { samples: 1 }), text(2, 'mark.quiet', { samples: 7 })],
      'other.good',
    );
    expect(rare?.base).toBeCloseTo(0.8 + 0.4 * (1 - 1 / 3) + apart('#9a9a9a', '#333333'), 9);
  });

  test('that the place is called for costs .15 less', () => {
    const called = text(0, '#9a9a9a', {
      ...fails(0),
      place: { ...made().place, sample: textRun({ color: '#9a9a9a', background: '#ffffff', selector: 'main > p.good' }) },
    });
    expect(use(called, [good], 'mark.good')?.base).toBeCloseTo(0.8 - 0.15 + apart('#9a9a9a', '#16465a'), 9);
    const around = text(0, '#9a9a9a', {
      ...fails(0),
      place: { ...made().place, sample: textRun({ color: '#9a9a9a', background: '#ffffff', selector: '.good > p' }) },
    });
    expect(use(around, [good], 'mark.good')?.base).toBeCloseTo(0.8 + apart('#9a9a9a', '#16465a'), 9);
  });

  test('of a token costs 1 where it does well elsewhere, 1.5 where it does not, .7 where it is meant for something else', () => {
    const cost = apart('#93c1cf', '#16465a');
    const one = text(0, 'mark.quiet', fails(0));
    expect(use(one, [good, text(2, 'mark.quiet', { samples: 3 })], 'mark.good')?.base).toBeCloseTo(1 + cost, 9);
    expect(use(one, [good], 'mark.good')?.base).toBeCloseTo(1.5 + cost, 9);
    // in another theme, or as something else, it does not do well here
    expect(use(one, [good, text(2, 'mark.quiet', { samples: 3, theme: 1 })], 'mark.good')?.base).toBeCloseTo(1.5 + cost, 9);
    const strange = use(text(0, 'edge.line', fails(0)), [good, text(2, 'edge.line', { role: 'edge', samples: 9 })], 'mark.good');
    expect(strange?.base).toBeCloseTo(0.7 + cost, 9);
    expect(strange?.evidence).toEqual({ role: 'strange' });
  });

  test('is as large as the change of colour, scored by what it mends, and looked for among what is used so', () => {
    const found = use(text(0, '#9a9a9a', fails(0, 1, 2)), [good], 'mark.good');
    expect(found?.size).toBeCloseTo(deltaEOk(parseColor('#9a9a9a'), parseColor('#16465a')), 9);
    expect(found?.score).toBeCloseTo(
      scoreOf({ gain: 2, left: 0, bystanders: 0, harm: 0, base: found?.base ?? 0, size: found?.size ?? 0 }),
      9,
    );
    expect(use(text(0, '#9a9a9a', fails(0)), [text(1, 'mark.good', { role: 'edge', samples: 7 })], 'mark.good')).toBeNull();
  });

  test('of a colour that is as meant in the reference theme keeps it', () => {
    // #333333 reads on white, and not on #111111; the token that is this very colour would not read either, another would
    const noon = text(0, '#333333', { family: 'f' });
    const dusk = text(1, '#333333', { family: 'f', theme: 1, ...fails(0) });
    const light = text(2, 'mark.quiet', { theme: 1, samples: 7 });
    const site: UseSite = { side: 'fore', ref: noon.fore, cases: [0, 1] };
    const found = proposeUse(ground(noon, dusk, light), site).propose(all);
    // quite another colour where it is as meant: .6 more, and it would break noon
    expect(found?.outcome.broken.map(({ case: one }) => one.id)).toEqual([0]);
    expect(found?.base).toBeCloseTo(0.8 + 0.6 + apart('#333333', '#93c1cf'), 9);
  });
});

describe('an alias', () => {
  const { at, text, ground } = scene();
  const base = (
    one: Case,
    path: string,
    themes: readonly number[],
    others: readonly Case[] = [],
    from = { at, ground },
  ): number | undefined => proposeAlias(from.ground(one, ...others), from.at(path), themes).propose(all)?.base;

  test('costs 1, .15 more where it is added to a declaration that stays, and 1.5 where it is meant for something else', () => {
    expect(base(text(0, 'mark.quiet', fails(0)), 'mark.quiet', [0])).toBe(1);
    const shared = text(0, 'mark.shared', fails(0));
    expect([base(shared, 'mark.shared', [0]), base(shared, 'mark.shared', [0, 1])]).toEqual([1.15, 1]);
    expect(base(text(0, 'edge.line', fails(0)), 'edge.line', [0], [text(2, 'edge.line', { role: 'edge', samples: 9 })])).toBe(2.5);
  });

  test('costs .6 where its siblings stand elsewhere, less where it goes there; 1.3 where it stands with them', () => {
    const siblings = Object.fromEntries(['a', 'b', 'c'].map((name) => [`sib.${name}`, ['{silt.8}', '{silt.5}']]));
    const odd = scene(build(RAMP, { ...siblings, 'mark.odd': ['{silt.8}', '{silt.9}'] }));
    const found = proposeAlias(odd.ground(odd.text(0, 'mark.odd', { theme: 1, ...fails(0) })), odd.at('mark.odd'), [1]).propose(
      all,
    );
    expect(found?.parts[0].change).toMatchObject({ target: odd.at('silt.5') });
    expect([found?.base, found?.evidence]).toEqual([0.6 * 0.85, { siblings: 'odd', because: 'steps' }]);
    const usual = scene(
      build(RAMP, {
        ...Object.fromEntries(['a', 'b', 'c'].map((name) => [`sib.${name}`, ['{silt.8}', '{silt.8}']])),
        'mark.usual': ['{silt.8}', '{silt.8}'],
      }),
    );
    const stays = proposeAlias(
      usual.ground(usual.text(0, 'mark.usual', { theme: 1, ...fails(0) })),
      usual.at('mark.usual'),
      [1],
    ).propose(all);
    expect([stays?.base, stays?.evidence]).toEqual([1.3, { siblings: 'usual', because: 'steps' }]);
  });

  test('costs 1.4 times where the step it goes to is off its course itself', () => {
    // All but the sixth step read too faintly, and that one left the course of its ramp.
    const colors = [
      '#ffffff',
      '#f6f6f6',
      '#ededed',
      '#e4e4e4',
      '#dbdbdb',
      '#404040',
      '#c9c9c9',
      '#c0c0c0',
      '#b7b7b7',
      '#aeaeae',
      '#a5a5a5',
    ];
    const shaky = scene(build(colors));
    const found = proposeAlias(shaky.ground(shaky.text(0, 'mark.quiet', fails(0))), shaky.at('mark.quiet'), [0]).propose(all);
    expect(found?.parts[0].change).toMatchObject({ target: shaky.at('silt.5') });
    expect(found?.base).toBe(1.4);
    expect(found?.size).toBeCloseTo(deltaEOk(parseColor('#e4e4e4'), parseColor('#404040')), 9);
  });
});

describe('a value', () => {
  const base = (colors: readonly string[], path: string, themes: readonly number[], large = false): readonly unknown[] => {
    const { at, text, ground } = scene(build(colors));
    const sample = textRun({ color: '#000000', background: '#ffffff', large });
    const one = text(0, path, { ...fails(0), required: large ? 3 : 4.5, place: { ...made().place, sample } });
    const found = proposeValue(ground(one), at(path), themes).propose(all);
    return [found?.layer, found?.base, found?.evidence];
  };

  test('of a step off its course costs .5, of one that keeps to it 1.4, of what is no step 1.1', () => {
    // The eighth step as light as the fourth.
    expect(base(RAMP.with(7, '#93c1cf'), 'silt.7', [0])).toEqual(['ramp', 0.5, { course: 'odd' }]);
    // 2.77 of the 3 that large text needs
    expect(base(RAMP, 'silt.4', [0], true)).toEqual(['ramp', 1.4, { course: 'smooth' }]);
    const { at, text, ground } = scene(build(RAMP, { lamp: ['#999999', '#999999'] }));
    expect(proposeValue(ground(text(0, 'lamp', fails(0))), at('lamp'), [0]).propose(all)).toMatchObject({
      layer: 'token',
      base: 1.1,
      evidence: {},
    });
  });

  test('puts a step that left its course back there', () => {
    const { at, text, ground } = scene(build(RAMP.with(7, '#93c1cf')));
    const change = proposeValue(ground(text(0, 'silt.7', fails(0))), at('silt.7'), [0]).propose(all)?.parts[0].change;
    // within what still counts as on course (ΔE OK .04) of where it was
    expect(change?.kind === 'value' ? deltaEOk(change.color, parseColor('#1f586c')) : 1).toBeLessThan(0.04);
  });

  test('for some of the themes that a declaration governs costs .25 more', () => {
    const shared = tableOf({ lamp: ['#999999', '#999999'], 'face.page': ['#ffffff', '#ffffff'] }, { shared: ['lamp'] });
    const { at, text, ground } = scene(shared);
    const one = text(0, 'lamp', fails(0));
    const cost = (themes: readonly number[]): number | undefined =>
      proposeValue(ground(one), at('lamp'), themes).propose(all)?.base;
    expect(cost([0, 1])).toBe(1.1);
    expect(cost([0])).toBeCloseTo(1.35, 9);
  });
});

describe('faults that a change leaves', () => {
  const { at, text, ground } = scene();
  const change = { kind: 'value', token: at('silt.3'), themes: [0], color: parseColor('#2f7086') } as const;

  test('speak against it, less where a course proves it, and not where it only takes away', () => {
    const here = ground(
      text(0, 'mark.quiet', fails(0)),
      text(1, 'mark.quiet', {
        ...fails(1),
        required: 21,
        place: { ...made().place, sample: textRun({ color: '#93c1cf', background: '#93c1cf' }) },
        back: [],
        backFixed: true,
        seenBacks: [shown('#2f7086')],
      }),
    );
    const score = (evidence: Candidate['evidence'], mendsAll?: false): number | undefined =>
      openWeighing(here, all, {
        parts: [partOf(here, change, 'ramp')],
        base: 1,
        size: 0,
        evidence,
        visible: () => 0,
        ...(mendsAll === undefined ? {} : { mendsAll }),
      })?.weigh()?.score;
    expect([score({}), score({ course: 'smooth' }), score({}, false)]).toEqual([0.5, 0.5, 1]);
    expect(score({ course: 'odd' })).toBeCloseTo(1 / 1.3, 9);
  });
});

describe('what is drawn on a surface that takes another token', () => {
  const { at, text, ground, index } = scene();
  const inks = (drawn: Case, others: readonly Case[], face = 'other.good'): unknown => {
    const here = ground(drawn, ...others);
    const site = { side: 'surface', ref: token(at('face.page'), '#ffffff'), cases: [0], elements: new Set([7]) } as const;
    return inksFor(here, all, { site, token: at(face), cases: here.world.cases.filter(({ id }) => id === 0) }).map(
      ({ role, token: ink }) => `${role} ${index.pathOf(ink)}`,
    );
  };
  const light = text(1, 'silt.1', { theme: 1, samples: 7 });

  test('changes where it can no longer be read, to what is drawn so elsewhere', () => {
    // on #333333, #16465a does not read, #dcecf1 does
    expect(inks(text(0, 'mark.good'), [light])).toEqual(['ink silt.1']);
    expect(inks(text(0, 'silt.1', { required: 3 }), [light])).toEqual([]);
    expect(inks(text(0, 'mark.good'), [])).toEqual([]);
  });

  test('changes where something is found there; what was only seen, and the surface itself, do not', () => {
    const bright = text(2, 'silt.0', { theme: 1, samples: 31 });
    expect(inks(text(0, 'silt.1', fails(0)), [bright])).toEqual(['ink silt.0']);
    expect(inks(text(0, 'silt.1', { findings: new Map() }), [bright])).toEqual([]);
    // what suits best may be what is there
    expect(inks(text(0, 'silt.1', fails(0)), [light, bright])).toEqual([]);
    expect(inks(text(0, 'mark.good', { backFixed: true }), [light])).toEqual([]);
    expect(inks(text(0, 'mark.good', { role: 'surface', elements: new Set([7]) }), [light])).toEqual([]);
  });
});
