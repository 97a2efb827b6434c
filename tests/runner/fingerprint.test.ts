// What is part of a view's fingerprint: whatever its samples follow from. If one of these were left out, a night would take over samples
// of a page that has changed.
import { describe, expect, test } from 'vitest';
import { LIMITS } from '../../runner/tab/limits.ts';
import type { ViewFacts } from '../../runner/visit/fingerprint.ts';
import { fingerprintOf, sameness } from '../../runner/visit/fingerprint.ts';

const FACTS: ViewFacts = {
  wishes: {
    view: {
      id: 'tides@dusk/rest/desk',
      page: 'tides',
      theme: 'dusk',
      state: 'rest',
      viewport: 'desk',
      url: 'http://127.0.0.1:4000/tides',
    },
    theme: { name: 'dusk', tone: 'dark', apply: { class: { on: 'html', add: ['dusk'], remove: [] } }, tokens: {} },
    viewport: { name: 'desk', widthCssPx: 800, heightCssPx: 600, scale: 1 },
    rules: { exempt: ['.crest'], owners: [{ selector: '.tide', owner: 'gauges' }], stay: [], mask: [] },
    dye: ['--face-page'],
    beside: null,
  },
  reader: 'one',
  limits: LIMITS,
  source: { hash: null, text: '<p>High water</p>', lengths: '40' },
  png: Uint8Array.of(1, 2, 3),
};
const wishes = (over: Partial<ViewFacts['wishes']>): Partial<ViewFacts> => ({ wishes: { ...FACTS.wishes, ...over } });
const { view, theme, viewport, rules } = FACTS.wishes;

/** [what changed, how] */
const CHANGED: readonly (readonly [string, Partial<ViewFacts>])[] = [
  ['the picture', { png: Uint8Array.of(1, 2, 4) }],
  ['the document', { source: { ...FACTS.source, text: '<p>Low water</p>' } }],
  ['the document, told by its hash', { source: { ...FACTS.source, hash: 'ab' } }],
  ['the code that reads', { reader: 'two' }],
  ['the height that is read', { limits: { ...LIMITS, heightPx: 90_000 } }],
  ['how the theme is put on', wishes({ theme: { ...theme, apply: { class: { on: 'body', add: ['dusk'], remove: [] } } } })],
  ['the tone of the theme', wishes({ theme: { ...theme, tone: 'light' } })],
  ['the window', wishes({ viewport: { ...viewport, widthCssPx: 390 } })],
  ['the view', wishes({ view: { ...view, id: 'tides@dusk/hover/desk' } })],
  ['what is masked', wishes({ rules: { ...rules, mask: ['.clock'] } })],
  ['what keeps its tone', wishes({ rules: { ...rules, stay: [{ selector: 'nav', tone: 'dark' }] } })],
  ['what is dyed', wishes({ dye: ['--face-page', '--mark-main'] })],
  ['the page that focus is held against', wishes({ beside: 'ab.40.cd' })],
];

/** What samples are judged by, or where things stand: nothing is read anew. */
const JUDGED: readonly (readonly [string, Partial<ViewFacts>, ReturnType<typeof sameness>])[] = [
  ['nothing', {}, { linesMoved: false, marksMoved: false }],
  ['an exemption', wishes({ rules: { ...rules, exempt: [] } }), { linesMoved: false, marksMoved: true }],
  ['an owner', wishes({ rules: { ...rules, owners: [] } }), { linesMoved: false, marksMoved: true }],
  ['the lines of a style sheet', { source: { ...FACTS.source, lengths: '41' } }, { linesMoved: true, marksMoved: false }],
  [
    'the port of the app',
    wishes({ view: { ...view, url: 'http://127.0.0.1:4001/tides' } }),
    { linesMoved: false, marksMoved: false },
  ],
];

describe('a view is read anew where what it follows from has changed', () => {
  const known = fingerprintOf(FACTS);
  test.each(CHANGED)('%s', (_, over) => {
    expect(sameness(known, fingerprintOf({ ...FACTS, ...over }))).toBeNull();
  });

  test.each(JUDGED)('not for %s', (_, over, expected) => {
    expect(sameness(known, fingerprintOf({ ...FACTS, ...over }))).toEqual(expected);
  });

  test('not for lines or marks of the page that focus is held against', () => {
    const beside = (print: string): string => fingerprintOf({ ...FACTS, ...wishes({ beside: print }) });
    expect(beside('ab.41.ce')).toEqual(beside('ab.40.cd'));
    expect(sameness(beside('ab.40.cd'), beside('ac.40.cd'))).toBeNull();
  });

  test('nor is anything taken over where nothing is known', () => {
    expect(sameness(undefined, known)).toBeNull();
    expect(sameness(known, undefined)).toBeNull();
  });
});
