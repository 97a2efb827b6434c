// The morning queue: what is new and not answered yet, and the three answers to it, each of which can be taken back.
import { userInfo } from 'node:os';
import type { FastifyInstance } from 'fastify';
import type { Given, Look, Looks } from '../../api/queue.ts';
import { answerUnknown, nothingHere, nothingToAccept } from '../../../src/errors/server-errors.ts';
import type { StoredView } from '../../../src/ledger/records.ts';
import type { Finding } from '../../../src/samples/finding.ts';
import type { ServerContext } from '../context.ts';
import type { Events } from '../events.ts';
import { narrow, valueAt } from '../finding-index.ts';
import { keptFacts } from '../kept-facts.ts';
import { openChanges } from '../open-changes.ts';
import { route } from '../route.ts';
import type { RunModel } from '../run-model.ts';
import { fitting } from '../slices.ts';
import { rankCause } from './causes.ts';

const ITEMS_SHOWN = 500;
const LOOKS_SHOWN = 12;
/** Findings of a cause that are told apart by their looks; the rest counts as more of these. */
const MOST_SORTED = 4_000;
const SET = 'main';

export function queueRoutes(app: FastifyInstance, context: ServerContext, events: Events): void {
  const { ledger, models, indexes, answers, sources, session } = context;
  const factsOf = keptFacts(context);
  /** Ways to put a configuration back as it was, by answer; as long as this server runs. */
  const undoing = new Map<string, () => Promise<boolean>>();

  route(app, 'queue', async ({ params }) => {
    const model = await models.of(params.run);
    const all = await answers.all();
    const fresh = (await model.causes()).map(rankCause).filter((cause) => cause.fresh > 0);
    const items = fresh.map((cause) => ({ cause, answer: standing(all, model.summary.id, cause.id) }));
    return {
      items: fitting(items.slice(0, ITEMS_SHOWN)),
      total: items.length,
      left: items.filter(({ answer }) => answer === null).length,
      may: { answer: session.token !== null, write: sources.exempt !== undefined },
    };
  });

  route(app, 'looks', async ({ params, query: { cause } }) => {
    const model = await models.of(params.run);
    const findings = await openFindings(model, cause);
    const groups = new Map<string, Finding[]>();
    for (const finding of findings) {
      const look = lookOf(finding);
      const there = groups.get(look);
      if (there === undefined) groups.set(look, [finding]);
      else there.push(finding);
    }
    const ranked = [...groups.values()].sort((a, b) => b.length - a.length);
    const shown = await Promise.all(ranked.slice(0, LOOKS_SHOWN).map((group) => lookAt(model, group)));
    return {
      looks: fitting(shown.filter((look) => look !== null)),
      total: ranked.length,
      pictures: await picturesOf(model, cause),
    };
  });

  route(app, 'answer', async ({ body: { wish } }) => {
    const model = await models.of(wish.run);
    const act = { run: model.summary.id, cause: wish.cause, who: userInfo().username, at: new Date().toISOString() };
    switch (wish.kind) {
      case 'hand-on':
        return answers.add({ ...act, kind: wish.kind, note: wish.note, owner: wish.owner, done: `Handed on to ${wish.owner}.` });
      case 'intended': {
        const views = await viewsToAccept(model, wish.cause, wish);
        if (views.length === 0) throw nothingToAccept();
        const made = await ledger.accept(act.run, { set: SET, who: act.who, note: wish.note, at: act.at, views });
        events.tell({ kind: 'accepted' });
        const done = `${String(made.views)} ${made.views === 1 ? 'picture' : 'pictures'} accepted.`;
        return answers.add({ ...act, kind: wish.kind, note: wish.note, acceptance: made.id, done });
      }
      case 'exempt': {
        const finding = await ledger.finding(act.run, wish.finding);
        if (finding === undefined) throw nothingHere(`finding ${wish.finding}`);
        const { why, owner, until, any } = wish;
        const asked = { why, any, ...(owner === undefined ? {} : { owner }), ...(until === undefined ? {} : { until }) };
        const written = (await sources.exempt?.(finding, asked)) ?? null;
        const named = { ...act, kind: wish.kind, note: why, ...(owner === undefined ? {} : { owner }) };
        if (written === null)
          return answers.add({ ...named, done: 'Not written from here: type the command.', command: commandOf(finding, asked) });
        const answer = await answers.add({ ...named, done: `Written to ${written.file}; it holds from the next run on.` });
        undoing.set(answer.id, written.undo);
        return answer;
      }
    }
  });

  route(app, 'takeBack', async ({ body }) => {
    const answer = (await answers.all()).find(({ id }) => id === body.answer);
    if (answer === undefined) throw answerUnknown(body.answer);
    if (answer.acceptance !== undefined) {
      await ledger.undoAcceptance(answer.acceptance, { by: userInfo().username, at: new Date().toISOString() });
      events.tell({ kind: 'accepted' });
    }
    const undo = undoing.get(answer.id);
    const put = await undo?.();
    undoing.delete(answer.id);
    await answers.remove(answer.id);
    const left = answer.kind === 'exempt' && answer.command === undefined && put !== true;
    return {
      ...answer,
      done: left ? 'Taken back here. The exemption itself stands in the configuration: take it out by hand.' : 'Taken back.',
    };
  });

  async function openFindings(model: RunModel, cause: string): Promise<readonly Finding[]> {
    const index = await indexes.of(model);
    const { order } = narrow(index, { cause }, 'none');
    const numbers = order.slice(0, MOST_SORTED).flatMap((at) => index.numbers[at] ?? []);
    return ledger.numberedFindings(model.summary.id, numbers);
  }

  async function lookAt(model: RunModel, group: readonly Finding[]): Promise<Look | null> {
    const [finding] = group;
    if (finding === undefined) return null;
    const view = model.views.find(({ id }) => id === finding.view);
    return { here: { finding, ...shotOf(view) }, reference: await inReference(model, finding), count: group.length };
  }

  /** The same place in the reference theme: where its sample lies there, else where it lies here. */
  async function inReference(model: RunModel, { page, theme, state, viewport, key, rect }: Finding): Promise<Look['reference']> {
    const { reference, id } = model.summary;
    if (theme === reference) return null;
    const view = model.views.find(
      (one) => one.page === page && one.theme === reference && one.state === state && one.viewport === viewport,
    );
    if (view === undefined || view.shot === null) return null;
    return { ...shotOf(view), rect: (await factsOf(id, view)).get(key)?.rect ?? rect };
  }

  async function viewsToAccept(
    model: RunModel,
    cause: string,
    { page, theme }: { readonly page?: string | undefined; readonly theme?: string | undefined },
  ): Promise<readonly string[]> {
    const index = await indexes.of(model);
    const { order } = narrow(index, { cause, status: 'all' }, 'none');
    const place = ['page', 'theme', 'state', 'viewport'] as const;
    const of = new Set(order.map((at) => place.map((column) => valueAt(index, column, at)).join('\n')));
    const { changes } = await openChanges(ledger, model, SET);
    return [...changes.values()]
      .filter((change) => change.now !== null && of.has(place.map((column) => change[column]).join('\n')))
      .filter((change) => (page === undefined || change.page === page) && (theme === undefined || change.theme === theme))
      .map(({ view }) => view);
  }

  async function picturesOf(model: RunModel, cause: string): Promise<Looks['pictures']> {
    const counts = new Map<string, { page: string; theme: string; count: number }>();
    const views = new Map(model.views.map((view) => [view.id, view]));
    for (const id of await viewsToAccept(model, cause, {})) {
      const { page = '', theme = '' } = views.get(id) ?? {};
      const there = counts.get(`${page}\n${theme}`) ?? { page, theme, count: 0 };
      counts.set(`${page}\n${theme}`, { ...there, count: there.count + 1 });
    }
    return fitting([...counts.values()]);
  }
}

/** The answer that holds: one of this very run, or that somebody else has it in hand since an earlier one. */
function standing(all: readonly Given[], run: string, cause: string): Given | null {
  return all.findLast((answer) => answer.cause === cause && (answer.run === run || answer.kind === 'hand-on')) ?? null;
}

/** Two findings look the same where the same was measured of the same kind of thing in the same theme. */
function lookOf({ check, theme, measured, expected }: Finding): string {
  const rounded = Object.entries(measured).map(([name, value]) => [name, typeof value === 'number' ? value.toFixed(1) : value]);
  return JSON.stringify([check, theme, rounded, expected]);
}

function shotOf(view: StoredView | undefined): Pick<Look['here'], 'shot' | 'widthCssPx' | 'heightCssPx' | 'scale'> {
  return {
    shot: view?.shot ?? null,
    widthCssPx: view?.widthCssPx ?? 0,
    heightCssPx: view?.heightCssPx ?? 0,
    scale: view?.scale ?? 1,
  };
}

function commandOf(
  { id }: Finding,
  {
    why,
    owner,
    until,
    any,
  }: { readonly why: string; readonly owner?: string; readonly until?: string; readonly any: readonly string[] },
): string {
  const quoted = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;
  return [
    `gloam exempt ${id} --why ${quoted(why)}`,
    ...(owner === undefined ? [] : [`--owner ${quoted(owner)}`]),
    ...(until === undefined ? [] : [`--until ${until}`]),
    ...any.map((part) => `--any ${part}`),
  ].join(' ');
}
