// Pictures against the accepted ones, and accepting.
import type { FastifyInstance } from 'fastify';
import { nothingToAccept } from '../../../src/errors/server-errors.ts';
import type { ServerContext } from '../context.ts';
import type { Events } from '../events.ts';
import { route } from '../route.ts';
import type { AcceptedPictures } from '../sources.ts';
import { partOf, startOf } from '../slices.ts';

const CHANGES_AT_ONCE = 200;
const ACCEPTANCES_AT_ONCE = 100;

export function changeRoutes(app: FastifyInstance, { models, sources }: ServerContext, events: Events): void {
  const { pictures } = sources;
  route(app, 'changeGroups', async ({ params }) => {
    const { summary } = await models.of(params.run);
    const groups = (await pictures?.groups(summary.id)) ?? [];
    return { known: pictures !== undefined, groups, total: groups.reduce((sum, { views }) => sum + views, 0) };
  });
  route(app, 'changes', async ({ params, query }) => {
    const { summary } = await models.of(params.run);
    const changes = (await pictures?.changes(summary.id, query.group)) ?? [];
    const { items, next } = partOf(changes, startOf(query.after), CHANGES_AT_ONCE);
    return { changes: items, total: changes.length, next };
  });
  route(app, 'acceptances', async ({ query }) => {
    const { items, next } = partOf((await pictures?.acceptances()) ?? [], startOf(query.after), ACCEPTANCES_AT_ONCE);
    return { acceptances: items, next };
  });
  route(app, 'accept', async ({ body }) => {
    const acceptance = await able(pictures).accept(body);
    events.tell({ kind: 'accepted' });
    return acceptance;
  });
  route(app, 'undo', async ({ body }) => {
    const acceptance = await able(pictures).undo(body.acceptance);
    events.tell({ kind: 'accepted' });
    return acceptance;
  });
}

function able(pictures: AcceptedPictures | undefined): AcceptedPictures {
  if (pictures === undefined) throw nothingToAccept();
  return pictures;
}
