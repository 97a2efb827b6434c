// The gate's verdict on every theme of a run.
import type { FastifyInstance } from 'fastify';
import type { Exemption, ThemeLaunch } from '../../api/launch.ts';
import { exemptionScope } from '../../../src/gate/exemption-standing.ts';
import { nothingHere } from '../../../src/errors/server-errors.ts';
import { sheetFile } from '../../../src/gate/forms/launch-sheet.ts';
import { sheetDocument } from '../../../src/gate/forms/sheet-document.ts';
import type { SheetDocument } from '../../../src/gate/forms/sheet-document.ts';
import { judgeThemes } from '../../../src/gate/judge-run.ts';
import type { ExemptionStanding, GateJudgement } from '../../../src/gate/verdict.ts';
import type { RunSummary } from '../../../src/ledger/records.ts';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';
import type { RunModel } from '../run-model.ts';
import type { ReportSources } from '../sources.ts';
import { total } from '../tally.ts';
import { isCounted } from '../../../src/samples/what-counts.ts';

/** Nights of the trend on the sheet. */
const NIGHTS = 30;

/** Without a configuration the least is asked, and the pages of the run before are expected again. */
const UNCONFIGURED: NonNullable<ReportSources['criteria']>['configuration'] = {
  pages: { kind: 'follow', path: '/', limit: 0 },
  checks: {},
  states: [],
  exempt: [],
  gate: {},
};

export function launchRoutes(app: FastifyInstance, { ledger, models, nights, sources, session }: ServerContext): void {
  route(app, 'launch', async ({ params }) => {
    const model = await models.of(params.run);
    const { summary } = model;
    const today = dayOf(new Date());
    const verdicts = await judgementsOf(summary, today);
    const coverage = await model.coverage();
    const trend = await nightsUntil(summary);
    return {
      today,
      configured: sources.criteria !== undefined,
      themes: verdicts.map((verdict): ThemeLaunch => ({
        ...wordsOf(verdict),
        sheet: documentOf(verdict, model),
        coverage: byOwner(coverage.filter(({ theme }) => theme === verdict.theme)),
        nights: trend.flatMap(({ run, at, themes: counts }) => {
          const mine = counts.get(verdict.theme);
          return mine === undefined ? [] : [{ run, at, ...mine }];
        }),
      })),
    };
  });

  app.get<{ Params: { run: string; theme: string } }>('/sheets/:run/:theme', async (request, reply) => {
    const { run, theme } = request.params;
    const model = await models.of(run);
    const verdict = (await judgementsOf(model.summary, dayOf(new Date()))).find((one) => one.theme === theme);
    if (verdict === undefined) throw nothingHere(`theme ${theme}`);
    const file = sheetFile([{ sheet: documentOf(verdict, model), hrefOf: () => null }]);
    return reply
      .type('text/html; charset=utf-8')
      .header('cache-control', 'no-store')
      .header('content-disposition', `attachment; filename="launch-${theme.replace(/[^\w.-]+/g, '-')}.html"`)
      .send(file);
  });

  function documentOf(verdict: GateJudgement, { counts }: RunModel): SheetDocument {
    const worth = new Map<string, number>();
    for (const { cause, theme, status, count } of counts.kinds)
      if (cause !== null && theme === verdict.theme && status !== 'exempt') worth.set(cause, (worth.get(cause) ?? 0) + count);
    return sheetDocument(verdict, { worth, version: session.gloam });
  }

  /** Kept for the run last looked at: it is finished, so only the day and what is accepted can change the verdicts. */
  let kept: { readonly key: string; readonly verdicts: Promise<readonly GateJudgement[]> } | undefined;
  async function judgementsOf(run: RunSummary, today: string): Promise<readonly GateJudgement[]> {
    const { configuration } = sources.criteria ?? { configuration: UNCONFIGURED };
    const accepted = (await ledger.acceptances()).map(({ id, undone }) => `${id} ${undone === null ? 'holds' : 'undone'}`);
    const key = JSON.stringify([run.id, today, accepted]);
    if (kept?.key === key) return kept.verdicts;
    const themes = run.themes.map(({ name }) => name);
    const verdicts = judgeThemes(ledger, configuration, { run, themes, today });
    if (run.state === 'finished') {
      kept = { key, verdicts };
      verdicts.catch(() => {
        if (kept?.key === key) kept = undefined;
      });
    }
    return verdicts;
  }

  async function nightsUntil(summary: RunSummary) {
    const runs = (await ledger.runs({ state: 'finished', whole: true }))
      .filter(({ startedAt }) => startedAt <= summary.startedAt)
      .slice(0, NIGHTS);
    return (await nights.of(runs.reverse())).map(({ run, sums }) => {
      const open = sums.filter(isCounted);
      const themes = run.themes.map(({ name }): [string, { findings: number; errors: number }] => {
        const mine = open.filter(({ theme }) => theme === name);
        return [name, { findings: total(mine), errors: total(mine.filter(({ level }) => level === 'error')) }];
      });
      return { run: run.id, at: run.startedAt, themes: new Map(themes) };
    });
  }
}

/** YYYY-MM-DD where the server stands. */
function dayOf(date: Date): string {
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${String(date.getFullYear())}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

function wordsOf({
  theme,
  may,
  criteria,
  counts,
  exemptions,
  notAsked,
  warnings,
  since,
}: GateJudgement): Omit<ThemeLaunch, 'coverage' | 'nights' | 'sheet'> {
  return {
    theme,
    may,
    criteria: criteria.map(({ id, name, met, needed, found, step, links }) => ({ id, name, met, needed, found, step, links })),
    counts,
    exemptions: exemptions.map(standingOf),
    notAsked,
    warnings,
    since,
  };
}

function standingOf(standing: ExemptionStanding): Exemption {
  const { exemption, state, daysLeft, idle } = standing;
  const { why, owner, until, covers } = exemption;
  return { scope: exemptionScope(standing), why, owner: owner ?? null, until: until ?? null, daysLeft, state, idle, covers };
}

function byOwner(
  facts: readonly { readonly owner?: string; readonly uses: number; readonly throughTokens: number }[],
): ThemeLaunch['coverage'] {
  const sums = new Map<string, { readonly owner: string; readonly uses: number; readonly throughTokens: number }>();
  for (const { owner = '', uses, throughTokens } of facts) {
    const old = sums.get(owner) ?? { owner, uses: 0, throughTokens: 0 };
    sums.set(owner, { owner, uses: old.uses + uses, throughTokens: old.throughTokens + throughTokens });
  }
  return [...sums.values()];
}
