// Causes with what they reach.
import type { FastifyInstance } from 'fastify';
import type { RankedCause } from '../../api/findings.ts';
import { nothingHere } from '../../../src/errors/server-errors.ts';
import { causeSubject } from '../../../src/gate/words.ts';
import type { ServerContext } from '../context.ts';
import { route } from '../route.ts';
import type { CountedCause } from '../run-model.ts';
import { fittingSlice, partOf, startOf } from '../slices.ts';
import { byCheck, total } from '../tally.ts';
import { isCounted } from '../../../src/samples/what-counts.ts';

const CAUSES_AT_ONCE = 100;
const PLACES_AT_ONCE = 60;

export function rankCause({ cause, counts }: CountedCause): RankedCause {
  return {
    ...cause,
    subject: causeSubject(cause),
    fresh: total(counts.filter(({ status }) => status === 'new')),
    checks: byCheck(counts.filter(isCounted)),
  };
}

export function causeRoutes(app: FastifyInstance, { ledger, models }: ServerContext): void {
  route(app, 'causes', async ({ params, query }) => {
    const causes = (await (await models.of(params.run)).causes()).map(rankCause);
    const { items, next } = partOf(causes, startOf(query.after), CAUSES_AT_ONCE);
    return { causes: items, total: causes.length, next };
  });
  route(app, 'cause', async ({ params, query }) => {
    const counted = (await (await models.of(params.run)).causes()).find(({ cause }) => cause.id === query.id);
    if (counted === undefined) throw nothingHere(`cause ${query.id}`);
    return rankCause(counted);
  });
  route(app, 'places', async ({ params, query: { cause, after } }) => {
    const { summary, views } = await models.of(params.run);
    const viewOf = new Map(views.map((view) => [view.id, view]));
    const asked = after === undefined ? { cause } : { cause, after };
    const { items, next } = await fittingSlice((limit) => ledger.findings(summary.id, { ...asked, limit }), PLACES_AT_ONCE);
    const places = items.map((finding) => {
      const view = viewOf.get(finding.view);
      return {
        finding,
        shot: view?.shot ?? null,
        widthCssPx: view?.widthCssPx ?? 0,
        heightCssPx: view?.heightCssPx ?? 0,
        scale: view?.scale ?? 1,
      };
    });
    return { places, total: await ledger.countFindings(summary.id, { cause }), next };
  });
}
