// The nights before, and two runs side by side.
import type { FastifyInstance } from 'fastify';
import type { Night } from '../../api/history.ts';
import type { ServerContext } from '../context.ts';
import type { NightSums } from '../nights.ts';
import { route } from '../route.ts';
import { fitting } from '../slices.ts';
import { byCheck, groupBy, total } from '../tally.ts';
import { rankCause } from './causes.ts';
import { isCounted } from '../../../src/samples/what-counts.ts';

const NIGHTS = 120;
const FINDINGS_SHOWN = 60;
const CAUSES_SHOWN = 12;

export function historyRoutes(app: FastifyInstance, { ledger, models, nights }: ServerContext): void {
  const kept = new Map<string, Night>();
  const nightOf = async ({ run, sums: all }: NightSums): Promise<Night> => {
    const sums = all.filter(isCounted);
    const owned = groupBy(sums, ({ owner }) => owner ?? '');
    const owners = (await ledger.owners(run.id)).map((owner): [string, number] => [owner, total(owned.get(owner) ?? [])]);
    return {
      run: run.id,
      at: run.startedAt,
      total: total(sums),
      checks: byCheck(sums),
      themes: Object.fromEntries(run.themes.map(({ name }) => [name, total(sums.filter(({ theme }) => theme === name))])),
      owners: Object.fromEntries(owners),
      failed: run.totals?.failed ?? 0,
    };
  };
  route(app, 'history', async () => {
    // What was narrowed or cut off is no point of a trend.
    const runs = await ledger.runs({ state: 'finished', whole: true, limit: NIGHTS });
    for (const night of await nights.of(runs.filter(({ id }) => !kept.has(id)))) kept.set(night.run.id, await nightOf(night));
    return { nights: runs.flatMap(({ id }) => kept.get(id) ?? []).reverse() };
  });

  route(app, 'compare', async ({ query }) => {
    const [a, b] = await Promise.all([models.of(query.a), models.of(query.b)]);
    const compared = await ledger.compareRuns(a.summary.id, b.summary.id, FINDINGS_SHOWN);
    const sum = (side: 'fresh' | 'gone'): number => compared.rows.reduce((all, row) => all + row[side], 0);
    const known = new Set((await a.causes()).map(({ cause }) => cause.id));
    const causes = (await b.causes()).filter(({ cause }) => !known.has(cause.id)).map(rankCause);
    return {
      a: a.summary.id,
      b: b.summary.id,
      rows: [...compared.rows].sort((x, y) => y.fresh + y.gone - x.fresh - x.gone),
      fresh: fitting(compared.fresh),
      freshTotal: sum('fresh'),
      gone: fitting(compared.gone),
      goneTotal: sum('gone'),
      viewsInBoth: compared.viewsInBoth,
      viewsInOne: compared.viewsInOne,
      causes: causes.slice(0, CAUSES_SHOWN),
    };
  });
}
