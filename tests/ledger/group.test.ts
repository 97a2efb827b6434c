// A group of views enters a run at once, or not at all.
import { describe, expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { GroupYield } from '../../src/ledger/write/store-group.ts';
import { captured, findingsOf, newRun, planOf } from './synthetic-run.ts';
import { storeIn } from './store-in.ts';
import { tempFolder } from './temp-folder.ts';

const plan = planOf(['tide-table']);

async function groupOf(ledger: Ledger): Promise<GroupYield> {
  return {
    views: await Promise.all(plan.map((view) => ledger.keepView(captured(view)))),
    comparisons: plan.map((view) => ({ view, verdict: 'new' })),
    findings: plan.map((view) => ({ view, findings: findingsOf(view) })),
  };
}

const states = async (ledger: Ledger): Promise<readonly unknown[]> =>
  (await ledger.views('n1')).items.map(({ status, checked, shot }) => [status, checked, shot !== null]);
const planned = plan.map(() => ['planned', false, false]);
const done = plan.map(() => ['captured', true, true]);

describe('a group of views', () => {
  test('is as if each view had been stored by itself', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'share' });
    await ledger.beginRun(newRun({ id: 'n1', views: plan }));
    expect(await ledger.storeGroup('n1', await groupOf(ledger), () => Promise.resolve(true))).toBe(true);
    expect(await states(ledger)).toEqual(done);
    const together = await ledger.findings('n1');
    await ledger.finishRun('n1', '2031-03-05T03:00:00.000Z');
    await ledger.beginRun(newRun({ id: 'n2', startedAt: '2031-03-06T02:00:00.000Z', views: plan }));
    for (const view of plan) {
      await ledger.storeView('n2', captured(view));
      await ledger.storeFindings('n2', [{ view, findings: findingsOf(view) }]);
    }
    const known = together.items.map((finding) => ({ ...finding, status: 'known' }));
    expect((await ledger.findings('n2')).items).toEqual(known);
    expect(known.length).toBeGreaterThan(0);
  });

  test('that was given to another leaves nothing', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'share' });
    await ledger.beginRun(newRun({ id: 'n1', views: plan }));
    expect(await ledger.storeGroup('n1', await groupOf(ledger), () => Promise.resolve(false))).toBe(false);
    expect(await states(ledger)).toEqual(planned);
    expect((await ledger.findings('n1')).items).toEqual([]);
  });

  test('that breaks off leaves nothing, nor what was said in the same transaction', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'share' });
    await ledger.beginRun(newRun({ id: 'n1', views: plan }));
    const found = await groupOf(ledger);
    const lost = {
      ...found,
      views: [...found.views, await ledger.keepView(captured({ ...(planOf(['berth-form'])[0] ?? fail()) }))],
    };
    const stored = ledger.storeGroup('n1', lost, async (statement) => {
      await statement("update run set label = 'said' where id = 'n1'", []);
      return true;
    });
    await expect(stored).rejects.toMatchObject({ code: 'view-unknown' });
    expect(await states(ledger)).toEqual(planned);
    expect((await ledger.run('n1')).label).not.toBe('said');
  });
});

function fail(): never {
  throw new Error('the plan has no such page');
}
