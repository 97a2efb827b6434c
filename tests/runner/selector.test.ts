// Specificity, as the library tells it, by the examples of the standard; one text for selectors however they are written.
import { describe, expect, test } from 'vitest';
import { canonicalSelector, compareWeights, weightOf } from '../../runner/written/selector.ts';

describe('specificity', () => {
  // https://www.w3.org/TR/selectors-4/#specificity-rules: the examples of the section, and those of its list of special cases.
  test.each([
    ['*', [0, 0, 0]],
    ['LI', [0, 0, 1]],
    ['UL LI', [0, 0, 2]],
    ['UL OL+LI', [0, 0, 3]],
    ['H1 + *[REL=up]', [0, 1, 1]],
    ['UL OL LI.red', [0, 1, 3]],
    ['LI.red.level', [0, 2, 1]],
    ['#x34y', [1, 0, 0]],
    ['#s12:not(FOO)', [1, 0, 1]],
    ['.foo :is(.bar, #baz)', [1, 1, 0]],
    [':is(em, #foo)', [1, 0, 0]],
    ['.qux:where(em, #foo#bar#baz)', [0, 1, 0]],
    [':nth-child(even of li, .item)', [0, 2, 0]],
    [':not(em, strong#foo)', [1, 0, 1]],
  ] as const)('%s', (selector, specificity) => {
    expect(weightOf([selector])).toEqual(specificity);
  });

  test('of several is that of the most specific one; of what is no selector there is none', () => {
    expect(weightOf(['p::before', 'p:after', '.a\\:b'])).toEqual([0, 1, 0]);
    expect([weightOf([]), weightOf(['..quay']), weightOf(['p', '..quay'])]).toEqual([null, null, null]);
  });

  test('ids come first, then classes, then types', () => {
    const all = [
      [0, 0, 9],
      [1, 0, 0],
      [0, 2, 0],
      [0, 1, 9],
    ] as const;
    expect(all.toSorted(compareWeights)).toEqual([
      [0, 0, 9],
      [0, 1, 9],
      [0, 2, 0],
      [1, 0, 0],
    ]);
  });
});

describe('one text', () => {
  test.each([
    ['a>b', 'a > b'],
    ['p:before', 'p::before'],
    ['[type=button]', '[type="button"]'],
    ["[type='button' i]", '[type="button" i]'],
    [':nth-child(odd)', ':nth-child(2n+1)'],
    [':nth-child(EVEN)', ':nth-child(2n)'],
    [':nth-child( -n + 3 )', ':nth-child(-n+3)'],
    [':nth-child(4)', ':nth-child(0n+4)'],
    ['*.quay', '.quay'],
    ['a,\n  b', 'a, b'],
    ['a/* tide */ b', 'a b'],
    [':is(.quay,.pier)', ':is(.quay, .pier)'],
    ['&:hover>b', '&:hover > b'],
  ])('%s', (written, told) => {
    expect(canonicalSelector(written)).toBe(canonicalSelector(told));
  });

  test.each([
    ['a b', 'a>b'],
    ['.quay', '.Quay'],
    ['[a="b"]', '[a]'],
    ['[a="b"]', '[a^="b"]'],
    [':nth-child(2n)', ':nth-child(2n+1)'],
    [':is(a)', ':where(a)'],
    ['* a', 'a'],
    ['a, b', 'b, a'],
  ])('another one: %s, %s', (one, other) => {
    expect(canonicalSelector(one)).not.toBe(canonicalSelector(other));
  });
});
