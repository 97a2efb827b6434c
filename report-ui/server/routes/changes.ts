// Pictures against the accepted ones, and accepting.
import { userInfo } from 'node:os';
import type { FastifyInstance } from 'fastify';
import type { AcceptBody, Acceptance } from '../../api/changes.ts';
import { nothingToAccept } from '../../../src/errors/server-errors.ts';
import type { Acceptance as Stored } from '../../../src/ledger/records.ts';
import type { ServerContext } from '../context.ts';
import type { Events } from '../events.ts';
import { openChanges } from '../open-changes.ts';
import type { OpenChanges } from '../open-changes.ts';
import { route } from '../route.ts';
import { partOf, startOf } from '../slices.ts';

const CHANGES_AT_ONCE = 200;
const ACCEPTANCES_AT_ONCE = 100;
/** The set that the command line uses where nobody names another. */
const SET = 'main';

export function changeRoutes(app: FastifyInstance, { ledger, models }: ServerContext, events: Events): void {
  route(app, 'changeGroups', async ({ params }) => {
    const { accepted, changes, groups } = await openChanges(ledger, await models.of(params.run), SET);
    return {
      accepted,
      groups: groups.map(({ id, title, explanation, views }) => ({ id, title, explanation, views })),
      total: changes.size,
    };
  });
  route(app, 'changes', async ({ params, query }) => {
    const { changes, groups } = await openChanges(ledger, await models.of(params.run), SET);
    const of = groups.find(({ id }) => id === query.group)?.of ?? [];
    const mine = of.flatMap((view) => changes.get(view) ?? []);
    const { items, next } = partOf(mine, startOf(query.after), CHANGES_AT_ONCE);
    return { changes: items, total: mine.length, next };
  });
  route(app, 'acceptances', async ({ query }) => {
    const { items, next } = partOf(await ledger.acceptances(), startOf(query.after), ACCEPTANCES_AT_ONCE);
    return { acceptances: items.map(acceptanceOf), next };
  });
  route(app, 'accept', async ({ body }) => {
    const model = await models.of(body.run);
    const { views, dropped } = wanted(body.what, await openChanges(ledger, model, SET));
    if (views.length + dropped.length === 0) throw nothingToAccept();
    const act = { set: SET, who: userInfo().username, note: body.note, at: new Date().toISOString() };
    const acceptance = await ledger.accept(model.summary.id, { ...act, views, dropped });
    events.tell({ kind: 'accepted' });
    return acceptanceOf(acceptance);
  });
  route(app, 'undo', async ({ body }) => {
    const act = { by: userInfo().username, at: new Date().toISOString() };
    const acceptance = await ledger.undoAcceptance(body.acceptance, act);
    events.tell({ kind: 'accepted' });
    return acceptanceOf(acceptance);
  });
}

/** Only what still differs is accepted; the rest of the wish is done already. */
function wanted(
  what: AcceptBody['what'],
  { changes, groups }: OpenChanges,
): { readonly views: readonly string[]; readonly dropped: readonly string[] } {
  const ids =
    what.kind === 'all'
      ? [...changes.keys()]
      : what.kind === 'group'
        ? (groups.find(({ id }) => id === what.group)?.of ?? [])
        : what.views.filter((view) => changes.has(view));
  return { views: ids.filter((id) => changes.get(id)?.now !== null), dropped: ids.filter((id) => changes.get(id)?.now === null) };
}

function acceptanceOf({ id, at, run, who, note, views, undone }: Stored): Acceptance {
  return { id, at, run, who, note, views, undone: undone !== null };
}
