// Of the rules that the browser lists the one that wins: also where it has no text of a rule, as of some that scripts put in.
import { expect, test } from 'vitest';
import type { MatchedProperty, MatchedRule } from '../../runner/driver/page-driver.ts';
import { winnerOf } from '../../runner/written/cascade.ts';

const IN_TEXT = { startLine: 0, startColumn: 0 };

function rule(text: string, cssProperties: readonly MatchedProperty[]): MatchedRule {
  return { rule: { origin: 'regular', selectorList: { text }, style: { styleSheetId: '1', cssProperties } } };
}

test('a rule without a place in the text wins as one that has it', () => {
  const rules = [
    rule('.gauge', [{ name: 'color', value: '#123', range: IN_TEXT }]),
    rule('.gauge', [{ name: 'color', value: 'var(--ink)' }]),
  ];
  expect(winnerOf({ rules, inline: null, attributes: null }, 'color')).toMatchObject({ value: 'var(--ink)', range: null });
});

test('what a shorthand stands for counts where the text has none of it, unless its value is not told', () => {
  const border = [
    { name: 'border-top-color', value: '' },
    { name: 'border-left-color', value: '#246' },
  ];
  expect(winnerOf({ rules: [rule('.gauge', border)], inline: null, attributes: null }, 'border-top-color')).toBeNull();
  expect(winnerOf({ rules: [rule('.gauge', border)], inline: null, attributes: null }, 'border-left-color')).toMatchObject({
    value: '#246',
  });
});

test('where the text has the rule, only what stands in it counts', () => {
  const both = [
    { name: 'border', value: '1px solid #246', range: IN_TEXT },
    { name: 'border-top-color', value: '#246' },
  ];
  expect(winnerOf({ rules: [rule('.gauge', both)], inline: null, attributes: null }, 'border-top-color')).toMatchObject({
    name: 'border',
  });
});
