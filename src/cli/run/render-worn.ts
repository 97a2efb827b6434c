// Changed colours put on the live pages: the views they show in are rendered again, with the whole of their groups, and judged again.
import { openApp } from '../../../runner/app/open-app.ts';
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { render } from '../../../runner/render.ts';
import type { Secrets } from '../../../runner/app/secrets.ts';
import { foldStates } from '../../checks/fold-states.ts';
import { runChecks } from '../../checks/run-checks.ts';
import { readTokens } from '../../config/read-tokens.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { groupId, makePlan } from '../../plan/make-plan.ts';
import type { CapturedView } from '../../samples/captured-view.ts';
import type { Finding } from '../../samples/finding.ts';
import type { View } from '../../samples/view.ts';
import type { Triaged } from '../../triage/open-triage.ts';
import type { Wear } from '../../triage/try-out.ts';
import { readAccess } from '../read-access.ts';
import type { Environment } from '../read-access.ts';
import { checkSettings, toneOf } from './check-settings.ts';
import { dyedNames } from './execute-run.ts';
import { explainRun, storedFacts } from './explain-run.ts';

export interface WornFrom {
  readonly ledger: Ledger;
  readonly run: string;
  readonly configuration: Configuration;
  readonly env: Environment;
  readonly secrets: Secrets;
  readonly signal: AbortSignal;
  readonly now: Date;
}

/** A stored run explained anew, and the views of the live app. */
export interface WornSetting {
  readonly triaged: Triaged;
  readonly findings: readonly Finding[];
  readonly plan: readonly View[];
}

export interface Worn {
  /** Ids of the views in which something was changed. */
  readonly names: ReadonlySet<string>;
  /** Rendered again: those, and the rest of their groups. */
  readonly views: number;
  /** Findings of all views, without and with the change. */
  readonly before: readonly Finding[];
  readonly after: readonly Finding[];
}

/**
 * @param wearIn what each view wears; null where nothing changes. Null in all when there is nothing to try
 * @returns null where nothing is worn anywhere
 */
export async function renderWorn<T>(
  from: WornFrom,
  wearIn: (setting: WornSetting) => { readonly wear: ReadonlyMap<string, Wear | null>; readonly kept: T } | null,
): Promise<{ readonly worn: Worn | null; readonly kept: T } | null> {
  const { ledger, run, configuration, signal } = from;
  const today = from.now.toISOString().slice(0, 10);
  const tokens = readTokens(configuration);
  const accessAt = await readAccess(configuration, from);
  const app = await openApp(configuration.app, signal);
  const access = accessAt(app.origin);
  try {
    const pages = await discoverPages(configuration.pages, app.origin, signal, access);
    const { triaged, findings } = await explainRun({ facts: storedFacts(ledger, run), configuration, tokens, pages, today });
    const plan = makePlan({ origin: app.origin, pages, themes: configuration.themes, viewports: configuration.viewports });
    const asked = wearIn({ triaged, findings, plan });
    if (asked === null) return null;
    const { wear, kept } = asked;
    const affected = plan.filter((view) => (wear.get(view.id) ?? null) !== null);
    if (affected.length === 0) return { worn: null, kept };
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
        ...(access === undefined ? {} : { access }),
        signal,
        wear: (view) => wear.get(view.id) ?? null,
      },
      (result) => {
        if (result.status === 'captured') captured.push(result);
      },
    );
    const judgedAgain = [...groups].flatMap((group) => {
      const members = captured.filter(({ view }) => groupId(view) === group);
      const judged = members.map(({ view, samples }) => ({ view, samples, tone: toneOf(configuration, view.theme) }));
      return runChecks(judged, checkSettings({ configuration, pages, today, run }, members[0]?.view));
    });
    const before = findings.filter(({ check }) => check !== 'drift' && check !== 'token-fault');
    // A page at rest that was not rendered again is as it was.
    const again = new Set(views.map(({ id }) => id));
    const after = foldStates(judgedAgain, [...judgedAgain, ...before.filter(({ view }) => !again.has(view))]);
    return { worn: { names: new Set(affected.map(({ id }) => id)), views: views.length, before, after }, kept };
  } finally {
    await app.close();
  }
}
