// Changed colours put on the live pages: the views they show in are rendered again, with the whole of their groups, and judged again.
import { openApp } from '../../../runner/app/open-app.ts';
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { render } from '../../../runner/render.ts';
import type { Secrets } from '../../../runner/app/secrets.ts';
import { foldStates } from '../../checks/fold-states.ts';
import { runChecks } from '../../checks/run-checks.ts';
import type { Access } from '../../../runner/app/access.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import { readTokens } from '../../config/read-tokens.ts';
import type { RunReader } from '../../ledger/ports.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import { groupId, makePlan } from '../../plan/make-plan.ts';
import type { CapturedView } from '../../samples/captured-view.ts';
import type { Finding } from '../../samples/finding.ts';
import type { View } from '../../samples/view.ts';
import type { Triaged } from '../../triage/open-triage.ts';
import type { Wear, WornProperty } from '../../triage/try-out.ts';
import { allOf } from '../choose-run.ts';
import { readAccess } from '../read-access.ts';
import type { Environment } from '../read-access.ts';
import { checkSettings, toneOf } from './check-settings.ts';
import { dyedNames } from './execute-run.ts';
import { explainRun, storedFacts } from './explain-run.ts';

export interface WornFrom {
  readonly ledger: RunReader;
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
    const views = viewsWith(plan, wear, configuration.reference);
    if (views.length === 0) return { worn: null, kept };
    const apart = await leavesBehind(ledger, run);
    const { found } = await renderWearing({ configuration, tokens, pages, access, signal, today, run, apart }, views, wear);
    const before = findings.filter(({ check }) => check !== 'drift' && check !== 'token-fault');
    // A page at rest that was not rendered again is as it was.
    const again = new Set(views.map(({ id }) => id));
    const after = foldStates(found, [...found, ...before.filter(({ view }) => !again.has(view))]);
    const names = new Set(views.filter((view) => (wear.get(view.id) ?? null) !== null).map(({ id }) => id));
    return { worn: { names, views: views.length, before, after }, kept };
  } finally {
    await app.close();
  }
}

/** Whether a switch of theme left something behind on a page of the run: what a repair is tried on is loaded as the run loaded it. */
export async function leavesBehind(ledger: RunReader, run: string): Promise<boolean> {
  const views = await allOf((request) => ledger.views(run, request));
  return views.some(({ notes }) => notes.some(({ code }) => code === 'left-behind'));
}

/** @returns null where nothing is worn */
export function wearing(properties: readonly WornProperty[]): Wear | null {
  return properties.length === 0 ? null : { properties, rules: [] };
}

/** Views that wear something, with all that is judged together with them. */
export function viewsWith(plan: readonly View[], wear: ReadonlyMap<string, Wear | null>, reference: string): readonly View[] {
  const affected = plan.filter((view) => (wear.get(view.id) ?? null) !== null);
  const groups = new Set(affected.map(groupId));
  // Checks compare with the reference: where that changes, the other themes of the group are judged anew too.
  const whole = new Set(affected.filter(({ theme }) => theme === reference).map(groupId));
  const names = new Set(affected.map(({ id }) => id));
  return plan.filter((view) => {
    const group = groupId(view);
    return names.has(view.id) || whole.has(group) || (groups.has(group) && view.theme === reference);
  });
}

/** @returns what was captured, and what is found there; findings of states are not yet held against those at rest */
export async function renderWearing(
  from: {
    readonly configuration: Configuration;
    readonly tokens: ReadConfigured | null;
    readonly pages: readonly Page[];
    readonly access: Access | undefined;
    readonly signal: AbortSignal;
    readonly today: string;
    readonly run: string;
    readonly apart: boolean;
  },
  views: readonly View[],
  wear: ReadonlyMap<string, Wear | null>,
  onView: (view: CapturedView) => void = () => undefined,
): Promise<{ readonly found: readonly Finding[] }> {
  const { configuration, tokens, pages, access, signal, today, run, apart } = from;
  const owed = new Map<string, number>();
  for (const view of views) owed.set(groupId(view), (owed.get(groupId(view)) ?? 0) + 1);
  const waiting = new Map<string, CapturedView[]>();
  const found: Finding[] = [];
  const judge = (group: string): void => {
    const members = waiting.get(group) ?? [];
    waiting.delete(group);
    const judged = members.map(({ view, samples }) => ({ view, samples, tone: toneOf(configuration, view.theme) }));
    found.push(...runChecks(judged, checkSettings({ configuration, pages, today, run }, members[0]?.view)));
  };
  await render(
    {
      configuration,
      views,
      pages,
      dye: dyedNames(configuration, tokens),
      workers: 1,
      apart,
      ...(access === undefined ? {} : { access }),
      signal,
      wear: (view) => wear.get(view.id) ?? null,
    },
    (result) => {
      const group = groupId(result.view);
      if (result.status === 'captured') {
        waiting.set(group, [...(waiting.get(group) ?? []), result]);
        onView(result);
      }
      const left = (owed.get(group) ?? 1) - 1;
      owed.set(group, left);
      if (left === 0) judge(group);
    },
  );
  return { found };
}
