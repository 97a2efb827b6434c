// Views → visits: which views share one load of a page.
import type { Configuration, Page, State, Theme, Viewport } from '../../src/plan/configuration.ts';
import type { View } from '../../src/samples/view.ts';
import { REST_STATE } from '../../src/samples/view.ts';
import { needsLoad } from '../theme/put-theme-on.ts';

/** One view with all that is configured about it. */
export interface Task {
  readonly view: View;
  readonly theme: Theme;
  readonly state: State;
}

/** One load of one page, and what is captured of it, in this order. */
export interface Visit {
  readonly page: Page;
  readonly viewport: Viewport;
  readonly tasks: readonly Task[];
  /** How it is made sure that a theme that is switched on in place looks as it does on a fresh load; null: it is not, on this page. */
  readonly proof: Proof | null;
}

export type Proof =
  /** One theme is looked at on a fresh load as well. */
  | { readonly by: 'loading' }
  /** In the end this view's theme is switched on in place, and shown to the visit that loads it. */
  | { readonly by: 'showing'; readonly view: View; readonly theme: Theme }
  /** The visit of the theme that is shown: its first view is held against it. */
  | { readonly by: 'seeing' };

/**
 * What a switch leaves behind it mostly leaves on every page: the first pages, and of the others one in four (ours). By the place among
 * all pages, so that parts of a run prove what the whole would.
 */
const PROVED_FIRST = 3;
const PROVED_ONE_IN = 4;

const REST: State = { name: REST_STATE, kind: 'rest' };

/** States that leave the page as it was; clicks and scripts do not. */
export function isPassing(state: State): boolean {
  return state.kind !== 'click' && state.kind !== 'script';
}

/**
 * Views of one page and viewport share a load where theme and state can be put on and taken off again in place.
 * @throws Error for a view that names what the configuration does not have: plans are made from it
 */
export function planVisits(views: readonly View[], pages: readonly Page[], configuration: Configuration): readonly Visit[] {
  const visits = new Map<string, { page: Page; viewport: Viewport; tasks: Task[] }>();
  const scripted = mixesScripts(configuration.themes);
  for (const view of views) {
    const page = named(pages, view.page, 'page');
    const viewport = named(configuration.viewports, view.viewport, 'viewport');
    const theme = named(configuration.themes, view.theme, 'theme');
    const state = view.state === REST_STATE ? REST : named(configuration.states, view.state, 'state');
    const own = needsLoad(theme.apply) || (scripted && theme.apply.script !== undefined);
    const key = JSON.stringify([page.name, viewport.name, own ? theme.name : null, isPassing(state) ? null : state.name]);
    const visit = visits.get(key) ?? { page, viewport, tasks: [] };
    visit.tasks.push({ view, theme, state });
    visits.set(key, visit);
  }
  const proved = new Set(pages.filter((_, at) => at < PROVED_FIRST || at % PROVED_ONE_IN === 0));
  return [...visits.values()].map((visit) => ({
    ...visit,
    tasks: inOrder(visit.tasks),
    proof: proved.has(visit.page) ? { by: 'loading' } : null,
  }));
}

/** What a script did cannot be undone: it may share a load only with themes whose own script sets everything anew. */
function mixesScripts(themes: readonly Theme[]): boolean {
  const inPlace = themes.filter((theme) => !needsLoad(theme.apply));
  return inPlace.some((theme) => theme.apply.script === undefined);
}

/** Theme by theme, rest first; forced colours last: stale paint stays when they are switched off (measured). */
function inOrder(tasks: readonly Task[]): readonly Task[] {
  const themes = [...new Set(tasks.map((task) => task.theme))];
  const forced = (theme: Theme): number => (theme.apply.media?.forcedColors === 'active' ? 1 : 0);
  return themes
    .sort((a, b) => forced(a) - forced(b))
    .flatMap((theme) => {
      const own = tasks.filter((task) => task.theme === theme);
      return [...own.filter((task) => task.state.kind === 'rest'), ...own.filter((task) => task.state.kind !== 'rest')];
    });
}

/** More loads than this take longer than themes switched on in place (measured on two cores: 3 of one page and 2 of two gain, 5 of one lose). */
const MOST_APART: Readonly<Record<number, number>> = { 1: 3, 2: 2 };

/**
 * Fewer pages than tabs would leave a tab without work: each of their few themes gets a load of its own. So that it is noticed all the same
 * what a switch leaves behind, the first visit of a page shows one other theme in place to the visit that loads it.
 */
export function apartWhereFew(visits: readonly Visit[], workers: number): readonly Visit[] {
  if (visits.length >= workers) return visits;
  return visits.flatMap((visit) => {
    const themes = [...new Set(visit.tasks.map((task) => task.theme))];
    if (themes.length > (MOST_APART[visits.length] ?? 1)) return [visit];
    return byTheme(visit).map((each, at) => ({ ...each, proof: proofApart(visit, themes[1], at) }));
  });
}

/** A load for each theme: nothing to prove. */
export function byTheme(visit: Visit): readonly Visit[] {
  const themes = [...new Set(visit.tasks.map((task) => task.theme))];
  return themes.map((theme) => ({ ...visit, tasks: visit.tasks.filter((task) => task.theme === theme), proof: null }));
}

function proofApart({ proof, tasks }: Visit, second: Theme | undefined, at: number): Proof | null {
  if (proof === null || second === undefined) return proof;
  const shown = tasks.find(({ theme, state }) => theme === second && state.kind === 'rest');
  if (shown === undefined || at > 1) return null;
  return at === 0 ? { by: 'showing', view: shown.view, theme: second } : { by: 'seeing' };
}

function named<T extends { readonly name: string }>(list: readonly T[], name: string, what: string): T {
  const found = list.find((entry) => entry.name === name);
  if (found === undefined) throw new Error(`a view of the plan names the ${what} "${name}", which is not there`);
  return found;
}
