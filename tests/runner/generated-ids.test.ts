// Ids that are another one at each load, and ids that are counted.
import { describe, expect, test } from 'vitest';
import { isCounted, isNumbered, isRandom, openGeneratedIds } from '../../runner/page/scene/generated-ids.ts';

describe('ids', () => {
  test.each([
    // Nine letters in base 36 behind the name of the library.
    ['mantine-rppchy6py', true, true],
    ['mantine-hhjfypqas-title', true, true],
    ['3n4uqaemk', true, true],
    ['hs9wbxxhb', true, true],
    // RFC 9562, Appendix A.3: version 4.
    ['919108f7-52d1-4320-9bac-f847db4148a8', true, true],
    ['quay-1234', false, true],
    ['tide-2026-11', false, true],
    // Counted by frameworks.
    ['radix-:r1:', false, true],
    [':r1:', false, true],
    ['«r1»', false, true],
    ['field-:r3:-label', false, true],
    ['_r_1_', false, true],
    // By authors.
    ['section2content', false, false],
    ['h1title', false, false],
    ['strengths', false, false],
    ['catchphrase', false, false],
    ['station12', false, false],
    ['col-md-6', false, false],
    ['tab-units', false, false],
    ['b3', false, false],
  ] as const)('%s', (id, random, counted) => {
    expect([isRandom(id), isCounted(id)]).toEqual([random, counted]);
  });
});

test('random ids and what refers to them are called by their order', () => {
  const page = (one: string, other: string): string =>
    `<p id="${one}">Level</p><label for="${other}">Quay</label><input id="${other}" aria-describedby="${one}-none note" class="card_8fb7ebe7"><a href="#${one}">`;
  const plain = (one: string, other: string): string => openGeneratedIds([one, 'note', other])(page(one, other));
  expect(plain('x7k2m9qa', '4hd83kdo')).toBe(plain('p0q1m2zz', 'b3f9a2c1'));
  expect(plain('x7k2m9qa', '4hd83kdo')).toContain('<p id="random-1">Level</p><label for="random-2">');
  // What refers to nothing as well; classes tell which rules hold, and stay.
  expect(plain('x7k2m9qa', '4hd83kdo')).toContain('aria-describedby="random-1-none note" class="card_8fb7ebe7"');
  expect(plain('level', 'quay')).toBe(page('level', 'quay'));
});

test.each([
  ['field-446', true],
  ['field-446-hint', true],
  ['listbox3', true],
  ['input-0', true],
  ['h1title', false],
  ['berth-2b', false],
  ['level', false],
] as const)('whether a counter may have numbered %s', (id, numbered) => {
  expect(isNumbered(id)).toBe(numbered);
});

test('ids that components count up are called by their order, and those of the author as they are', () => {
  const page = (one: number, other: number): string =>
    `<i id="step-1"></i><label for="field-${String(one)}">Level</label><input id="field-${String(one)}" aria-describedby="field-${String(one)}-hint"><input id="field-${String(other)}">`;
  const plain = (one: number, other: number): string => {
    const fields = [`field-${String(one)}`, `field-${String(other)}`];
    return openGeneratedIds(['step-1', ...fields], new Set(fields))(page(one, other));
  };
  expect(plain(0, 1)).toBe(plain(7, 3));
  expect(plain(0, 1)).toContain('<i id="step-1"></i><label for="counted-1">');
  expect(plain(0, 1)).toContain('aria-describedby="counted-1-hint"><input id="counted-2">');
});
