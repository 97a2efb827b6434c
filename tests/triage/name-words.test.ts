import { expect, test } from 'vitest';
import { kindsIn, mayServeAs, wordsIn } from '../../src/triage/cases/name-words.ts';

// Names of our own in the forms that style sheets have; common practice.
test.each([
  ['--pier-menu-border-color', 'surface', false],
  ['--pier-menu-border-color', 'edge', true],
  ['--pier-menu-border-color', 'ring', true],
  ['--pier-menu-hover-background-color', 'surface', true],
  ['--pier-menu-hover-background-color', 'ink', false],
  // The last word that says anything: the line of a surface.
  ['surface.outline', 'surface', false],
  ['surface.outline', 'edge', true],
  ['menuTextColor', 'glyph', true],
  ['--kit-color-weak-bdr', 'edge', true],
  ['--kit-color-weak-bdr', 'ink', false],
  ['menuTextColor', 'surface', false],
  ['card.shadow', 'shadow', true],
  ['card.shadow', 'surface', false],
  // Nothing is said, or within another word only.
  ['tray.quiet', 'surface', true],
  ['tray.quiet', 'ink', true],
  ['context.facets', 'ink', true],
] as const)('%s as %s: %s', (path, role, may) => {
  expect(mayServeAs(role, path)).toBe(may);
});

test.each([
  ['--theme-soft-text', []],
  ['--track-fill', []],
  ['--navy', []],
  ['--graphite', []],
  ['--th-fill', ['table']],
  ['--table-head', ['table']],
  ['--nav-face', ['navigation']],
  ['--graph-line', ['chart']],
])('%s speaks of %j', (name, kinds) => {
  expect(kindsIn(wordsIn(name))).toEqual(kinds);
});
