// Reads from the ledger what the gate must know of one run: what all themes share once, then the facts of each that is judged.
import { pageUnsettled } from '../errors/capture-errors.ts';
import { type Base, BEFORE } from '../ledger/read/base-views.ts';
import type { Baselines, RunReader } from '../ledger/ports.ts';
import type { FindingKind, RunSummary, StoredView } from '../ledger/records.ts';
import type { Configuration } from '../plan/configuration.ts';
import type { Finding } from '../samples/finding.ts';
import { doubtsOf } from './doubts.ts';
import type { GateExemption, GateFacts, GateKind, GateView } from './facts.ts';
import { readAll } from './read-all.ts';
import { saidOf } from './said-of-view.ts';

/** Code of a view whose pixels still moved. */
const UNSETTLED = pageUnsettled('', '').code;

type Setup = Pick<Configuration, 'pages' | 'checks' | 'states'>;

export interface GateRequest {
  readonly theme: string;
  /** What to compare with, and the runs that is, newest first; null: nothing. */
  readonly since: { readonly base: Base; readonly runs: readonly string[] } | null;
  /** YYYY-MM-DD */
  readonly today: string;
  /** Sets that accepted pictures are looked up in; null when nobody asks for them. */
  readonly sets: readonly string[] | null;
  /** With `covers` (cover-exemptions.ts). */
  readonly exemptions: readonly GateExemption[];
}

/** Facts of one theme after the other; each thing of the run is read once. */
export async function gateFactsReader(
  ledger: RunReader & Baselines,
  configuration: Setup,
  run: RunSummary,
): Promise<(request: GateRequest) => Promise<GateFacts>> {
  const views = await readAll((page) => ledger.views(run.id, page));
  const pages = await expectedPages(ledger, configuration, run, views);
  const { previous } = run;
  const before = previous === null ? [] : await readAll((page) => ledger.views(previous, page));
  // Doubts are about pictures.
  const listed = configuration.pages.kind === 'list' ? configuration.pages.pages : [];
  const doubts = run.foretold === null ? doubtsOf(views, before, { pages: listed, states: configuration.states }) : [];
  const gone = await ledger.gone(run.id, 100_000);
  const causes = await ledger.causes(run.id);
  const coverage = await ledger.coverage(run.id);
  const kindsAgainst = kept((base: string) =>
    ledger.kinds(run.id, base === '' ? null : base === 'before' ? BEFORE : { kind: 'run', id: base.slice(4) }),
  );
  const acceptedIn = kept(async (sets: string) => new Set((await ledger.accepted(sets.split('\n'))).map((picture) => picture.id)));
  return async ({ theme, since, today, sets, exemptions }) => {
    const accepted = sets === null ? null : await acceptedIn(sets.join('\n'));
    const kinds = (
      await kindsAgainst(since === null ? '' : since.base.kind === 'before' ? 'before' : `run ${since.base.id}`)
    ).filter((kind) => kind.theme === theme);
    return {
      theme,
      run: {
        id: run.id,
        startedAt: run.startedAt,
        finishedAt: run.finishedAt,
        gloam: run.gloam,
        browser: run.browser,
        partial: run.narrowed || run.part !== null,
        ...(run.foretold === null ? {} : { foretold: true as const }),
      },
      today,
      views: views.filter((view) => view.theme === theme).map((view) => viewOf(view, accepted)),
      doubts: doubts.filter(({ view }) => view.theme === theme),
      pages,
      findings: await Promise.all(kinds.map((kind) => kindOf(ledger, run.id, kind))),
      gone: gone.filter((finding) => finding.theme === theme).length,
      causes,
      coverage: coverage
        .filter((fact) => fact.theme === theme)
        .map(({ owner = '', uses, throughTokens }) => ({ owner, uses, throughTokens })),
      exemptions,
      off: Object.keys(configuration.checks).filter((check) => configuration.checks[check] === 'off'),
      since: since === null ? null : runsInWords(since.runs),
    };
  };
}

/** `n4`; where views were last seen in several runs: `n4 and 2 before it`. */
function runsInWords([newest = '', ...older]: readonly string[]): string {
  return older.length === 0 ? newest : `${newest} and ${String(older.length)} before it`;
}

function kept<T>(read: (key: string) => Promise<T>): (key: string) => Promise<T> {
  const known = new Map<string, Promise<T>>();
  return (key) => {
    const value = known.get(key) ?? read(key);
    known.set(key, value);
    return value;
  };
}

function viewOf(view: StoredView, accepted: ReadonlySet<string> | null): GateView {
  const { id, page, theme, state, viewport, status, code, error, notes } = view;
  return {
    id,
    page,
    theme,
    state,
    viewport,
    status,
    trouble: status === 'failed' ? error : saidOf(notes, 'moving'),
    unsteady: status === 'failed' ? null : saidOf(notes, 'tries'),
    unread: status === 'failed' ? null : saidOf(notes, 'unread'),
    unsettled: code === UNSETTLED,
    accepted: accepted?.has(id) ?? null,
  };
}

async function kindOf(ledger: RunReader, run: string, { first, ...kind }: FindingKind): Promise<GateKind> {
  const findings = await Promise.all(first.map((id) => ledger.finding(run, id)));
  return { ...kind, first: findings.filter((finding): finding is Finding => finding !== undefined) };
}

/** As configured; where pages are found at run time, those the whole run before had. */
async function expectedPages(
  ledger: RunReader & Baselines,
  { pages }: Setup,
  run: RunSummary,
  views: readonly StoredView[],
): Promise<readonly string[]> {
  if (pages.kind === 'list') return pages.pages.map((page) => page.name);
  const { previous } = run;
  const before = previous === null ? views : await readAll((page) => ledger.views(previous, page));
  return [...new Set(before.map((view) => view.page))];
}
