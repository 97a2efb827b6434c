// What is counted where it is stored, against the same counted by hand from the lists of findings.
import { expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { Finding } from '../../src/samples/finding.ts';
import type { View } from '../../src/samples/view.ts';
import { captured, cause, draft, entry, failed, newRun, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const LEVELS = ['error', 'warning', 'note'] as const;

/** @param turn shifts levels and exemptions from night to night; one page stays as it is, so both nights share its sheets */
function findingsIn(turn: number) {
  return (view: View) => {
    const shift = view.page === 'tide-table' ? 0 : turn;
    return Array.from({ length: 3 + ((view.id.length + shift) % 6) }, (_, place) =>
      entry(view, draft(place, { check: place % 2 === 0 ? 'glow' : 'neon', level: LEVELS[(place + shift) % 3] ?? 'note' }), {
        ...(place % 3 === 0 ? { owner: 'tables' } : {}),
        ...((place + shift) % 5 === 4 ? { exempt: place % 2 === 0 ? 'agreed' : 'old gauge' } : {}),
      }),
    );
  };
}

async function twoNights(ledger: Ledger): Promise<void> {
  await storeNight(ledger, {
    run: { id: 'n1' },
    findings: findingsIn(1),
    result: (view) => (view.id === 'alarm-log@noon.rest.desk' ? failed(view) : captured(view)),
  });
  const { items } = await ledger.findings('n1', { limit: 1000 });
  const explained = items.filter(({ key, page }) => key === 'reading-1' && page !== 'tide-table').map(({ id }) => id);
  const run = newRun({ id: 'n2', startedAt: '2031-03-05T02:00:00.000Z' });
  await ledger.beginRun(run);
  for (const view of run.views) {
    await ledger.storeView('n2', captured(view));
    await ledger.storeFindings('n2', [{ view, findings: findingsIn(2)(view) }]);
  }
  await ledger.storeCauses('n2', [{ cause: cause('cause-quiet'), findings: explained }]);
  await ledger.finishRun('n2', '2031-03-05T02:10:00.000Z');
}

async function listed(ledger: Ledger, run: string): Promise<readonly Finding[]> {
  return (await ledger.findings(run, { limit: 1000 })).items;
}

function countBy<T>(items: readonly T[], keyOf: (item: T) => unknown, worth: (item: T) => number = () => 1): unknown {
  const sums = new Map<string, number>();
  for (const item of items) {
    const key = JSON.stringify(keyOf(item));
    sums.set(key, (sums.get(key) ?? 0) + worth(item));
  }
  return Object.fromEntries([...sums].sort(([a], [b]) => (a < b ? -1 : 1)));
}

test.each([null, 'n1'])('kinds against %s are the findings, each counted once, and name those without a cause', async (base) => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  await twoNights(ledger);
  const all = await listed(ledger, 'n2');
  const before = new Map((base === null ? [] : await listed(ledger, base)).map((finding) => [finding.id, finding]));
  const seen = new Set(
    (base === null ? [] : (await ledger.views(base, { limit: 1000 })).items)
      .filter(({ status }) => status === 'captured')
      .map(({ id }) => id),
  );
  const thenOf = ({ id }: Finding): string | null => {
    const then = before.get(id);
    return then === undefined || then.status === 'exempt' ? null : then.level;
  };
  const kinds = await ledger.kinds('n2', base === null ? null : { kind: 'run', id: base });
  const open = kinds.filter(({ status }) => status !== 'exempt');
  const openFindings = all.filter(({ status }) => status !== 'exempt');
  expect(
    countBy(
      open,
      ({ theme, check, level, status, owner, cause: id, then, seen: was }) => [theme, check, level, status, owner, id, then, was],
      ({ count }) => count,
    ),
  ).toEqual(
    countBy(openFindings, (finding) => {
      const { theme, check, level, status, owner = null, cause: id, view } = finding;
      return [theme, check, level, status, owner, id, thenOf(finding), seen.has(view)];
    }),
  );
  expect(kinds.reduce((sum, { count }) => sum + count, 0)).toBe(all.length);
  expect(new Set(openFindings.map((finding) => finding.cause)).size).toBe(2);
  const fresh = open.filter(({ then, cause: id }) => then === null && id === null);
  expect(fresh.length).toBeGreaterThan(0);
  for (const { theme, check, level, status, owner, seen: was, count, first } of fresh) {
    const mine = openFindings.filter(
      (finding) =>
        finding.theme === theme &&
        finding.check === check &&
        finding.level === level &&
        finding.status === status &&
        (finding.owner ?? null) === owner &&
        finding.cause === null &&
        thenOf(finding) === null &&
        seen.has(finding.view) === was,
    );
    expect(mine).toHaveLength(count);
    expect(first).toEqual(mine.slice(0, 5).map(({ id }) => id));
  }
});

test('sums of several nights are each night counted by hand', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  await twoNights(ledger);
  const sums = await ledger.sums(['n2', 'n1']);
  expect([...sums.keys()]).toEqual(['n2', 'n1']);
  for (const [run, cells] of sums) {
    expect(
      countBy(
        cells,
        ({ theme, check, level, status, owner }) => [theme, check, level, status, owner],
        ({ count }) => count,
      ),
    ).toEqual(
      countBy(await listed(ledger, run), ({ theme, check, level, status, owner = null }) => [theme, check, level, status, owner]),
    );
  }
  await expect(ledger.sums(['n9'])).rejects.toMatchObject({ code: 'run-unknown' });
});

test('exempted findings are counted by reason and check', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  await twoNights(ledger);
  const exempt = (await listed(ledger, 'n2')).filter(({ status }) => status === 'exempt');
  expect(exempt.length).toBeGreaterThan(0);
  expect(
    countBy(
      await ledger.exempted('n2'),
      ({ why, check }) => [why, check],
      ({ count }) => count,
    ),
  ).toEqual(countBy(exempt, ({ exemption, check }) => [exemption, check]));
});
