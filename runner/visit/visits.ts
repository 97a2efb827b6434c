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
  /** One theme that is switched on in place is compared with a fresh load. */
  readonly prove: boolean;
}

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
  return [...visits.values()].map((visit) => ({ ...visit, tasks: inOrder(visit.tasks), prove: proved.has(visit.page) }));
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

/** More themes than this are sooner switched on in place, one after the other (measured on two cores: 2 and 3 gain, 5 of a small page lose). */
const MOST_APART = 3;

/**
 * One page of many, alone, would keep one core at work: each of its few themes gets a load of its own. Where the app is one page, its themes
 * are switched on in place all the same, or nobody would hear that a switch leaves something behind.
 */
export function apartWhereAlone(
  visits: readonly Visit[],
  { workers, pages }: { workers: number; pages: number },
): readonly Visit[] {
  const [only] = visits;
  if (only === undefined || visits.length > 1 || workers < 2 || pages < 2) return visits;
  const themes = [...new Set(only.tasks.map((task) => task.theme))];
  if (themes.length > MOST_APART) return visits;
  return themes.map((theme) => ({ ...only, tasks: only.tasks.filter((task) => task.theme === theme) }));
}

function named<T extends { readonly name: string }>(list: readonly T[], name: string, what: string): T {
  const found = list.find((entry) => entry.name === name);
  if (found === undefined) throw new Error(`a view of the plan names the ${what} "${name}", which is not there`);
  return found;
}
