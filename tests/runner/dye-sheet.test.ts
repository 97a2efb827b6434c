// The sheet that gives custom properties other colours on a page that goes on to be read.
import { expect, test } from 'vitest';
import { dyeSheet, recoloredSheet } from '../../runner/origins/dye-sheet.ts';
import type { WireProperty } from '../../runner/page/wire/dye.ts';

const INK: WireProperty = { name: '--ink', kind: 'color', value: '#102030', declared: true, leaf: true, rootOnly: false };

// CSS Pseudo-Elements 4 §2.2: a rule for first letters makes boxes of them, which parts the text.
test('what stays on reaches generated boxes and markers, but no first lines and letters', () => {
  const sheet = recoloredSheet([[INK, '#4b8fea']]);
  expect(sheet).toContain('--ink:#4b8fea!important');
  for (const reached of [':host', '*', '::before', '::after', '::marker', '::placeholder', '::backdrop'])
    expect(sheet.slice(0, sheet.indexOf('{')).split(',')).toContain(reached);
  expect(sheet).not.toContain('first-l');
  expect(dyeSheet([[1, INK]])).toContain('first-line');
});
