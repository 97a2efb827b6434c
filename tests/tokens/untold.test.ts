// Complaints worth reading: what is side data keeps its value, what is an alias may be laid over, what many ramps do is a design, what
// is equal is told once, and silence says what was not looked at.
import { describe, expect, test } from 'vitest';
import { inSrgbGamut } from '../../src/colour/color.ts';
import { intoSrgb } from '../../src/colour/into-gamut.ts';
import { fromOklch, toOklch } from '../../src/colour/lightness.ts';
import { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import { foldProblems, timesMet } from '../../src/tokens/fold-problems.ts';
import { problemsOf, readWith, srgb } from './read.ts';

const THEMES = { base: ['base.json'], themes: { noon: [], dusk: ['dusk.json'] } };

describe('token files', () => {
  // Color 2025.10, C4.1.1: "hex" is an optional fallback of six digits. The components alone make the colour.
  test('a fallback of three digits is told, and the colour stays', () => {
    const { graph } = readWith(
      {
        'base.json': { silt: { $type: 'color', $value: { colorSpace: 'srgb', components: [1, 1, 1], hex: '#fff' } } },
        'dusk.json': { a: {} },
      },
      THEMES,
    );
    expect(problemsOf(graph)).toContain('bad-fallback silt');
    expect(graph.problems.filter(({ level }) => level === 'error')).toEqual([]);
    expect(graph.colorOf('silt', 'noon')).toMatchObject({ r: 1, g: 1, b: 1 });
  });

  // Format 2025.10, F6.6.2 and Resolver 2025.10, R6.2: an object that is a reference alone is an alias, and the last one wins.
  test('a $ref that a later file lays over another is an override, and no fault', () => {
    const { graph } = readWith(
      {
        'base.json': {
          silt: { $type: 'color', '1': { $value: srgb('#ffffff') }, '9': { $value: srgb('#111111') } },
          face: { deck: { $ref: '#/silt/1' }, hold: { $value: '{silt.1}' } },
        },
        'dusk.json': { face: { deck: { $ref: '#/silt/9' }, hold: { $ref: '#/silt/9/$value' } } },
      },
      THEMES,
    );
    expect(problemsOf(graph)).toEqual([]);
    expect(graph.stepOf('face.deck', 'dusk')).toBe('silt.9');
    expect(graph.stepOf('face.hold', 'dusk')).toBe('silt.9');
  });

  test('a file without a token, and a set that no step names, are told', () => {
    const { graph } = readWith({ 'base.json': {}, 'dusk.json': { silt: { $type: 'color', $value: srgb('#111111') } } }, THEMES);
    expect(problemsOf(graph)).toEqual(['no-tokens']);
  });

  test('the same complaint in one file is one, with its count; different ones stay apart', () => {
    const wrong = Object.fromEntries(Array.from({ length: 201 }, (_, i) => [`s${String(i)}`, { $type: 'colour', $value: 1 }]));
    const draft = Object.fromEntries(Array.from({ length: 50 }, (_, i) => [`d${String(i)}`, { value: '#fff', type: 'color' }]));
    const lost = { a: { $value: '{gone.a}' }, b: { $value: '{gone.b}' } };
    const { graph } = readWith({ 'base.json': { wrong, draft, lost }, 'dusk.json': { a: {} } }, THEMES);
    expect(graph.problems.length).toBeGreaterThan(300);
    const folded = foldProblems(graph.problems);
    // derived: 201 types, 2 members of 50 drafts, 2 references that differ
    expect(folded.map(({ code, count }) => `${code} ${String(count)}`)).toEqual(
      expect.arrayContaining(['unknown-type 201', 'not-a-node 100', 'ref-unresolved 1', 'ref-unresolved 1']),
    );
    expect(folded).toHaveLength(4);
    const [first] = folded.filter(({ code }) => code === 'unknown-type');
    expect(first === undefined ? '' : timesMet(first)).toBe('201 times in this file, also at wrong.s1, wrong.s2, wrong.s3 …');
  });
});

/** A ramp of eleven even steps of one hue; `accent` bends the seventh. */
function ramp(hueDeg: number, accent: boolean): object {
  const steps = Array.from({ length: 11 }, (_, i) => {
    const okLightness = 0.93 - i * 0.07 + (accent && i === 6 ? 0.1 : 0);
    const { r, g, b } = fromOklch({ okLightness, chroma: 0.03, hueDeg });
    return [String(i * 100), { $value: { colorSpace: 'srgb', components: [r, g, b] } }] as const;
  });
  return { $type: 'color', ...Object.fromEntries(steps) };
}

function faultsOf(hues: Readonly<Record<string, boolean>>): readonly string[] {
  const ramps = Object.fromEntries(Object.entries(hues).map(([hue, accent]) => [`h${hue}`, ramp(Number(hue), accent)]));
  const use = Object.fromEntries(Object.keys(hues).map((hue) => [`use${hue}`, { $value: `{h${hue}.500}` }]));
  const { graph } = readWith({ 'base.json': { ...ramps, use } }, { base: ['base.json'], themes: { noon: [] } });
  return checkTokens({ graph, reference: 'noon' })
    .faults.filter(({ layer }) => layer === 'ramp')
    .map(({ code, token }) => `${code} ${token}`);
}

describe('ramps', () => {
  test('a step that leaves its course in one ramp of five is a fault; in all of them it is how they were designed', () => {
    expect(faultsOf({ 20: false, 90: false, 160: true, 230: false, 300: false })).toContain('ramp-off-course h160.600');
    expect(faultsOf({ 20: true, 90: true, 160: true, 230: true, 300: true })).toEqual([]);
  });

  test('a colour that is expected can be painted', () => {
    const out = fromOklch({ okLightness: 0.6, chroma: 0.4, hueDeg: 150 });
    expect(inSrgbGamut(out)).toBe(false);
    const shown = toOklch(intoSrgb(out));
    expect(inSrgbGamut(intoSrgb(out))).toBe(true);
    expect(shown.okLightness).toBeCloseTo(0.6, 2);
    expect(Math.abs(shown.hueDeg - 150)).toBeLessThan(1);
  });

  test('a palette that nothing refers to is not called semantic', () => {
    const { graph } = readWith(
      {
        'base.json': { silt: ramp(20, false), deck: { $type: 'color', $value: srgb('#ffffff') } },
        'dusk.json': { deck: { $type: 'color', $value: srgb('#111111') } },
      },
      THEMES,
    );
    // derived: eleven colours that refer to nothing and never change; one that differs between the themes
    expect(checkTokens({ graph, reference: 'noon' }).counts).toMatchObject({ ramps: 0, semantic: 1, plain: 11 });
  });
});
