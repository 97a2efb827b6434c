// One page of the app under test: its views, its findings and the samples behind them.
import type { FastifyInstance } from 'fastify';
import type { Evidence, JudgedSample } from '../../api/findings.ts';
import type { PageView } from '../../api/page.ts';
import type { Standard } from '../../../src/checks/verdict-on-sample.ts';
import { standardOf, verdictOnSample } from '../../../src/checks/verdict-on-sample.ts';
import { nothingHere } from '../../../src/errors/server-errors.ts';
import type { StoredView } from '../../../src/ledger/records.ts';
import { noteWords } from '../../../src/samples/note-words.ts';
import type { Sample } from '../../../src/samples/sample.ts';
import type { ServerContext } from '../context.ts';
import { keptFacts } from '../kept-facts.ts';
import { route } from '../route.ts';
import { fittingSlice, partOf, startOf } from '../slices.ts';
import { distinct } from '../tally.ts';

const FINDINGS_AT_ONCE = 250;
const PLACES_AT_ONCE = 60;
/** Findings of one page, state and viewport whose samples are looked up, at most. */
const MOST_KEYS = 20_000;
const MOST_NOTES = 20;

export function pageRoutes(app: FastifyInstance, context: ServerContext): void {
  const { ledger, models } = context;
  const factsOf = keptFacts(context);

  route(app, 'page', async ({ params, query }) => {
    const { summary, views } = await models.of(params.run);
    const pages = distinct(views.map(({ page }) => page));
    const at = pages.indexOf(query.page);
    if (at < 0) throw nothingHere(`page ${query.page}`);
    const owners = (await ledger.coverage(summary.id)).filter(({ page, owner }) => page === query.page && owner !== undefined);
    return {
      page: query.page,
      owner: [...owners].sort((a, b) => b.uses - a.uses)[0]?.owner ?? null,
      before: pages[at - 1] ?? null,
      after: pages[at + 1] ?? null,
      views: views.filter(({ page }) => page === query.page).map(pageView),
    };
  });

  route(app, 'findings', async ({ params, query: { after, ...asked } }) => {
    const { summary } = await models.of(params.run);
    const filter = Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== undefined));
    const rest = after === undefined ? {} : { after };
    const { items, next } = await fittingSlice(
      (limit) => ledger.findings(summary.id, { ...filter, ...rest, limit }),
      FINDINGS_AT_ONCE,
    );
    return { findings: items, total: await ledger.countFindings(summary.id, filter), next };
  });

  route(app, 'evidence', async ({ params, query: { page, state, viewport, key, after } }) => {
    const { summary, views } = await models.of(params.run);
    const mine = views.filter(
      (view) => view.page === page && view.state === state && view.viewport === viewport && view.status === 'captured',
    );
    const keys = key === undefined ? await keysOf(context, summary.id, { page, state, viewport }) : [key];
    const { items, next } = partOf(keys, startOf(after), PLACES_AT_ONCE);
    const standard = standardOf(summary);
    const samples = await Promise.all(mine.map(async (view) => ({ view, samples: await factsOf(summary.id, view) })));
    const places: Evidence['places'] = items.map((wanted) => ({
      key: wanted,
      samples: Object.fromEntries(
        samples.flatMap(({ view, samples: found }) => {
          const sample = found.get(wanted);
          return sample === undefined ? [] : [[view.theme, judged(sample, view, standard)]];
        }),
      ),
    }));
    const part = partOf(places, 0, PLACES_AT_ONCE);
    return { places: part.items, next: part.next === null ? next : String(startOf(after) + part.items.length) };
  });
}

function judged(sample: Sample, view: StoredView, standard: Standard): JudgedSample {
  return sample.kind === 'text' || sample.kind === 'graphic'
    ? { ...sample, judged: verdictOnSample(sample, view, standard) }
    : sample;
}

function pageView(view: StoredView): PageView {
  const { id, theme, state, viewport, url, shot, title, widthCssPx, heightCssPx, scale, ms, findings, notes, error } = view;
  return {
    id,
    theme,
    state,
    viewport,
    url,
    status: view.status,
    ...(error === null ? {} : { error }),
    shot,
    title: title ?? '',
    widthCssPx: widthCssPx ?? 0,
    heightCssPx: heightCssPx ?? 0,
    scale: scale ?? 1,
    ms: ms ?? 0,
    findings,
    notes: notes
      .slice(0, MOST_NOTES)
      .map((note) => ({ code: note.code, ...(note.at === undefined ? {} : { at: note.at }), words: noteWords(note) })),
  };
}

/** Keys of the places that have findings, in a fixed order. */
async function keysOf(
  { ledger }: ServerContext,
  run: string,
  filter: { readonly page: string; readonly state: string; readonly viewport: string },
): Promise<readonly string[]> {
  const keys = new Set<string>();
  let after: string | undefined;
  let read = 0;
  do {
    const slice = await ledger.findings(run, { ...filter, limit: 1_000, ...(after === undefined ? {} : { after }) });
    for (const { key } of slice.items) keys.add(key);
    read += slice.items.length;
    after = slice.next ?? undefined;
  } while (after !== undefined && read < MOST_KEYS);
  return [...keys];
}
