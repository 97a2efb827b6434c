// What is served, and the runs in it.
import type { FastifyInstance } from 'fastify';
import type { RunSummary as Answered } from '../../api/runs.ts';
import type { RunSummary } from '../../../src/ledger/records.ts';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';
import { type RunModel, newestRun } from '../run-model.ts';
import { partOf, startOf } from '../slices.ts';
import { byCheck, distinct } from '../tally.ts';
import { isCounted } from '../../../src/samples/what-counts.ts';

const RUNS_AT_ONCE = 60;

export function runRoutes(app: FastifyInstance, { ledger, models, session }: ServerContext): void {
  route(app, 'session', async () => {
    const runs = await ledger.runs();
    return { ...session, newest: (await newestRun(ledger))?.id ?? null, runs: runs.length };
  });
  route(app, 'runs', async ({ query }) => {
    const { items, next } = partOf(await ledger.runs(), startOf(query.after), RUNS_AT_ONCE);
    return { runs: items.map(summaryOf), next };
  });
  route(app, 'run', async ({ params }) => {
    const model = await models.of(params.run);
    const { summary, views } = model;
    const coverage = await model.coverage();
    return {
      ...runningSummary(model),
      scope: {
        narrowed: summary.narrowed,
        cut: summary.cut,
        part: summary.part,
        looked: views.filter(({ status, checked }) => status === 'captured' && checked).length,
        unlooked: views.filter(({ status, checked }) => status !== 'captured' || !checked).length,
        pages: distinct(views.map(({ page }) => page)).length,
      },
      gloam: summary.gloam,
      browser: summary.browser,
      reference: summary.reference,
      previous: summary.previous,
      themes: summary.themes,
      states: distinct(views.map(({ state }) => state)),
      viewports: distinct(views.map(({ viewport }) => viewport)),
      owners: distinct(coverage.flatMap(({ owner }) => owner ?? [])),
    };
  });
}

function summaryOf(summary: RunSummary): Answered {
  const { id, startedAt, finishedAt, state, totals } = summary;
  return {
    id,
    startedAt,
    finishedAt,
    status: state,
    views: totals?.views ?? 0,
    failed: totals?.failed ?? 0,
    planned: null,
    whole: !summary.narrowed && !summary.cut && summary.part === null,
    findings: totals?.findings ?? {},
  };
}

/** While a run goes on its totals are not there yet. */
function runningSummary({ summary, views, counts }: RunModel): Answered {
  return {
    ...summaryOf(summary),
    views: views.filter(({ status }) => status !== 'planned').length,
    failed: views.filter(({ status }) => status === 'failed').length,
    planned: views.length,
    findings: byCheck(counts.kinds.filter(isCounted)),
  };
}
