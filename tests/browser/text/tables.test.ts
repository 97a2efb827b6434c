// Every case of the tables, measured in the real browser; many on one page.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Note } from '../../../src/samples/note.ts';
import type { TextSample } from '../../../src/samples/sample.ts';
import type { Harbour } from '../session/harness.ts';
import { captured, renderAll, serve, texts } from '../session/harness.ts';
import type { Case } from './case.ts';
import { EFFECTS } from './effects.table.ts';
import { KINDS } from './kinds.table.ts';
import { LAYERS } from './layers.table.ts';
import { PICTURES } from './pictures.table.ts';
import { differences, samplesOfCase, sheetOf } from './sheet.ts';
import { VISIBILITY } from './visibility.table.ts';
import { WRITINGS } from './writing.table.ts';

const TABLES: Readonly<Record<string, readonly Case[]>> = {
  layers: LAYERS,
  pictures: PICTURES,
  effects: EFFECTS,
  kinds: KINDS,
  visibility: VISIBILITY,
  writing: WRITINGS,
};

const measured = new Map<string, readonly TextSample[]>();
const notes = new Map<string, readonly Note[]>();
let harbour: Harbour;

beforeAll(async () => {
  harbour = await serve(Object.fromEntries(Object.entries(TABLES).map(([name, cases]) => [`/${name}`, sheetOf(cases)])));
  const results = await renderAll({ origin: harbour.origin, paths: Object.keys(TABLES).map((name) => `/${name}`) });
  for (const result of results) {
    measured.set(result.view.page, texts(result));
    notes.set(result.view.page, captured(result).notes);
  }
});
afterAll(() => harbour.close());

for (const [table, cases] of Object.entries(TABLES)) {
  describe(table, () => {
    test('the page came to rest', () => {
      expect(notes.get(table)).toEqual([]);
    });
    for (const [n, one] of cases.entries()) {
      test(`${one.name} (${table} ${String(n)})`, () => {
        expect(differences(one, samplesOfCase(measured.get(table) ?? [], n)), one.source).toEqual([]);
      });
    }
  });
}
