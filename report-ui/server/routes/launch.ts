// The gate's verdict on every theme of a run.
import type { FastifyInstance } from 'fastify';
import type { Exemption, ThemeLaunch } from '../../api/launch.ts';
import { exemptionScope } from '../../../src/gate/exemption-standing.ts';
import { judgeRun } from '../../../src/gate/judge-run.ts';
import type { ExemptionStanding, GateVerdict } from '../../../src/gate/verdict.ts';
import type { RunSummary } from '../../../src/ledger/records.ts';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';
import type { ReportSources } from '../sources.ts';
import { total } from '../tally.ts';

/** Nights of the trend on the sheet. */
const NIGHTS = 30;

/** Without a configuration the least is asked, and the pages of the run before are expected again. */
const UNCONFIGURED: NonNullable<ReportSources['criteria']>['configuration'] = {
  pages: { kind: 'follow', path: '/', limit: 0 },
  checks: {},
  exempt: [],
  gate: {},
};

export function launchRoutes(app: FastifyInstance, { ledger, models, sources }: ServerContext): void {
  route(app, 'launch', async ({ params }) => {
    const { summary } = await models.of(params.run);
    const themes = summary.themes.map(({ name }) => name);
    const today = dayOf(new Date());
    const { configuration, changedAt } = sources.criteria ?? { configuration: UNCONFIGURED, changedAt: new Date(0) };
    const verdicts = await judgeRun(ledger, configuration, { run: summary, themes, today, changedAt });
    const coverage = await ledger.coverage(summary.id);
    const nights = await nightsUntil(summary);
    return {
      today,
      configured: sources.criteria !== undefined,
      themes: verdicts.map((verdict): ThemeLaunch => ({
        ...wordsOf(verdict),
        coverage: byOwner(coverage.filter(({ theme }) => theme === verdict.theme)),
        nights: nights.flatMap(({ run, at, themes: counts }) => {
          const mine = counts.get(verdict.theme);
          return mine === undefined ? [] : [{ run, at, ...mine }];
        }),
      })),
    };
  });

  async function nightsUntil(summary: RunSummary) {
    const runs = (await ledger.runs({ state: 'finished' }))
      .filter(({ startedAt }) => startedAt <= summary.startedAt)
      .slice(0, NIGHTS);
    return Promise.all(
      runs.reverse().map(async (run) => {
        const { counts } = await models.of(run.id);
        const open = counts.filter(({ status }) => status !== 'exempt');
        const themes = run.themes.map(({ name }): [string, { findings: number; errors: number }] => {
          const mine = open.filter(({ theme }) => theme === name);
          return [name, { findings: total(mine), errors: total(mine.filter(({ level }) => level === 'error')) }];
        });
        return { run: run.id, at: run.startedAt, themes: new Map(themes) };
      }),
    );
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
  warnings,
  since,
}: GateVerdict): Omit<ThemeLaunch, 'coverage' | 'nights'> {
  return {
    theme,
    may,
    criteria: criteria.map(({ id, name, met, needed, found, step, links }) => ({ id, name, met, needed, found, step, links })),
    counts,
    exemptions: exemptions.map(standingOf),
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
