// What changed since the run before, and the grid of pages and themes.
import type { FastifyInstance } from 'fastify';
import type { GridCell, GridRow, Tonight } from '../../api/tonight.ts';
import type { CoverageFact, KindCount, PlaceCount, StoredView } from '../../../src/ledger/records.ts';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';
import type { RunModel } from '../run-model.ts';
import { partOf, startOf } from '../slices.ts';
import { byCheck, distinct, groupBy, total } from '../tally.ts';
import { rankCause } from './causes.ts';
import { countFindings, isCounted } from '../../../src/samples/what-counts.ts';

const CAUSES_SHOWN = 12;
const FAILED_SHOWN = 50;
const ROWS_AT_ONCE = 500;

export function tonightRoutes(app: FastifyInstance, { ledger, models }: ServerContext): void {
  route(app, 'tonight', async ({ params }) => {
    const model = await models.of(params.run);
    const { summary, views } = model;
    const counts = model.counts.kinds;
    const gone = await model.gone();
    const causes = (await model.causes()).map(rankCause);
    const failed = views.filter(({ status }) => status === 'failed');
    const { changed } = await ledger.countComparisons(summary.id);
    const change = (cells: readonly KindCount[], gone: number): Tonight['total'] => {
      const { fresh, known, exempt } = countFindings(cells);
      return { fresh, known, exempt, gone };
    };
    const coverage = summary.totals?.coverage ?? {};
    return {
      previous: summary.previous,
      total: change(counts, total(gone)),
      themes: summary.themes.map(({ name }) => ({
        theme: name,
        ...change(
          counts.filter(({ theme }) => theme === name),
          total(gone.filter(({ theme }) => theme === name)),
        ),
        coverage: coverage[name] ?? null,
      })),
      freshByCheck: byCheck(counts.filter(({ status }) => status === 'new')),
      goneByCheck: byCheck(gone),
      causes: [...causes].sort((a, b) => b.fresh - a.fresh).slice(0, CAUSES_SHOWN),
      causesTotal: causes.length,
      drift: changed,
      failed: failed
        .slice(0, FAILED_SHOWN)
        .map(({ id, page, theme, state, viewport, error }) => ({ view: id, page, theme, state, viewport, error: error ?? '' })),
      failedTotal: failed.length,
    };
  });

  /** Asked for part by part; kept as long as the model is. */
  const kept = new WeakMap<RunModel, Promise<readonly GridRow[]>>();
  const rowsOf = (model: RunModel, themes: readonly string[]): Promise<readonly GridRow[]> => {
    const known = kept.get(model) ?? model.coverage().then((coverage) => gridRows(model, themes, pageOwners(coverage)));
    kept.set(model, known);
    return known;
  };
  route(app, 'grid', async ({ params, query }) => {
    const model = await models.of(params.run);
    const themes = model.summary.themes.map(({ name }) => name);
    const rows = await rowsOf(model, themes);
    const { items, next } = partOf(rows, startOf(query.after), ROWS_AT_ONCE);
    return { themes, rows: items, total: rows.length, next };
  });
}

/** Owner of most of a page's painted colours. */
function pageOwners(coverage: readonly CoverageFact[]): ReadonlyMap<string, string> {
  const most = new Map<string, { readonly owner: string; readonly uses: number }>();
  for (const { page, owner, uses } of coverage) {
    if (owner !== undefined && uses > (most.get(page)?.uses ?? 0)) most.set(page, { owner, uses });
  }
  return new Map([...most].map(([page, { owner }]) => [page, owner]));
}

function gridRows({ views, counts }: RunModel, themes: readonly string[], owners: ReadonlyMap<string, string>): readonly GridRow[] {
  const viewsOf = groupBy(views, ({ page, theme }) => `${theme}\n${page}`);
  const countsOf = groupBy(counts.places, ({ page, theme }) => `${theme}\n${page}`);
  return distinct(views.map(({ page }) => page)).map((page) => {
    const owner = owners.get(page);
    const cells = themes.map((theme) => cellOf(countsOf.get(`${theme}\n${page}`) ?? [], viewsOf.get(`${theme}\n${page}`) ?? []));
    return { page, ...(owner === undefined ? {} : { owner }), cells };
  });
}

function cellOf(counts: readonly PlaceCount[], views: readonly StoredView[]): GridCell {
  const open = counts.filter(isCounted);
  const at = (level: PlaceCount['level']): number => total(open.filter((cell) => cell.level === level));
  return [
    at('error'),
    at('warning'),
    at('note'),
    total(open.filter(({ status }) => status === 'new')),
    views.filter(({ status }) => status === 'captured').length,
    views.filter(({ status }) => status === 'failed').length,
  ];
}
