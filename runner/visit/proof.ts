// What proves that a theme which is switched on in place looks as on a fresh load: the visit loads the page once more; or, where each theme
// has a load of its own, one visit shows another's theme in place.
import type { KnownView } from '../../src/samples/captured-view.ts';
import type { Note } from '../../src/samples/note.ts';
import type { View } from '../../src/samples/view.ts';
import type { Theme } from '../../src/plan/configuration.ts';
import type { Tab } from '../tab/tab.ts';
import { differsFromFresh, lookAt } from '../theme/fresh-load.ts';
import type { Look } from '../theme/fresh-load.ts';
import { putThemeOn } from '../theme/put-theme-on.ts';
import { settleAfterChange } from '../theme/settle.ts';
import type { SeenView } from './capture-view.ts';
import { loadPage } from './load-page.ts';
import type { Task, Visit } from './visits.ts';
import type { Whereabouts } from './whereabouts.ts';

type Seen = Pick<SeenView, 'captured' | 'pieced'>;
type KnownFor = (view: View) => Promise<KnownView | undefined>;

/** Loads the page with the theme on. @returns where it looks otherwise than in place; null as well where the load did not come to rest */
export async function differenceFromFresh(
  tab: Tab,
  { visit, task, where }: { readonly visit: Visit; readonly task: Task; readonly where: Whereabouts },
  seen: Seen,
): Promise<string | null> {
  // It is a view more.
  tab.beginView();
  const notes = await loadPage(tab, visit, task, where);
  const fresh = notes.length > 0 ? null : await lookIn(tab, task.theme, visit);
  return fresh === null ? null : differsFromFresh({ inPlace: lookOf(seen), fresh }, mayDiffer(seen), visit.viewport.scale);
}

/** Puts the theme on in place. @returns null where the page does not come to rest */
export async function lookInPlace(tab: Tab, visit: Visit, theme: Theme): Promise<Look | null> {
  tab.beginView();
  try {
    return await lookIn(tab, theme, visit);
  } catch {
    tab.signal.throwIfAborted();
    return null;
  }
}

/** What a view of a fresh load has to tell of the same theme put on in place. */
export async function besideInPlace(inPlace: Promise<Look | null>, seen: Seen): Promise<readonly Note[]> {
  const shown = await inPlace;
  if (shown === null) return [];
  const difference = await differsFromFresh({ inPlace: shown, fresh: lookOf(seen) }, mayDiffer(seen), seen.captured.page.scale);
  return difference === null ? [] : [{ code: 'left-behind', data: { difference } }];
}

/** As an earlier night saw it. A page that is as it was then, but for the values of tokens, was proved on the night when it was new. */
export async function leftNothingBehind(views: readonly View[], knownFor: KnownFor): Promise<boolean> {
  const known = await Promise.all(views.map(knownFor));
  return known.every((each) => each?.notes.some(({ code }) => code === 'left-behind') === false);
}

async function lookIn(tab: Tab, theme: Theme, { viewport }: Visit): Promise<Look | null> {
  await putThemeOn(tab, theme);
  return (await settleAfterChange(tab)).length > 0 ? null : lookAt(tab, viewport.scale);
}

function lookOf({ captured: { page, shot: png } }: Seen): Look {
  return { widthCssPx: page.widthCssPx, heightCssPx: page.heightCssPx, png };
}

function mayDiffer({ captured: { masks }, pieced }: Seen): SeenView['pieced'] {
  return [...(masks ?? []), ...pieced];
}
