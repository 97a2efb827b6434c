// Pairs the configuration declares: which are made of patterns, what is told of those that fail, and where the fault lies.
import { describe, expect, test } from 'vitest';
import { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import type { PairRule } from '../../src/tokens/faults/declared-pairs.ts';
import { declarePairs, joinPairs } from '../../src/tokens/faults/declared-pairs.ts';
import type { TokenPair } from '../../src/tokens/faults/pair-table.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { readWith, srgb } from './read.ts';

/** Greys with contrasts on white derived by WCAG 2.2: #767676 4.54, #949494 3.03, #595959 7.00, #000 21. */
const GREYS = { '0': '#ffffff', '100': '#949494', '200': '#767676', '300': '#595959', '400': '#000000' };

function harbour(): TokenGraph {
  const color = (hex: string): unknown => ({ $type: 'color', $value: srgb(hex) });
  const step = (path: string): unknown => ({ $value: `{${path}}` });
  const ramp = Object.fromEntries(Object.entries(GREYS).map(([name, hex]) => [name, color(hex)]));
  return readWith(
    {
      'base.json': {
        silt: ramp,
        gap: { wide: { $type: 'dimension', $value: { value: 4, unit: 'px' } } },
        face: { page: step('silt.0'), deck: step('silt.0') },
        mark: { main: step('silt.400'), hint: step('silt.200'), title: step('silt.100') },
        lamp: { red: color('#ff9999') },
      },
      'dusk.json': { face: { page: step('silt.400'), deck: step('silt.400') }, mark: { main: step('silt.0') } },
    },
    { base: ['base.json'], themes: { noon: [], dusk: ['dusk.json'] } },
  ).graph;
}

const graph = harbour();
const rule = (ink: string, on: string, required = 4.5): PairRule => ({ ink: [ink], on: [on], required });
const names = (pairs: readonly TokenPair[]): readonly string[] =>
  pairs.map(({ ink, surface, required }) => `${ink} on ${surface} ${String(required)}`);

describe('rules become pairs', () => {
  test('every ink on every surface, as globs say', () => {
    expect(names(declarePairs(graph, [rule('mark.*', 'face.page')]).pairs)).toEqual([
      'mark.main on face.page 4.5',
      'mark.hint on face.page 4.5',
      'mark.title on face.page 4.5',
    ]);
  });

  test('the first rule that names a pair counts, so that exceptions stand before what they are exceptions of', () => {
    expect(names(declarePairs(graph, [rule('mark.title', '**', 3), rule('mark.*', 'face.*')]).pairs)).toEqual(
      expect.arrayContaining(['mark.title on face.page 3', 'mark.hint on face.page 4.5']),
    );
  });

  test('a token is no pair with itself, and a pattern that leads nowhere is told', () => {
    expect(declarePairs(graph, [rule('face.*', 'face.*')]).pairs).toHaveLength(2);
    const { idle } = declarePairs(graph, [rule('mark.mian', 'gap.*'), rule('lamp.red', 'lamp.*'), rule('mark.*', 'face.*')]);
    expect(idle.map(({ rule: at, member, pattern, why }) => [at, member, pattern, why])).toEqual([
      [0, 'ink', 'mark.mian', 'no token'],
      [0, 'on', 'gap.*', 'no colour'],
      [1, null, 'lamp.red', 'one token'],
    ]);
  });

  test('a pair that is declared and met is one, with the stricter need; what is declared stands first', () => {
    const { pairs } = declarePairs(graph, [rule('mark.title', 'face.page', 3), rule('mark.main', 'face.deck')]);
    const met = [
      { ink: 'mark.hint', surface: 'face.page', required: 4.5, uses: 9, declared: null },
      { ink: 'mark.title', surface: 'face.page', required: 4.5, uses: 2, declared: null },
    ];
    expect(joinPairs(pairs, met)).toEqual([
      { ink: 'mark.title', surface: 'face.page', required: 4.5, uses: 2, declared: 3 },
      { ink: 'mark.main', surface: 'face.deck', required: 4.5, uses: 0, declared: 4.5 },
      met[0],
    ]);
  });
});

/** `layer token on surface in themes`. */
function faults(...rules: readonly PairRule[]): readonly string[] {
  return messages(declarePairs(graph, rules).pairs).map(({ said }) => said);
}

function messages(
  pairs: readonly TokenPair[],
): readonly { readonly said: string; readonly message: string; readonly place: string }[] {
  return checkTokens({ graph, reference: 'noon', pairs })
    .faults.filter(({ code }) => code === 'pair-contrast')
    .map(({ layer, token, others, themes, message, file, line }) => ({
      said: `${layer} ${token} on ${others.join()} in ${themes.join('+')}`,
      message,
      place: `${file}:${String(line)}`,
    }));
}

describe('a declared pair that is too weak in a theme', () => {
  test.each([
    // #767676 on black: 21/4.54 = 4.62; on white 4.54: passes in both.
    { name: 'is silent where it reaches what it needs in every theme', rules: [rule('mark.hint', 'face.page')], told: [] },
    { name: 'is told with the theme', rules: [rule('mark.title', 'face.page')], told: ['token mark.title on face.page in noon'] },
    { name: 'is silent where it is for large text only', rules: [rule('mark.title', 'face.page', 3)], told: [] },
    {
      name: 'is told where more is asked for',
      rules: [rule('mark.hint', 'face.page', 7)],
      told: ['token mark.hint on face.page in noon', 'token mark.hint on face.page in dusk'],
    },
    {
      name: 'lies in the ramp where the ink is a step itself',
      rules: [rule('silt.100', 'silt.0')],
      told: ['ramp silt.100 on silt.0 in noon+dusk'],
    },
    {
      name: 'lies in the definition where that has a colour of its own',
      rules: [rule('lamp.red', 'face.page')],
      told: ['token lamp.red on face.page in noon'],
    },
    {
      name: 'is a gap where no step would do',
      rules: [rule('mark.hint', 'silt.200', 7)],
      told: ['gap mark.hint on silt.200 in noon+dusk'],
    },
    { name: 'not declared is none', rules: [rule('mark.main', 'face.deck')], told: [] },
  ])('$name', ({ rules, told }) => {
    expect(faults(...rules)).toEqual(told);
  });

  test('says contrast, need, a step that would do, and the place of the ink', () => {
    const [fault] = messages(declarePairs(graph, [rule('mark.title', 'face.page')]).pairs);
    expect(fault?.message).toBe('mark.title on face.page has a contrast of 3.03 in noon; it needs 4.5. silt.200 would do.');
    expect(fault?.place).toMatch(/^base\.json:\d+$/);
  });

  test('names themes of one contrast together', () => {
    const [fault] = messages(declarePairs(graph, [rule('silt.100', 'silt.0')]).pairs);
    expect(fault?.message).toBe('silt.100 on silt.0 has a contrast of 3.03 in noon and dusk; it needs 4.5. silt.200 would do.');
  });

  test('says so where pages ask more of it than was declared', () => {
    const { pairs } = declarePairs(graph, [rule('mark.title', 'face.page', 3)]);
    const met = [{ ink: 'mark.title', surface: 'face.page', required: 4.5, uses: 2, declared: null }];
    const [fault] = messages(joinPairs(pairs, met));
    expect(fault?.message).toContain('it needs 4.5 at places on pages, though 3 is declared.');
  });
});
