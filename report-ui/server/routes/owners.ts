// Findings by owner, and how each owner's went over the nights.
import type { FastifyInstance } from 'fastify';
import type { OwnerRow } from '../../api/owners.ts';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';
import { total } from '../tally.ts';

const NIGHTS = 30;
/** A fortnight, as sprints often are (common practice). */
const DAYS = 14;
const DAY_MS = 86_400_000;

export function ownerRoutes(app: FastifyInstance, { ledger, models, nights, answers }: ServerContext): void {
  route(app, 'owners', async ({ params }) => {
    const model = await models.of(params.run);
    const { summary } = model;
    const open = model.counts.kinds.filter(({ status }) => status !== 'exempt');
    const gone = await model.gone();
    const until = (await ledger.runs({ state: 'finished', whole: true })).filter(({ startedAt }) => startedAt <= summary.startedAt);
    const told = (await nights.of(until.slice(0, NIGHTS).reverse())).map(({ run, sums }) => ({
      at: run.startedAt,
      sums: sums.filter(({ status }) => status !== 'exempt'),
    }));
    const dayThen = new Date(summary.startedAt).getTime() - DAYS * DAY_MS;
    const then = until.find(({ startedAt }) => new Date(startedAt).getTime() <= dayThen);
    const sumsThen = then === undefined ? null : ((await nights.of([then]))[0]?.sums ?? []);
    const handed = (await answers.all()).filter(({ kind }) => kind === 'hand-on');
    const names = new Set([
      ...open.map(nameOf),
      ...gone.map(nameOf),
      ...(await ledger.owners(summary.id)).map((owner) => (owner === '' ? '-' : owner)),
      ...handed.flatMap(({ owner }) => owner ?? []),
    ]);
    const rows = [...names].map((owner): OwnerRow => {
      const of = <T extends { readonly owner: string | null; readonly count: number }>(cells: readonly T[]): readonly T[] =>
        cells.filter((cell) => nameOf(cell) === owner);
      const mine = of(open);
      return {
        owner,
        open: total(mine),
        errors: total(mine.filter(({ level }) => level === 'error')),
        fresh: total(mine.filter(({ status }) => status === 'new')),
        gone: total(of(gone)),
        before: sumsThen === null ? null : total(of(sumsThen.filter(({ status }) => status !== 'exempt'))),
        trend: told.map(({ at, sums }) => [at, total(of(sums))] as const),
        handed: handed.filter((answer) => answer.owner === owner),
      };
    });
    return { rows: rows.sort((a, b) => b.open - a.open), days: DAYS };
  });
}

function nameOf({ owner }: { readonly owner: string | null }): string {
  return owner ?? '-';
}
