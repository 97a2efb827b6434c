import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { groupId } from '../../src/plan/make-plan.ts';
import { type Ledger, openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import type { CauseEntry, FindingEntry, NewRun } from '../../src/ledger/records.ts';
import type { ViewResult } from '../../src/samples/captured-view.ts';
import type { View } from '../../src/samples/view.ts';
import { captured, cause, draft, entry, failed, findingsOf, newRun, planOf, storeNight } from './synthetic-run.ts';
import { exported } from './exported.ts';
import { tempFolder } from './temp-folder.ts';

const plan = planOf();
const finishedAt = '2031-03-05T03:00:00.000Z';
const tonight = { id: 'n2', startedAt: '2031-03-05T02:00:00.000Z', label: 'main' };

const result = (view: View): ViewResult =>
  view.id.startsWith('alarm-log@noon') ? failed(view) : captured(view, { notes: [{ code: 'fonts-loading', data: {} }] });
/** A finding more than the night before, with owner and exemption. */
const findings = (view: View): readonly FindingEntry[] => [
  ...findingsOf(view),
  entry(view, draft(3), { owner: 'tables', exempt: 'agreed in spring' }),
];
const tokenFindings = (id: string): readonly FindingEntry[] => {
  const place = { id, page: '', theme: 'dusk', state: '', viewport: '' };
  return [entry({ ...place, url: '' }, draft(9, { check: 'token-fault', selector: '' }))];
};

async function render(ledger: Ledger, changes: Partial<NewRun>): Promise<void> {
  const run = newRun({ ...tonight, ...changes });
  await ledger.beginRun(run);
  for (const view of run.views.filter(({ id }) => run.part?.views.includes(id) ?? true)) {
    await ledger.storeView(tonight.id, result(view));
    if (result(view).status === 'captured') await ledger.storeFindings(tonight.id, [{ view, findings: findings(view) }]);
    await ledger.storeComparisons(tonight.id, [{ view, verdict: 'new' }]);
  }
  const tokens = { id: 'tokens@dusk', page: '', theme: 'dusk', state: '', viewport: '' };
  await ledger.storeFindings(tonight.id, [{ view: tokens, findings: tokenFindings(tokens.id) }]);
  const pages = new Set(run.views.filter(({ id }) => run.part?.views.includes(id) ?? true).map((view) => view.page));
  await ledger.storeCoverage(
    tonight.id,
    [...pages].map((page) => ({ page, theme: 'dusk', uses: page.length, throughTokens: page.length - 1 })),
  );
}

async function finish(ledger: Ledger): Promise<void> {
  const ids = (await ledger.findings(tonight.id, { check: 'text-contrast', limit: 1000 })).items.map(({ id }) => id);
  const causes: readonly CauseEntry[] = [{ cause: cause('quiet'), findings: ids }];
  await ledger.storeCauses(tonight.id, causes);
  await ledger.finishRun(tonight.id, finishedAt);
}

interface Misfit {
  readonly fault: string;
  readonly parts: readonly (
    { readonly index: number; readonly of: number; readonly plan?: readonly View[]; readonly browser?: string } | undefined
  )[];
  readonly found: string;
}

const MISFITS: readonly Misfit[] = [
  {
    fault: 'a part is missing',
    parts: [
      { index: 1, of: 3 },
      { index: 3, of: 3 },
    ],
    found: 'found part 1, 3; expected each of 1, 2, 3 once',
  },
  {
    fault: 'a part is given twice',
    parts: [
      { index: 1, of: 2 },
      { index: 1, of: 2 },
    ],
    found: 'found part 1, 1',
  },
  { fault: 'one is not a part', parts: [{ index: 1, of: 2 }, undefined], found: 'run n2 is no part of a divided run' },
  {
    fault: 'another plan',
    parts: [
      { index: 1, of: 2 },
      { index: 2, of: 2, plan: planOf(['alarm-log']) },
    ],
    found: 'differ in "plan"',
  },
  {
    fault: 'another browser',
    parts: [
      { index: 1, of: 2 },
      { index: 2, of: 2, browser: 'chromium 157' },
    ],
    found: 'differ in "browser"',
  },
  { fault: 'no parts', parts: [], found: 'no part is given' },
];

describe('parts of a divided run', () => {
  test.each([1, 2, 3])('joined from %i parts, a run is the undivided one, byte for byte', async (of) => {
    await using folder = await tempFolder();
    await using whole = await openLedger(storeIn(join(folder.path, 'whole')), { access: 'own' });
    await storeNight(whole, { run: { id: 'n1', label: 'main' } });
    await render(whole, {});
    await finish(whole);

    // Groups of views that are judged together go to one part.
    const groups = [...new Set(plan.map(groupId))];
    const stores: Ledger[] = [];
    for (let index = 1; index <= of; index += 1) {
      const ledger = await openLedger(storeIn(join(folder.path, `part-${String(index)}`)), { access: 'own' });
      stores.push(ledger);
      const views = plan.filter((view) => groups.indexOf(groupId(view)) % of === index - 1).map((view) => view.id);
      await render(ledger, { part: { index, of, views } });
      await finish(ledger);
    }
    await using joined = await openLedger(storeIn(join(folder.path, 'joined')), { access: 'own' });
    await storeNight(joined, { run: { id: 'n1', label: 'main' } });
    // The order the parts are given in does not matter.
    await joined.join(
      stores.toReversed().map((ledger) => ({ ledger, run: tonight.id })),
      tonight.id,
    );
    await finish(joined);
    expect(await exported(joined, tonight.id, join(folder.path, 'out-joined'))).toEqual(
      await exported(whole, tonight.id, join(folder.path, 'out-whole')),
    );
    expect(await joined.countComparisons(tonight.id)).toEqual(await whole.countComparisons(tonight.id));
    expect((await joined.run(tonight.id)).part).toBeNull();
    for (const ledger of stores) await ledger.close();
  });

  test('are joined anew where a join was killed half way', async () => {
    await using folder = await tempFolder();
    const stores: Ledger[] = [];
    const groups = [...new Set(plan.map(groupId))];
    for (const index of [1, 2]) {
      const ledger = await openLedger(storeIn(join(folder.path, `part-${String(index)}`)), { access: 'own' });
      stores.push(ledger);
      const views = plan.filter((view) => groups.indexOf(groupId(view)) % 2 === index - 1).map((view) => view.id);
      await render(ledger, { part: { index, of: 2, views } });
      await finish(ledger);
    }
    const parts = stores.map((ledger) => ({ ledger, run: tonight.id }));
    const outcomes: unknown[] = [];
    for (const isKilled of [false, true]) {
      const store = join(folder.path, `joined-${String(isKilled)}`);
      if (isKilled) {
        // What is there once the process is gone: the run is under way, with part of its views and findings.
        await using half = await openLedger(storeIn(store), { access: 'own' });
        await half.join(parts, tonight.id);
      }
      await using joined = await openLedger(storeIn(store), { access: 'own' });
      await joined.join(parts, tonight.id);
      await finish(joined);
      expect((await joined.runs()).map(({ id }) => id)).toEqual([tonight.id]);
      outcomes.push(await exported(joined, tonight.id, join(folder.path, `out-${String(isKilled)}`)));
    }
    expect(outcomes[1]).toEqual(outcomes[0]);
    // A finished one of that name stays.
    await using joined = await openLedger(storeIn(join(folder.path, 'joined-true')), { access: 'own' });
    await expect(joined.join(parts, tonight.id)).rejects.toMatchObject({ code: 'run-exists' });
    for (const ledger of stores) await ledger.close();
  });

  test.each(MISFITS)('are refused when $fault', async ({ parts, found }) => {
    await using folder = await tempFolder();
    const stores: Ledger[] = [];
    for (const [place, part] of parts.entries()) {
      const ledger = await openLedger(storeIn(join(folder.path, String(place))), { access: 'own' });
      stores.push(ledger);
      const views = part?.plan ?? plan;
      const mine = views.filter((_, at) => at % 2 === (part?.index ?? 1) - 1).map((view) => view.id);
      await render(ledger, {
        views,
        ...(part === undefined ? {} : { part: { index: part.index, of: part.of, views: mine } }),
        ...(part?.browser === undefined ? {} : { browser: part.browser }),
      });
      await finish(ledger);
    }
    await using joined = await openLedger(storeIn(join(folder.path, 'joined')), { access: 'own' });
    await expect(
      joined.join(
        stores.map((ledger) => ({ ledger, run: tonight.id })),
        tonight.id,
      ),
    ).rejects.toMatchObject({
      code: 'parts-do-not-fit',
      data: { found: expect.stringContaining(found) as unknown },
    });
    expect(await joined.runs()).toEqual([]);
    for (const ledger of stores) await ledger.close();
  });
});
