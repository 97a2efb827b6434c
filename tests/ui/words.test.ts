// Numbers as people read them.
import { expect, test } from 'vitest';
import { changeText, percentText, ratioText } from '../../report-ui/web/words.ts';

// derived: cut to two decimals; 2.01, 1.15 and 4.35 are less than they say in binary (2.01 × 100 = 200.999…)
test.each([
  [4.499, '4.49:1'],
  [4.5, '4.50:1'],
  [2.01, '2.01:1'],
  [1.15, '1.15:1'],
  [4.35, '4.35:1'],
  [21, '21.00:1'],
] as const)('%d is %s', (ratio, text) => {
  expect(ratioText(ratio)).toBe(text);
});

test('a share is never said to be more than it is', () => {
  expect(percentText(0.9999)).toBe('99.9 %');
  expect(percentText(0.29)).toBe('29.0 %');
});

test('what a repair does is said of what it changes: a step, a token, the numbers of a built colour', () => {
  const value = { change: 'value', of: 'a', from: '#111111', to: '#222222', themes: [], fixes: 1, breaks: 0 } as const;
  const said = (layer: 'ramp' | 'token', more: object = {}): string => changeText({ layer, repair: { ...value, ...more } });
  expect([said('ramp'), said('token'), said('token', { components: [{ property: '--l', from: '34%', to: '53%' }] })]).toEqual([
    'Give the step another colour',
    'Give the token another colour',
    'Give its properties other numbers',
  ]);
  expect(changeText({ layer: 'usage', repair: { ...value, change: 'use' } })).toBe('Use another token here');
});
