// What a run came to is stored when it ends. It says what the findings say, and what the findings say where it cannot be trusted.
import { expect, test } from 'vitest';
import type { Finding } from '../../src/samples/finding.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { changeRows, storeIn } from './store-in.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { FindingEntry, GoneCount, RunTally } from '../../src/ledger/records.ts';
import type { View } from '../../src/samples/view.ts';
import { draft, entry, newRun, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const places = (view: View): readonly FindingEntry[] =>
  Array.from({ length: 1 + (view.id.length % 4) }, (_, place) => ({
    ...entry(view, draft(place)),
    ...(place === 1 ? { exempt: 'known to the harbour office' } : {}),
  }));

/** Counted by hand from the list of findings, by what both ways of counting tell apart. */
function byHand(findings: readonly Finding[], keyOf: (finding: Finding) => readonly unknown[]): Readonly<Record<string, number>> {
  const sums: Record<string, number> = {};
  for (const finding of findings) {
    const key = JSON.stringify(keyOf(finding));
    sums[key] = (sums[key] ?? 0) + 1;
  }
  return sums;
}

async function told(ledger: Ledger, run: string): Promise<{ readonly tally: RunTally; readonly gone: readonly GoneCount[] }> {
  return { tally: await ledger.tally(run), gone: await ledger.countGone(run) };
}

test('the sums of a run are those of its findings, stored or counted anew', async () => {
  await using folder = await tempFolder();
  {
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' }, findings: (view) => [...places(view), entry(view, draft(9))] });
    await storeNight(ledger, { run: { id: 'n2' }, findings: places });
  }
  await using ledger = await openLedger(storeIn(folder.path), { access: 'edit' });
  const { items } = await ledger.findings('n2', { limit: 1000 });
  const stored = await told(ledger, 'n2');
  const { tally, gone } = stored;
  const inPlaces = tally.places.map(({ page, theme, level, status, count }) => [
    JSON.stringify([page, theme, level, status]),
    count,
  ]);
  expect(Object.fromEntries(inPlaces)).toEqual(byHand(items, ({ page, theme, level, status }) => [page, theme, level, status]));
  const inKinds = tally.kinds.map(({ theme, check, level, status, owner, cause, count }) => [
    JSON.stringify([theme, check, level, status, owner, cause]),
    count,
  ]);
  const kindOf = ({ theme, check, level, status, owner, cause }: Finding): readonly unknown[] => [
    theme,
    check,
    level,
    status,
    owner ?? null,
    cause,
  ];
  expect(Object.fromEntries(inKinds)).toEqual(byHand(items, kindOf));
  expect(tally.kinds.some(({ status }) => status === 'exempt')).toBe(true);
  // derived: the first night had one finding more in each view
  expect(gone.reduce((sum, { count }) => sum + count, 0)).toBe((await ledger.views('n2', { limit: 1000 })).items.length);

  // The bytes are those of another night: they are not believed.
  const sorted = ({ tally: { places: a, kinds: b }, gone: c }: typeof stored) =>
    [a, b, c].map((rows) => rows.map((row) => JSON.stringify(Object.entries(row).sort())).sort());
  await changeRows(folder.path, 'update tally set body = (select body from tally where run = 1) where run = 2');
  expect(sorted(await told(ledger, 'n2'))).toEqual(sorted(stored));
  // None there, as in a store of before.
  await changeRows(folder.path, 'delete from tally where run = 2');
  expect(sorted(await told(ledger, 'n2'))).toEqual(sorted(stored));
});

test('they are read, not counted; but nothing is gone against a run that was dropped', async () => {
  await using folder = await tempFolder();
  {
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' }, findings: (view) => [...places(view), entry(view, draft(9))] });
    await storeNight(ledger, { run: { id: 'n2' }, findings: places });
  }
  const before = await (async () => {
    await using ledger = await openLedger(storeIn(folder.path), { access: 'read' });
    return await told(ledger, 'n2');
  })();
  // Behind the ledger's back, so that counting would say less.
  await changeRows(folder.path, 'delete from finding');
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  expect(await told(ledger, 'n2')).toEqual(before);
  await ledger.prune({ keep: 1 });
  expect(await ledger.countGone('n2')).toEqual([]);
});

test('what lists are filtered by is what the findings say, of token files too, which are views outside of the plan', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(folder.path, { access: 'own' });
  const begun = newRun({ id: 'n1' });
  await ledger.beginRun(begun);
  const fileViews = ['noon', 'dusk', 'stark'].map((theme): View => ({
    ...{ id: `(token files)@${theme}/rest/files`, page: '(token files)', theme, state: 'rest', viewport: 'files', url: '' },
  }));
  const ofFiles = (view: View): readonly FindingEntry[] => [
    entry(view, { ...draft(3), check: 'token-fault', selector: `silt.${view.theme}` }),
  ];
  await ledger.storeFindings('n1', [
    ...begun.views.map((view) => ({ view, findings: places(view) })),
    ...fileViews.map((view) => ({ view, findings: ofFiles(view) })),
  ]);
  const { items } = await ledger.findings('n1', { limit: 1000 });
  const lean: string[] = [];
  await ledger.leanFindings('n1', (part) => {
    for (const { view, check, level, status, owner, cause, token } of part) {
      lean.push(JSON.stringify([view.page, view.theme, view.state, view.viewport, check, level, status, owner, cause, token]));
    }
    return Promise.resolve();
  });
  const wanted = items.map(({ page, theme, state, viewport, check, level, status, owner = null, cause, selector }) =>
    JSON.stringify([page, theme, state, viewport, check, level, status, owner, cause, check === 'token-fault' ? selector : null]),
  );
  expect(lean.toSorted()).toEqual(wanted.toSorted());
  const words: string[] = [];
  await ledger.findingWords('n1', (part) => {
    words.push(...part.map(({ selector }) => selector));
    return Promise.resolve();
  });
  expect(words.toSorted()).toEqual(items.map(({ selector }) => selector).toSorted());
});
