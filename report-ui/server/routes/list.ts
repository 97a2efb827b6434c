// The one list of findings.
import type { FastifyInstance } from 'fastify';
import type { Grouping, ListFilter } from '../../api/list.ts';
import { causeSubject } from '../../../src/gate/words.ts';
import type { ServerContext } from '../context.ts';
import { narrow, wordsFor } from '../finding-index.ts';
import type { FindingIndex, Narrowed } from '../finding-index.ts';
import { route } from '../route.ts';
import type { RunModel } from '../run-model.ts';
import { fitting, partOf, startOf } from '../slices.ts';

const ROWS_AT_ONCE = 40;
const GROUPS_AT_ONCE = 1_000;
/** Ways of narrowing that are kept of an index: rows are asked for part by part. */
const KEPT = 12;

export function listRoutes(app: FastifyInstance, { ledger, models, indexes }: ServerContext): void {
  const narrowed = keptNarrowings();
  route(app, 'list', async ({ params, query: { after, group = 'cause', ...filter } }) => {
    const index = await indexes.of(await models.of(params.run));
    const { order, groups, fresh, errors, facets } = await narrowed(index, filter, group);
    const part = partOf(groups, startOf(after), GROUPS_AT_ONCE);
    return {
      total: order.length,
      fresh,
      errors,
      groups: part.items,
      groupsTotal: groups.length,
      facets,
      next: part.next,
    };
  });
  route(app, 'rows', async ({ params, query: { from = 0, group = 'cause', ...filter } }) => {
    const model = await models.of(params.run);
    const index = await indexes.of(model);
    const { order } = await narrowed(index, filter, group);
    const numbers = order.slice(from, from + ROWS_AT_ONCE).flatMap((at) => index.numbers[at] ?? []);
    const findings = await ledger.numberedFindings(model.summary.id, numbers);
    const viewOf = viewsById(model);
    const rows = findings.map((finding) => {
      const view = viewOf.get(finding.view);
      const cause = finding.cause === null ? undefined : index.causes.get(finding.cause);
      return {
        finding,
        shot: view?.shot ?? null,
        widthCssPx: view?.widthCssPx ?? 0,
        heightCssPx: view?.heightCssPx ?? 0,
        scale: view?.scale ?? 1,
        cause: cause === undefined ? null : (causeSubject(cause) ?? cause.layer),
      };
    });
    return { from, rows: fitting(rows), total: order.length };
  });
}

const byId = new WeakMap<RunModel, ReadonlyMap<string, RunModel['views'][number]>>();
function viewsById(model: RunModel): ReadonlyMap<string, RunModel['views'][number]> {
  const known = byId.get(model) ?? new Map(model.views.map((view) => [view.id, view]));
  byId.set(model, known);
  return known;
}

function keptNarrowings(): (index: FindingIndex, filter: ListFilter, group: Grouping) => Promise<Narrowed> {
  const kept = new WeakMap<FindingIndex, Map<string, Promise<Narrowed>>>();
  return (index, filter, group) => {
    const mine = kept.get(index) ?? new Map<string, Promise<Narrowed>>();
    kept.set(index, mine);
    const key = JSON.stringify([group, Object.entries(filter).sort()]);
    const known = mine.get(key);
    if (known !== undefined) return known;
    const made = wordsFor(index, filter).then((words) => narrow(index, filter, group, words));
    mine.set(key, made);
    made.catch(() => mine.delete(key));
    const [oldest] = mine.keys();
    if (mine.size > KEPT && oldest !== undefined) mine.delete(oldest);
    return made;
  };
}
