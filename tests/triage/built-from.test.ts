// Which properties a colour is said to be built from. Derived: by CSS Custom Properties 1 §3, a fallback is used where the property named
// first has no value.
import { expect, test } from 'vitest';
import { builtFrom } from '../../src/triage/tell/built-from.ts';

test.each([
  ['a function', ['hsl(var(--h) var(--s) 35%)'], ['--h', '--s']],
  ['a function behind a reference', ['var(--level)', 'hsl(var(--h) 60% 30%)'], ['--h']],
  ['a value that is written out behind a reference with a fallback', ['var(--level, var(--sheet))', '#fdfdf8'], []],
  ['a function as a fallback that is not used', ['var(--level, hsl(var(--h) 60% 30%))', '#fdfdf8'], []],
  ['a function as a fallback that is used', ['var(--none, hsl(var(--h) 60% calc(2 * var(--l))))'], ['--h', '--l']],
  ['a property as a fallback', ['var(--none, var(--level))', '#fdfdf8'], []],
] as const)('%s', (_says, [first, second], names) => {
  const hops = second === undefined ? [] : [{ property: '--level', value: second, rule: '.pinned' }];
  expect(builtFrom([{ property: 'background-color', value: first, rule: '.card' }, ...hops])).toEqual(names);
});
