// Notes of a view: each code's meaning is what gate, runner and judge decide by; its words are for people alone.
import { expect, test } from 'vitest';
import { openComparer } from '../../src/cli/run/compare-views.ts';
import { judgeGroups } from '../../src/cli/run/judge-groups.ts';
import { validateConfiguration } from '../../src/config/read-configuration.ts';
import { gateFactsReader } from '../../src/gate/from-ledger.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { Note, NoteCode, NoteOf } from '../../src/samples/note.ts';
import { meaningOf, NOTE_CODES, noteWords } from '../../src/samples/note-words.ts';
import type { NoteMeaning } from '../../src/samples/note-words.ts';
import { openSecondLook } from '../../src/cli/run/second-look.ts';
import { Stopwatch } from '../../runner/tab/stopwatch.ts';
import { captured, newRun, planOf, storeNight } from '../ledger/synthetic-run.ts';
import { tempFolder } from '../ledger/temp-folder.ts';

type Row<C extends NoteCode> = readonly [meaning: NoteMeaning, note: NoteOf<C>, words: string];

const ALL: { readonly [C in NoteCode]: Row<C> } = {
  'never-loaded': ['moving', { code: 'never-loaded', data: {} }, 'the page never finished loading'],
  grows: ['unread', { code: 'grows', data: {} }, 'the page grows as it is scrolled; captured as far as it had grown'],
  'no-answer': ['moving', { code: 'no-answer', at: '/tide.json', data: {} }, 'no answer yet: /tide.json'],
  'animated-again': ['moving', { code: 'animated-again', data: {} }, 'animations that start again and again'],
  'picture-loading': ['moving', { code: 'picture-loading', at: '/quay.png', data: {} }, 'picture still loading: /quay.png'],
  'fonts-loading': ['moving', { code: 'fonts-loading', data: {} }, 'fonts still loading'],
  'keeps-changing': ['moving', { code: 'keeps-changing', at: '#clock', data: {} }, '#clock keeps changing'],
  'still-loading': [
    'loading',
    { code: 'still-loading', at: 'p "Loading …"', data: {} },
    'the page still says that it is loading: p "Loading …"',
  ],
  unanswered: ['loading', { code: 'unanswered', at: '/tide.json', data: {} }, 'the app has not answered yet: /tide.json'],
  'asks-password': [
    'asking',
    { code: 'asks-password', data: {} },
    'all it shows is a form that asks for a password, though the run is signed in: the page itself, or a session that ran out',
  ],
  retried: [
    'tries',
    { code: 'retried', data: { errors: ['it hung', 'it crashed'] } },
    'only try 3 came; before: it hung; it crashed',
  ],
  'canvas-moves': [
    'remark',
    { code: 'canvas-moves', data: { rect: [10, 20, 300, 150] } },
    'a canvas moves for ever at 10, 20 px (300 × 150 px); its pixels are not compared',
  ],
  'cut-off': [
    'unread',
    { code: 'cut-off', data: { heightCssPx: 90_000, capturedCssPx: 16_384 } },
    'the page is 90000 px high; only its first 16384 px were captured',
  ],
  'frame-unread': [
    'unread',
    { code: 'frame-unread', at: 'https://chart.example/', data: {} },
    'a frame of another origin was not looked into: https://chart.example/',
  ],
  'frame-refused': [
    'unread',
    { code: 'frame-refused', at: 'https://chart.example/', data: {} },
    'a frame shows nothing of its own, since it did not come or may not be framed: https://chart.example/',
  ],
  'browser-lacks': [
    'unread',
    { code: 'browser-lacks', data: { what: 'generated-text' } },
    'this browser cannot be asked where generated text (::before, ::after, markers) lies: it was not measured',
  ],
  'sheet-unread': [
    'unread',
    { code: 'sheet-unread', at: 'https://chart.example/a.css', data: {} },
    'the style sheet https://chart.example/a.css of another origin cannot be read: what it declares is not traced',
  ],
  'properties-untraced': [
    'unread',
    { code: 'properties-untraced', data: { traced: 900, of: 1200 } },
    'only 900 of 1200 custom properties were traced',
  ],
  'not-worn': ['remark', { code: 'not-worn', at: '#dial', data: {} }, 'nothing found at #dial: the change is not tried there'],
  'left-behind': [
    'remark',
    { code: 'left-behind', data: { difference: 'its pixels at 4, 8 px' } },
    'switched in place the theme shows otherwise than on a fresh load (its pixels at 4, 8 px): the switch leaves something behind, or the page is another on each load; its themes are loaded one by one',
  ],
  'nothing-interactive': ['remark', { code: 'nothing-interactive', data: {} }, 'nothing on the page is interactive'],
  'no-reference': [
    'compared',
    { code: 'no-reference', data: { reference: 'noon' } },
    'not compared with noon: that view was not captured, so flipped, unthemed and separation compare nothing',
  ],
  'not-compared': [
    'compared',
    { code: 'not-compared', data: { reference: 'noon', places: 5, of: 9, selectors: 4, first: ['#a', '#b', '#c'] } },
    'not compared with noon: 5 of 9 places, which flipped, unthemed and separation could not find there: #a, #b, #c …',
  ],
  told: ['remark', { code: 'told', data: { text: 'fonts still loading' } }, 'fonts still loading'],
};

test.each(Object.values(ALL))('%s: $code', (meaning, note: Note, words) => {
  expect(meaningOf(note)).toBe(meaning);
  expect(noteWords(note)).toBe(words);
});

test('every code has its row here', () => {
  expect([...NOTE_CODES].sort()).toEqual(Object.keys(ALL).sort());
});

test('the gate takes trouble and further tries from codes, whatever the words', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(folder.path, { access: 'own' });
  const notes = Object.values(ALL).map(([, note]): Note => note);
  const [first] = planOf();
  if (first === undefined) throw new Error('the plan has views');
  await storeNight(ledger, { run: { id: 'n1', views: [first] }, result: (view) => captured(view, { notes }) });
  const facts = await gateFactsReader(
    ledger,
    { pages: { kind: 'list', pages: [] }, checks: {}, states: [] },
    await ledger.run('n1'),
  );
  const { views } = await facts({ theme: first.theme, since: null, today: '2031-03-04', sets: null, exemptions: [] });
  expect(views[0]).toMatchObject({
    trouble:
      'the page never finished loading; no answer yet: /tide.json; animations that start again and again; picture still loading: /quay.png; fonts still loading; #clock keeps changing',
    unsteady: 'only try 3 came; before: it hung; it crashed',
  });
});

test('what an earlier run said of the comparison is not taken over with its view', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(folder.path, { access: 'own' });
  const configuration = validateConfiguration('/harbour/gloam.config.json', {
    app: { url: 'http://127.0.0.1:1' },
    pages: ['/'],
    themes: { noon: { tone: 'light' }, dusk: { tone: 'dark' } },
  });
  const views = planOf(['station-list']);
  const run = await ledger.beginRun(newRun({ id: 'n1', views }));
  const today = '2031-03-04';
  const comparer = await openComparer(ledger, run, { configuration, sets: ['main'], today });
  const secondLook = openSecondLook([], []);
  const judge = judgeGroups({ configuration, pages: [], views, ledger, run, today, comparer, secondLook, watch: new Stopwatch() });
  const stale = [ALL['no-reference'][1], ALL['not-compared'][1], ALL['frame-unread'][1]];
  for (const view of views) await judge.take(captured(view, { notes: stale }));
  await judge.rest();
  const { items } = await ledger.views(run);
  expect(items.map(({ notes }) => notes.map(({ code }) => code))).toEqual(views.map(() => ['frame-unread']));
});
