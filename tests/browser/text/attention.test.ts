// What lies beneath a modal layer is not judged; the layer is; what only looks like a layer changes nothing.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { TextSample } from '../../../src/samples/sample.ts';
import type { Harbour } from '../session/harness.ts';
import { renderAll, serve, texts } from '../session/harness.ts';
import type { LayerCase } from './attention.table.ts';
import { MODAL_LAYERS, NO_LAYERS } from './attention.table.ts';
import { differences } from './sheet.ts';

const TABLES: Readonly<Record<string, readonly LayerCase[]>> = { layer: MODAL_LAYERS, 'look-alike': NO_LAYERS };
const pageOf = ({ html, css = '' }: LayerCase): string =>
  `<!doctype html><title>Layers</title><style>body{font:20px/24px 'DejaVu Sans','Liberation Sans',sans-serif;color:#000}${css}</style><body>${html}`;

let harbour: Harbour;
const measured = new Map<string, readonly TextSample[]>();

beforeAll(async () => {
  const pages = Object.entries(TABLES).flatMap(([table, cases]) =>
    cases.map((one, n) => [`/${table}-${String(n)}`, pageOf(one)] as const),
  );
  harbour = await serve(Object.fromEntries(pages));
  const results = await renderAll({ origin: harbour.origin, paths: pages.map(([path]) => path) });
  for (const result of results) measured.set(result.view.page, texts(result));
});
afterAll(() => harbour.close());

for (const [table, cases] of Object.entries(TABLES)) {
  describe(table, () => {
    for (const [n, one] of cases.entries()) {
      test(`${one.name} (${String(n)})`, () => {
        expect(differences(one, measured.get(`${table}-${String(n)}`) ?? []), one.source).toEqual([]);
      });
    }
  });
}
