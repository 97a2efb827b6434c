// Repairs keep to what a colour says: a warning stays amber, a translucent ink hides more, and no token is asked for that need not be there.
// Derived: contrasts of WCAG 2 on white: #d97706 3.18, #b45309 5.02, #52525b 7.7; rgb(0 0 0 / .45) is seen as #8c8c8c there, 3.36.
import { describe, expect, test } from 'vitest';
import { graphicContrast } from '../../src/checks/graphic-contrast.ts';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { BLACK } from '../../src/colour/color.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import type { Explanation } from '../../src/triage/choose/choose.ts';
import { withoutServedGaps } from '../../src/triage/choose/served-gaps.ts';
import type { Ground } from '../../src/triage/propose/candidate.ts';
import { partOf } from '../../src/triage/propose/candidate.ts';
import { demandsOf } from '../../src/triage/propose/gap.ts';
import { wordsMeant } from '../../src/triage/propose/named-for.ts';
import { between, nearbyColors } from '../../src/triage/propose/nearby-colors.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import { proposeUse } from '../../src/triage/propose/use.ts';
import { proposeValue } from '../../src/triage/propose/value.ts';
import type { Change } from '../../src/triage/recolor/change.ts';
import { openWorld } from '../../src/triage/world.ts';
import { textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const FAINT = 'rgb(0 0 0 / 0.45)';
const TOKENS = {
  'face.page': ['#ffffff', '#111111'],
  'lamp.late': ['#d97706', '#d97706'],
  'lamp.late-strong': ['#b45309', '#f59e0b'],
  'mark.note': ['#52525b', '#d4d4d8'],
  'mark.faint': [FAINT, 'rgb(255 255 255 / 0.45)'],
  'edge.firm': ['#8b9aa1', '#54666f'],
  'face.buoy': ['#d97706', '#b45309'],
} as const;
const index = tableOf(TOKENS);
const at = (path: keyof typeof TOKENS): number => index.tokenAt(path);
const judges = new Map([textContrast, graphicContrast].map((check) => [check.id, check.with()]));
const groundOf = (...cases: readonly Case[]): Ground => openGround(openWorld({ index, cases, judges, level: 'AA' }), new Set());
const all = (): boolean => true;

/** Text on the page of the first theme. */
function text(id: number, path: keyof typeof TOKENS, over: Partial<Case> & { readonly seen?: string } = {}): Case {
  const { seen = TOKENS[path][0], ...facts } = over;
  return made({
    ...{ id, key: `k${String(id)}`, family: `f${String(id)}`, fore: token(at(path), TOKENS[path][0]), seenFore: shown(seen) },
    back: [layer(token(at('face.page'), '#ffffff'))],
    place: { ...made().place, sample: textRun({ color: seen, background: '#ffffff', selector: `#t${String(id)}` }) },
    ...facts,
  });
}
const failing = { findings: new Map([['text-contrast', [0]]]) } as const;
const wrote = (rule: string): Partial<Case> => ({ wrote: [{ property: 'color', value: 'var(--lamp-late)', rule }] });

describe('what a token is meant for', () => {
  const lamps = [0, 1].map((n) => made({ id: 7 + n, role: 'edge', fore: token(at('lamp.late'), '#d97706'), samples: 9 }));

  test('is what two rules take it for, though it fails wherever they do; of one rule it may be a slip', () => {
    const two = groundOf(
      text(0, 'lamp.late', { ...failing, ...wrote('.note') }),
      text(1, 'lamp.late', { ...failing, ...wrote('.tab') }),
      ...lamps,
    );
    expect(two.usage.isStrangeAs('ink', at('lamp.late'))).toBe(false);
    const one = groundOf(
      text(0, 'lamp.late', { ...failing, ...wrote('.note') }),
      text(1, 'lamp.late', { ...failing, ...wrote('.note') }),
      ...lamps,
    );
    expect(one.usage.isStrangeAs('ink', at('lamp.late'))).toBe(true);
  });

  test('is what its name says where one rule takes it so', () => {
    const faces = made({ id: 7, role: 'surface', fore: token(at('edge.firm'), '#8b9aa1'), samples: 9 });
    const frame = text(0, 'edge.firm', { ...failing, ...wrote('.field'), role: 'edge' });
    const { usage } = groundOf(frame, faces);
    expect([usage.isStrangeAs('edge', at('edge.firm')), usage.isStrangeAs('ring', at('edge.firm'))]).toEqual([false, true]);
  });

  test('is what its name says, whatever many rules take it for', () => {
    const lines = made({ id: 7, role: 'edge', fore: token(at('edge.firm'), '#8b9aa1'), samples: 9 });
    const units = ['.unit', '.count'].map((rule, id) => text(id, 'edge.firm', { ...failing, ...wrote(rule) }));
    expect(groundOf(...units, lines).usage.isStrangeAs('ink', at('edge.firm'))).toBe(true);
  });

  test('is told by no word that most tokens of the set have', () => {
    const path = (name: string): string => `--quay-color-${name}`;
    const set = tableOf(
      Object.fromEntries(
        ['late', 'lost', 'calm', 'ebb', 'spring', 'neap', 'slack', 'surge', 'swell', 'wake'].map((name) => [
          path(name),
          ['#d97706', null],
        ]),
      ),
    );
    const of = (rule: string): readonly string[] =>
      wordsMeant(set, {
        fore: token(set.tokenAt(path('late')), '#d97706'),
        ...{ wrote: [{ property: 'color', value: '', rule }] },
      });
    expect(of('.tag-late')).toEqual(['late']);
    expect(of('.quay-tag')).toEqual([]);
  });
});

describe('another token in its place', () => {
  const late = text(0, 'lamp.late', { ...failing, ...wrote('.note') });
  const also = text(1, 'lamp.late', { ...failing, ...wrote('.tab') });
  const note = text(2, 'mark.note', { samples: 9 });
  const strong = text(3, 'lamp.late-strong');
  const site = { side: 'fore', ref: late.fore, cases: [0, 1] } as const;

  test('is of its hue, though a grey is used more', () => {
    const found = proposeUse(groundOf(late, also, note, strong), site).propose(all);
    expect(found?.parts[0].change).toMatchObject({ kind: 'use', token: at('lamp.late-strong') });
  });

  test('where it is not meant for the place, may be of any: its colour says nothing', () => {
    const lamp = made({ id: 3, role: 'edge', fore: token(at('lamp.late'), '#d97706'), samples: 9 });
    const meant = proposeUse(groundOf(late, also, note), site).propose(all);
    const strange = proposeUse(groundOf(late, { ...note, id: 1 }, lamp), { ...site, cases: [0] }).propose(all);
    expect([meant, strange].map((found) => found?.parts[0].change)).toMatchObject([
      { token: at('mark.note') },
      { token: at('mark.note') },
    ]);
    expect((meant?.base ?? 0) - (strange?.base ?? 0)).toBeGreaterThan(1.5);
  });
});

test('a token of the very colour that is there already mends nothing that anybody would see', () => {
  const stayed = made({
    ...{ theme: 1, fore: written('#d97706'), seenFore: shown('#d97706'), samples: 1, findings: new Map([['unthemed', [0]]]) },
    ...{ back: [layer(token(at('face.page'), '#111111'))], seenBacks: [shown('#111111')] },
  });
  const site = { side: 'fore', ref: stayed.fore, cases: [0] } as const;
  const found = proposeUse(groundOf(stayed, text(1, 'lamp.late'), text(2, 'lamp.late')), site).propose(all);
  expect(found).toBeNull();
});

describe('an ink that lets the ground through', () => {
  const faint = text(0, 'mark.faint', { ...failing, seen: '#8c8c8c' });

  test('is to hide more: its colour stays', () => {
    const change = proposeValue(groundOf(faint), at('mark.faint'), [0]).propose(all)?.parts[0].change;
    // derived: black at 54 % on white is #757575, 4.6; at 53 % #787878, 4.4, which falls short of 4.5 × 1.01
    expect(change?.kind === 'value' ? toCssText(change.color) : '').toBe('rgb(0 0 0 / 0.54)');
  });

  test('asks for a token from what is seen of it, not for black', () => {
    const [demand] = demandsOf(groundOf(faint).world, [faint]);
    const suggestion = demand?.suggestion ?? BLACK;
    expect(suggestion.alpha).toBe(1);
    // 4.5 × 1.01 on white is reached from #757575 on
    expect(toCssText(suggestion)).toMatch(/^#7[0-5]7[0-5]7[0-5]$/u);
  });

  test('neighbours hide more up to all; of what hides all, and where less chroma is sought, none does', () => {
    const start = parseColor(FAINT);
    expect(Math.max(...nearbyColors(start, false).map(({ color }) => color.alpha))).toBe(1);
    expect(nearbyColors(start, true).every(({ color }) => color.alpha === 0.45)).toBe(true);
    expect(toCssText(between(start, { ...start, alpha: 0.6 }, 0.5))).toBe('rgb(0 0 0 / 0.53)');
  });
});

describe('no token is missing', () => {
  const on = (id: number, theme: number): Case => {
    const [face, ink] = [TOKENS['face.buoy'][theme] ?? '', theme === 0 ? '#ffffff' : '#111111'];
    return made({
      ...{ id, key: `k${String(id)}`, family: 'g', theme, fore: token(at('face.page'), ink), seenFore: shown(ink) },
      ...{ back: [layer(token(at('face.buoy'), face))], seenBacks: [shown(face)], samples: 1 },
      findings: new Map([['text-contrast', [id]]]),
      place: { ...made().place, sample: textRun({ color: ink, background: face, selector: '#buoy' }) },
    });
  };
  const ground = groundOf(on(0, 0), on(1, 1));
  const { faults } = ground.world;
  const explained = (change: Change, layer: Explanation['layer'], of: Explanation['faults']): Explanation => ({
    ...{ changes: [partOf(ground, change, layer)], layer, faults: of, evidence: {}, rival: 0 },
  });
  const gap = explained({ kind: 'add', cases: [0, 1] }, 'gap', faults);
  const darker = explained({ kind: 'value', token: at('face.buoy'), themes: [0], color: parseColor('#7c2d12') }, 'token', []);
  const lighter = explained({ kind: 'value', token: at('face.buoy'), themes: [1], color: parseColor('#f59e0b') }, 'token', []);

  test('where changes that are made anyway mend all that it was to serve: each takes what it mends', () => {
    const left = withoutServedGaps(ground, [gap, darker, lighter]);
    expect(left.map((each) => [each.changes, each.faults])).toEqual([
      [darker.changes, [faults[0]]],
      [lighter.changes, [faults[1]]],
    ]);
  });

  test('else it is, with all that it explained', () => {
    expect(withoutServedGaps(ground, [gap, darker])).toEqual([gap, darker]);
    expect(withoutServedGaps(ground, [darker])).toEqual([darker]);
  });
});
