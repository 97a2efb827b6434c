// Declarations found in the text of a style sheet by what the page tells of a rule; where the two do not agree, nothing is told.
import { describe, expect, test } from 'vitest';
import type { WireRule } from '../../runner/page/wire/written.ts';
import { openSheetText } from '../../runner/written/sheet-text.ts';

const TEXT = `@layer base { .quay { color: #111 } }
.quay, .pier {
  color: red; /* ; } */
  COLOR: rgb(1 2 3) ! important;
  --mark:  "}" ;
  & em { color: #222; @media print { color: #333; & b { color: #334 } color: #335 } }
  background: url(a;b);
}
@keyframes .quay { from { color: #444 } }
@media screen { .quay { color: #555 } }`;

const rule = (parts: Partial<WireRule>): WireRule => ({
  sheet: 0,
  text: '',
  layer: '',
  rank: 0,
  order: 0,
  outer: '.quay, .pier',
  nth: 0,
  of: 1,
  steps: [],
  piece: [0, 2],
  values: {},
  ...parts,
});

const found = (parts: Partial<WireRule>): readonly unknown[] | undefined =>
  openSheetText(TEXT)
    ?.declarations(rule(parts))
    ?.map(({ name, value, important, range }) => [name, value, important, range?.startLine, range?.startColumn]);

const em = { kind: 'rule', nth: 0, of: 1 };
const print = { kind: 'media', nth: 0, of: 1 };

describe('found', () => {
  test('before what is nested, and after it', () => {
    expect(found({})).toEqual([
      ['color', 'red', false, 2, 2],
      ['color', 'rgb(1 2 3)', true, 3, 2],
      ['--mark', '"}"', false, 4, 2],
    ]);
    expect(found({ piece: [1, 2] })).toEqual([['background', 'url(a;b)', false, 6, 2]]);
  });

  test('which of those with one selector', () => {
    expect(found({ outer: '.quay', nth: 0, of: 2, piece: [0, 1] })).toEqual([['color', '#111', false, 0, 22]]);
    expect(found({ outer: '.quay', nth: 1, of: 2, piece: [0, 1] })).toEqual([['color', '#555', false, 9, 24]]);
  });

  test('nested, in conditions too', () => {
    expect(found({ steps: [em], piece: [0, 1] })).toEqual([['color', '#222', false, 5, 9]]);
    expect(found({ steps: [em, print], piece: [0, 2] })).toEqual([['color', '#333', false, 5, 37]]);
    expect(found({ steps: [em, print], piece: [1, 2] })).toEqual([['color', '#335', false, 5, 70]]);
    expect(found({ steps: [em, print, em], piece: [0, 1] })).toEqual([['color', '#334', false, 5, 56]]);
  });
});

describe('not told', () => {
  test.each([
    ['the page counts other rules than the text has', { outer: '.quay', nth: 0, of: 1 }],
    ['no such selector', { outer: '.mole' }],
    ['rules that the browser left out stand beside it', { steps: [{ ...em, of: 2 }] }],
    ['no such condition', { steps: [em, { ...print, kind: 'supports' }] }],
    ['other runs of declarations', { piece: [0, 3] }],
  ] as const)('%s', (_, parts) => {
    expect(openSheetText(TEXT)?.declarations(rule(parts))).toBeNull();
  });

  test('text that cannot be read', () => {
    expect(openSheetText('.quay { color: red')).toBeNull();
  });
});
