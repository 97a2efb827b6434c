// The list narrows as the ledger does: every filter and grouping, held against counting by hand.
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { GROUPINGS, STANDINGS } from '../../report-ui/api/list.ts';
import type { ListFilter } from '../../report-ui/api/list.ts';
import { narrow, readIndex } from '../../report-ui/server/finding-index.ts';
import type { FindingIndex, Words } from '../../report-ui/server/finding-index.ts';
import { blocksOf, heightOf, inSight, rowFrom, rowTop } from '../../report-ui/api/list-layout.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { Finding } from '../../src/samples/finding.ts';
import { PAGES, drawnStore } from './report.ts';
import type { Store } from './report.ts';

let store: Store;
let index: FindingIndex;
let words: Words;
let all: readonly Finding[];
beforeAll(async () => {
  store = await drawnStore();
  await using ledger = await openLedger(store.folder, { access: 'read' });
  const run = store.runs[2] ?? '';
  index = await readIndex(ledger, run);
  words = await index.words();
  all = (await ledger.findings(run, { limit: 1_000 })).items;
});
afterAll(() => store.remove());

const maybe = <T>(values: readonly T[]): fc.Arbitrary<T | undefined> => fc.option(fc.constantFrom(...values), { nil: undefined });
const filters: fc.Arbitrary<ListFilter> = fc
  .record({
    status: maybe(STANDINGS),
    page: maybe([...PAGES, 'pier']),
    theme: maybe(['noon', 'dusk', 'regatta']),
    owner: maybe(['web team', 'harbour office', '-']),
    level: maybe(['error', 'warning', 'note'] as const),
    cause: maybe(['cause-faint-dusk', '-']),
    token: maybe(['mark.faint', 'silt.500', 'no.token']),
    find: maybe(['card0', '#56717C', 'skerry']),
  })
  .map((filter) => Object.fromEntries(Object.entries(filter).filter(([, value]) => value !== undefined)));

function byHand(filter: ListFilter): readonly Finding[] {
  const { status = 'open', page, theme, owner, level, cause, token, find } = filter;
  return all.filter(
    (finding) =>
      (status === 'all' || finding.status === status || (status === 'open' && finding.status !== 'exempt')) &&
      (page === undefined || finding.page === page) &&
      (theme === undefined || finding.theme === theme) &&
      (owner === undefined || (finding.owner ?? '-') === owner) &&
      (level === undefined || finding.level === level) &&
      (cause === undefined || (finding.cause ?? '-') === cause) &&
      // The drawn causes all name both.
      (token === undefined || (token !== 'no.token' && finding.cause !== null)) &&
      (find === undefined ||
        `${finding.selector}\n${finding.message}\n${JSON.stringify(finding.measured)}`.toLowerCase().includes(find.toLowerCase())),
  );
}

test('any filter under any grouping has just the findings that pass it', () => {
  expect(all.length).toBeGreaterThan(80);
  fc.assert(
    fc.property(filters, fc.constantFrom(...GROUPINGS), (filter, grouping) => {
      const wanted = byHand(filter);
      const { order, groups, fresh, errors, facets } = narrow(index, filter, grouping, words);
      expect(order).toHaveLength(wanted.length);
      expect(new Set(order).size).toBe(order.length);
      expect(groups.reduce((sum, { count }) => sum + count, 0)).toBe(wanted.length);
      expect(fresh).toBe(wanted.filter(({ status }) => status === 'new').length);
      expect(errors).toBe(wanted.filter(({ level }) => level === 'error').length);
      const themes = new Map(facets.theme);
      for (const [theme, count] of themes) expect(byHand({ ...filter, theme })).toHaveLength(count);
    }),
    { numRuns: 60, seed: 20261128 },
  );
});

test('places in a grouped list: what is in sight covers the window, and keys pass over folded groups', () => {
  const sizes = fc.array(fc.integer({ min: 1, max: 40_000 }), { minLength: 1, maxLength: 20 });
  fc.assert(
    fc.property(sizes, fc.double({ min: 0, max: 1, noNaN: true }), fc.integer({ min: 0, max: 19 }), (counts, at, foldedAt) => {
      const groups = counts.map((count, group) => ({ key: String(group), count }));
      const blocks = blocksOf(groups, new Set([String(foldedAt)]));
      const top = at * heightOf(blocks);
      const { rows } = inSight(blocks, top, 800);
      expect(rows.length).toBeLessThan(40);
      for (const { index: row, topPx, group } of rows) {
        expect(group).not.toBe(foldedAt);
        expect(rowTop(blocks, row)).toBe(topPx);
      }
      const next = rowFrom(blocks, 0, 1);
      if (next >= 0) expect(blocks.find(({ from, count }) => next >= from && next < from + count)?.folded).toBe(false);
    }),
    { numRuns: 200, seed: 20261128 },
  );
});
