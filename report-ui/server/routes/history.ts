// The nights before, and two runs side by side.
import type { FastifyInstance } from 'fastify';
import type { Night } from '../../api/history.ts';
import type { Finding } from '../../../src/samples/finding.ts';
import type { CountCell, TallyCell } from '../../../src/ledger/records.ts';
import type { ServerContext } from '../context.ts';
import type { NightSums } from '../nights.ts';
import type { RunModel } from '../run-model.ts';
import { route } from '../route.ts';
import { fitting } from '../slices.ts';
import { byCheck, groupBy, total } from '../tally.ts';
import { rankCause } from './causes.ts';

const NIGHTS = 120;
const FINDINGS_SHOWN = 60;
const CAUSES_SHOWN = 12;
/** Findings read of each run when two are compared. */
const MOST_COMPARED = 50_000;

export function historyRoutes(app: FastifyInstance, { ledger, models, nights }: ServerContext): void {
  const kept = new Map<string, Night>();
  const nightOf = async ({ run, sums }: NightSums): Promise<Night> => {
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
    // View by view: what only one of the two looked at has neither come nor gone.
    const inBoth = comparer(a, b);
    const [before, after] = await Promise.all([allFindings(a.summary.id, inBoth), allFindings(b.summary.id, inBoth)]);
    const fresh = [...after.values()].filter(({ id }) => !before.has(id));
    const gone = [...before.values()].filter(({ id }) => !after.has(id));
    const of = ({ counts }: RunModel): readonly TallyCell[] => counts.filter(({ view }) => inBoth(view));
    const known = new Set((await a.causes()).map(({ cause }) => cause.id));
    const causes = (await b.causes()).filter(({ cause }) => !known.has(cause.id)).map(rankCause);
    return {
      a: a.summary.id,
      b: b.summary.id,
      rows: rowsOf(of(a), of(b), fresh, gone),
      fresh: fitting(fresh.slice(0, FINDINGS_SHOWN)),
      freshTotal: fresh.length,
      gone: fitting(gone.slice(0, FINDINGS_SHOWN)),
      goneTotal: gone.length,
      causes: causes.slice(0, CAUSES_SHOWN),
    };
  });

  async function allFindings(run: string, isWanted: (view: string) => boolean): Promise<ReadonlyMap<string, Finding>> {
    const all = new Map<string, Finding>();
    let after: string | undefined;
    do {
      const slice = await ledger.findings(run, { limit: 1_000, ...(after === undefined ? {} : { after }) });
      for (const finding of slice.items) if (isWanted(finding.view)) all.set(finding.id, finding);
      after = slice.next ?? undefined;
    } while (after !== undefined && all.size < MOST_COMPARED);
    return all;
  }
}

/** Whether both looked at a view; places that are no view (token files) both did. */
function comparer(...models: readonly RunModel[]): (view: string) => boolean {
  const planned = new Set(models.flatMap(({ views }) => views.map(({ id }) => id)));
  const judged = models.map(({ views }) => new Set(views.filter(({ checked }) => checked).map(({ id }) => id)));
  return (view) => !planned.has(view) || judged.every((one) => one.has(view));
}

type Row = {
  readonly check: Finding['check'];
  readonly theme: string;
  readonly before: number;
  readonly after: number;
  readonly fresh: number;
  readonly gone: number;
};

function rowsOf(
  before: readonly CountCell[],
  after: readonly CountCell[],
  fresh: readonly Finding[],
  gone: readonly Finding[],
): readonly Row[] {
  const keyOf = ({ check, theme }: { readonly check: string; readonly theme: string }): string => `${check}\n${theme}`;
  const sides = [before, after, fresh, gone].map((side) => groupBy<CountCell | Finding>(side, keyOf));
  const rows = new Map<string, Row>();
  for (const cell of [...before, ...after]) {
    const key = keyOf(cell);
    const [was, is, newOnes, lost] = sides.map((side) => side.get(key) ?? []);
    const sum = (items: readonly (CountCell | Finding)[] | undefined): number =>
      (items ?? []).reduce((count, item) => count + ('count' in item ? item.count : 1), 0);
    rows.set(key, { check: cell.check, theme: cell.theme, before: sum(was), after: sum(is), fresh: sum(newOnes), gone: sum(lost) });
  }
  return [...rows.values()].sort((x, y) => y.fresh + y.gone - x.fresh - x.gone);
}
