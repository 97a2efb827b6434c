// A cause's repair put on the live pages: the affected views are rendered again with it, and what was predicted is held against what happens.
import { discoverPages } from '../../../runner/discover-pages.ts';
import { openApp } from '../../../runner/open-app.ts';
import type { Secrets } from '../../../runner/secrets.ts';
import { render } from '../../../runner/render.ts';
import { foldStates } from '../../checks/fold-states.ts';
import { runChecks } from '../../checks/run-checks.ts';
import { readTokens } from '../../config/read-tokens.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { groupId, makePlan } from '../../plan/make-plan.ts';
import type { CapturedView } from '../../samples/captured-view.ts';
import type { View } from '../../samples/view.ts';
import { compareTry, forecastOf, wearFor } from '../../triage/try-out.ts';
import type { TryOutcome } from '../../triage/try-out.ts';
import { readAccess } from '../read-access.ts';
import type { Environment } from '../read-access.ts';
import { checkSettings, toneOf } from './check-settings.ts';
import { dyedNames, levelOf } from './execute-run.ts';
import { explainRun, storedFacts } from './explain-run.ts';

export interface TriedCause {
  /** Null where the repair cannot be put on a page: a token that does not exist yet, a page to be built anew in its own way. */
  readonly outcome: TryOutcome | null;
  /** Views rendered again. */
  readonly views: number;
}

/** @returns null where the run has no such cause any more under the present configuration */
export async function tryCause(from: {
  readonly ledger: Ledger;
  readonly run: string;
  readonly cause: string;
  readonly configuration: Configuration;
  readonly env: Environment;
  readonly secrets: Secrets;
  readonly signal: AbortSignal;
  readonly now: Date;
}): Promise<TriedCause | null> {
  const { ledger, run, configuration, signal } = from;
  const tokens = readTokens(configuration);
  const accessAt = await readAccess(configuration, from);
  const app = await openApp(configuration.app, signal);
  const access = accessAt(app.origin);
  try {
    const pages = await discoverPages(configuration.pages, app.origin, signal, access);
    const { triaged, findings } = await explainRun({ facts: storedFacts(ledger, run), configuration, tokens, pages });
    const explained = triaged.causes.find(({ cause }) => cause.id === from.cause);
    if (explained === undefined) return null;
    const plan = makePlan({ origin: app.origin, pages, themes: configuration.themes, viewports: configuration.viewports });
    const worn = new Map(plan.map((view) => [view.id, wearFor(triaged.ground, explained, findings, view)]));
    const shown = new Set(explained.findings.flatMap((place) => findings[place]?.view ?? []));
    const affected = plan.filter((view) => shown.has(view.id) && worn.get(view.id) !== null);
    if (affected.length === 0) return { outcome: null, views: 0 };
    // Checks compare with the reference, so whole groups are rendered.
    const groups = new Set(affected.map(groupId));
    const views = plan.filter((view) => groups.has(groupId(view)));
    const captured: CapturedView[] = [];
    await render(
      {
        configuration,
        views,
        pages,
        dye: dyedNames(configuration, tokens),
        workers: 1,
        level: levelOf(configuration),
        ...(access === undefined ? {} : { access }),
        signal,
        wear: (view) => worn.get(view.id) ?? null,
      },
      (result) => {
        if (result.status === 'captured') captured.push(result);
      },
    );
    const today = from.now.toISOString().slice(0, 10);
    const judgedAgain = [...groups].flatMap((group) => {
      const members = captured.filter(({ view }) => groupId(view) === group);
      const judged = members.map(({ view, samples }) => ({ view, samples, tone: toneOf(configuration, view.theme) }));
      return runChecks(judged, checkSettings({ configuration, pages, today, run }, members[0]?.view));
    });
    const before = findings.filter(({ check }) => check !== 'drift' && check !== 'token-fault');
    // A page at rest that was not rendered again is as it was.
    const again = new Set(views.map(({ id }) => id));
    const after = foldStates(judgedAgain, [...judgedAgain, ...before.filter(({ view }) => !again.has(view))]);
    const names = new Set(affected.map((view: View) => view.id));
    return { outcome: compareTry(forecastOf(triaged.ground, explained, findings), names, { before, after }), views: views.length };
  } finally {
    await app.close();
  }
}
