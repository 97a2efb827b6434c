// A night on which nothing changed takes over causes and coverage of the last one, unless all is to be worked out anew.
import { expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import { captured, findingsOf, newRun, planOf } from './synthetic-run.ts';
import { storeIn } from './store-in.ts';
import { tempFolder } from './temp-folder.ts';

const plan = planOf(['tide-table']);
const coverage = [{ page: 'tide-table', theme: 'dusk', owner: 'harbour', uses: 4, throughTokens: 3 }];

test('what all follows from as it was is taken over; anew, or from another basis, it is not', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own', doing: 'run' });
  const nights = [
    { basis: 'a', anew: false, carried: false },
    { basis: 'a', anew: false, carried: true },
    { basis: 'a', anew: true, carried: false },
    // What it followed from was noted all the same.
    { basis: 'a', anew: false, carried: true },
    { basis: 'b', anew: false, carried: false },
  ];
  for (const [at, { carried, ...from }] of nights.entries()) {
    const id = `n${String(at)}`;
    await ledger.beginRun(newRun({ id, startedAt: `2031-03-0${String(at + 1)}T02:00:00.000Z`, views: plan }));
    for (const view of plan) await ledger.storeView(id, captured(view));
    await ledger.storeFindings(
      id,
      plan.map((view) => ({ view, findings: findingsOf(view) })),
    );
    expect([at, await ledger.carryExplanation(id, from)]).toEqual([at, carried]);
    if (!carried) await ledger.storeCoverage(id, coverage);
    expect((await ledger.coverage(id)).length).toBe(coverage.length);
    await ledger.finishRun(id, `2031-03-0${String(at + 1)}T03:00:00.000Z`);
  }
});
