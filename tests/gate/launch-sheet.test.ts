// The launch sheet, as a document and as a file, whole: worked out by hand from the verdict below.
import { expect, test } from 'vitest';
import { FORMS } from '../../src/gate/forms/table.ts';
import { sheetDocument } from '../../src/gate/forms/sheet-document.ts';
import type { SheetDocument } from '../../src/gate/forms/sheet-document.ts';
import { exemptionStanding } from '../../src/gate/exemption-standing.ts';
import type { GateVerdict } from '../../src/gate/verdict.ts';
import { cause, facts, finding, findings } from './facts.ts';

const TODAY = '2031-04-09';
const met = { met: true, distance: 0, step: '', links: [] };
const standings = [
  { selector: '.old', why: 'drawn <by> hand', owner: 'survey', until: '2031-04-01', checks: ['glow'], covers: 2 },
  { selector: '.soon', why: 'w', until: '2031-04-12', covers: 1 },
  { selector: '.late', why: 'w', until: '2032-04-12', covers: 0 },
  { selector: '.ever', why: 'w', covers: null },
].map((exemption) => exemptionStanding(exemption, TODAY));
const ENDING = 'The exemption of .soon ends in 3 days (2031-04-12).';
const IDLE = 'The exemption of .late covers no finding of this run any more; take it out.';

const verdict: GateVerdict = {
  theme: 'dusk & dawn',
  run: facts().run,
  today: TODAY,
  may: false,
  criteria: [
    {
      ...{ id: 'glow', name: 'Glow', met: false, needed: 'none', found: '2 findings', distance: 1, step: 'mend 1 cause' },
      links: [
        { kind: 'cause', id: 'many', label: 'ramp: silt.600' },
        { kind: 'cause', id: 'few', label: 'ramp: silt.600' },
      ],
    },
    { ...{ id: 'p', name: 'Pages', met: false, needed: 'all 2', found: '1 missing', distance: 1, step: 'run again' }, links: [] },
    { id: 'coverage', name: 'Colours through tokens', needed: 'at least 90.0 %', found: '95.0 %', ...met },
  ],
  counts: { new: 1, known: 12, exempt: 3, gone: 5 },
  exemptions: standings,
  notAsked: ['1 check switched off: neon.'],
  warnings: [ENDING, IDLE, '1 view moved.'],
  since: 'night-5',
  causes: [cause('idle', { why: 'a' }), cause('few', { why: 'b' }), cause('many', { why: '<c>' })],
  findings: [finding('x'), finding('f', { cause: 'few' }), ...findings('m', 2, { cause: 'many' })],
};

const SHEET: SheetDocument = {
  theme: 'dusk & dawn',
  may: false,
  headline: 'dusk & dawn may not launch yet: 2 of 3 criteria are open',
  notAsked: ['1 check switched off: neon.'],
  facts: [
    { name: 'Run', value: 'night-7' },
    { name: 'Rendered', value: '2031-04-09 02:11 UTC' },
    { name: 'Judged', value: '2031-04-09' },
    { name: 'New', value: '1' },
    { name: 'Known', value: '12' },
    { name: 'Exempt', value: '3' },
    { name: 'Gone', value: '5' },
  ],
  open: [
    {
      ...{ name: 'Glow', needed: 'none', found: '2 findings', step: 'mend 1 cause' },
      link: { kind: 'cause', id: 'many', label: 'ramp: silt.600' },
    },
    { name: 'Pages', needed: 'all 2', found: '1 missing', step: 'run again', link: null },
  ],
  holds: [{ name: 'Colours through tokens', found: '95.0 %', needed: 'at least 90.0 %' }],
  // What is worth most comes first.
  causes: [
    { id: 'many', title: 'ramp: silt.600', findings: 2, why: '<c>' },
    { id: 'few', title: 'ramp: silt.600', findings: 1, why: 'b' },
    { id: 'idle', title: 'ramp: silt.600', findings: 0, why: 'a' },
  ],
  exemptions: [
    {
      ...{ scope: '.old (glow)', why: 'drawn <by> hand', owner: 'survey', until: '2031-04-01, over', over: true },
      covers: '2 findings',
    },
    { scope: '.soon', why: 'w', owner: 'nobody', until: '2031-04-12, soon', over: false, covers: '1 finding' },
    { scope: '.late', why: 'w', owner: 'nobody', until: '2032-04-12', over: false, covers: 'nothing' },
    { scope: '.ever', why: 'w', owner: 'nobody', until: 'no end', over: false, covers: 'the next run tells' },
  ],
  // What the table of exemptions says is not said again.
  warnings: ['1 view moved.'],
  more: { notAsked: 0, causes: 0, exemptions: 0, warnings: 0 },
  signOff: ['Design', 'Engineering', 'Product'],
  foot: 'gloam 0.1.0, Chromium 156, compared with run night-5',
};

const documentOf = (given: GateVerdict): SheetDocument =>
  sheetDocument(given, {
    worth: new Map([
      ['many', 2],
      ['few', 1],
    ]),
    version: '0.1.0',
  });

test('the sheet as a document', () => {
  expect(documentOf(verdict)).toEqual(SHEET);
});

test('what fits on one side is shown, the rest is counted', () => {
  const words = (count: number): readonly string[] => Array.from({ length: count }, (_, i) => `w${String(i + 1)}`);
  const long = documentOf({
    ...verdict,
    run: { ...verdict.run, finishedAt: null },
    since: null,
    notAsked: words(5),
    warnings: words(6),
    causes: words(8).map((id) => cause(id)),
    exemptions: words(10).map((selector) => exemptionStanding({ selector, why: 'w', covers: 1 }, TODAY)),
  });
  // derived: 4, 4, 5 and 6 are shown
  expect([long.notAsked, long.warnings]).toEqual([words(4), words(4)]);
  expect(long.causes.map(({ id }) => id)).toEqual(words(5));
  expect(long.exemptions.map(({ scope }) => scope)).toEqual(words(6));
  expect(long.more).toEqual({ notAsked: 1, warnings: 2, causes: 3, exemptions: 4 });
  expect(long.facts[1]).toEqual({ name: 'Rendered', value: '2031-04-09 02:00 UTC' });
  expect(long.foot).toBe('gloam 0.1.0, Chromium 156');
});

const linesOf = (given: readonly GateVerdict[], report: string | null): readonly string[] =>
  FORMS.sheet
    .write({ verdicts: given, version: '0.1.0', report, folder: '/harbour' })
    // What it looks like is judged by eye.
    .replace(/<style>[^<]+<\/style>/, '<style>…</style>')
    .split('\n');

const HEAD = (themes: string): readonly string[] => [
  '<!doctype html>',
  '<html lang="en">',
  '<head>',
  '<meta charset="utf-8">',
  '<meta name="viewport" content="width=device-width, initial-scale=1">',
  `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
  `<title>Launch sheet: ${themes}</title>`,
  '<style>…</style>',
  '</head>',
  '<body>',
];
const SIGNED = [
  '<section class="sign">',
  '<h2>Signed for</h2>',
  '<table>',
  '<thead><tr><th scope="col"></th><th scope="col">Name</th><th scope="col">Date</th><th scope="col">Signature</th></tr></thead>',
  '<tbody><tr><th scope="row">Design</th><td></td><td></td><td></td></tr><tr><th scope="row">Engineering</th><td></td><td></td><td></td></tr><tr><th scope="row">Product</th><td></td><td></td><td></td></tr></tbody>',
  '</table>',
  '</section>',
];
const factLines = (...values: readonly string[]): readonly string[] => [
  '<dl>',
  ...['Run', 'Rendered', 'Judged', 'New', 'Known', 'Exempt', 'Gone'].map(
    (name, i) => `<div><dt>${name}</dt><dd>${values[i] ?? ''}</dd></div>`,
  ),
  '</dl>',
];
const AT = 'http://127.0.0.1:4807/#/causes?run=night-7&#38;cause=';

test('the sheet as a file: every text is escaped, a number keeps its per cent sign, links lead to the report', () => {
  expect(linesOf([verdict], 'http://127.0.0.1:4807')).toEqual([
    ...HEAD('dusk &#38; dawn'),
    '<main>',
    '<header>',
    '<p class="kind">Launch sheet</p>',
    '<h1>dusk &#38; dawn</h1>',
    '<p>Not asked:</p>',
    '<ul><li>1 check switched off: neon.</li></ul>',
    '<p class="verdict no">dusk &#38; dawn may not launch yet: 2 of 3 criteria are open</p>',
    '</header>',
    ...factLines('night-7', '2031-04-09 02:11 UTC', '2031-04-09', '1', '12', '3', '5'),
    '<section class="open">',
    '<h2>Open, nearest first</h2>',
    '<table>',
    '<thead><tr><th scope="col">Criterion</th><th scope="col">Needed</th><th scope="col">Found</th></tr></thead>',
    `<tbody><tr><th scope="row">Glow</th><td>none</td><td>2 findings<small><a href="${AT}many">mend 1 cause</a></small></td></tr>` +
      '<tr><th scope="row">Pages</th><td>all 2</td><td>1 missing<small>run again</small></td></tr></tbody>',
    '</table>',
    '</section>',
    '<section class="holding">',
    '<h2>Holds</h2>',
    '<ul><li><b>Colours through tokens</b> 95.0\u00a0% <span>(needed: at least 90.0\u00a0%)</span></li></ul>',
    '</section>',
    '<section>',
    '<h2>What lies behind the findings</h2>',
    `<ul><li><b><a href="${AT}many">ramp: silt.600</a></b> 2 findings. &#60;c&#62;</li>` +
      `<li><b><a href="${AT}few">ramp: silt.600</a></b> 1 finding. b</li>` +
      `<li><b><a href="${AT}idle">ramp: silt.600</a></b> 0 findings. a</li></ul>`,
    '</section>',
    '<section>',
    '<h2>Exemptions</h2>',
    '<table>',
    '<thead><tr><th scope="col">What</th><th scope="col">Why</th><th scope="col">Who answers</th><th scope="col">Until</th><th scope="col">Covers</th></tr></thead>',
    '<tbody><tr class="no"><td>.old (glow)</td><td>drawn &#60;by&#62; hand</td><td>survey</td><td>2031-04-01, over</td><td>2 findings</td></tr>' +
      '<tr class="yes"><td>.soon</td><td>w</td><td>nobody</td><td>2031-04-12, soon</td><td>1 finding</td></tr>' +
      '<tr class="yes"><td>.late</td><td>w</td><td>nobody</td><td>2032-04-12</td><td>nothing</td></tr>' +
      '<tr class="yes"><td>.ever</td><td>w</td><td>nobody</td><td>no end</td><td>the next run tells</td></tr></tbody>',
    '</table>',
    '</section>',
    '<section>',
    '<h2>Mind</h2>',
    '<ul><li>1 view moved.</li></ul>',
    '</section>',
    ...SIGNED,
    '<footer>gloam 0.1.0, Chromium 156, compared with run night-5</footer>',
    '</main>',
    '</body>',
    '</html>',
    '',
  ]);
});

test('a theme that may launch has nothing but what holds; without a report there are no links; what is left out is counted', () => {
  const yes: GateVerdict = {
    ...{ ...verdict, theme: 'stark', may: true, criteria: verdict.criteria.slice(2), since: null },
    ...{ exemptions: [], notAsked: [], warnings: [], causes: [], findings: [] },
    counts: { new: 0, known: 0, exempt: 0, gone: 0 },
  };
  const lines = linesOf([yes, verdict], null);
  const end = lines.indexOf('</main>') + 1;
  expect(lines.slice(0, end)).toEqual([
    ...HEAD('stark, dusk &#38; dawn'),
    '<main>',
    '<header>',
    '<p class="kind">Launch sheet</p>',
    '<h1>stark</h1>',
    '<p class="verdict yes">stark may launch</p>',
    '</header>',
    ...factLines('night-7', '2031-04-09 02:11 UTC', '2031-04-09', '0', '0', '0', '0'),
    '<section class="holding">',
    '<h2>Holds</h2>',
    '<ul><li><b>Colours through tokens</b> 95.0\u00a0% <span>(needed: at least 90.0\u00a0%)</span></li></ul>',
    '</section>',
    ...SIGNED,
    '<footer>gloam 0.1.0, Chromium 156</footer>',
    '</main>',
  ]);
  expect(lines.slice(end).join('\n')).toContain('<small>mend 1 cause</small>');
  expect(lines.slice(end).join('\n')).not.toContain('<a ');

  const many = { ...verdict, exemptions: Array.from({ length: 8 }, () => standings[3]).flatMap((one) => one ?? []) };
  const more = linesOf([{ ...many, notAsked: ['a', 'b', 'c', 'd', 'e'] }], null);
  expect(more).toContain('<p>2 more: gloam exempt lists them all.</p>');
  const seven = { ...many, exemptions: many.exemptions.slice(1) };
  expect(linesOf([seven], null)).toContain('<p>1 more: gloam exempt lists them all.</p>');
  const two = {
    ...yes,
    criteria: [...yes.criteria, { ...yes.criteria[0], id: 'x', name: 'Pages', found: 'all', needed: 'all', ...met }],
  };
  expect(linesOf([two], null)).toContain(
    '<ul><li><b>Colours through tokens</b> 95.0\u00a0% <span>(needed: at least 90.0\u00a0%)</span></li><li><b>Pages</b> all <span>(needed: all)</span></li></ul>',
  );
  expect(more).toContain('<ul><li>a</li><li>b</li><li>c</li><li>d</li><li>1 more</li></ul>');
});
