// A page is loaded for a visit, up to where its first view can be looked at.
import { placeNotFound } from '../../src/errors/capture-errors.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { Note } from '../../src/samples/note.ts';
import type { Tab } from '../tab/tab.ts';
import { enterState } from '../theme/enter-state.ts';
import { withThemeEarly } from '../theme/put-on-early.ts';
import { loadInTheme, needsLoad, putThemeOn, themedUrl } from '../theme/put-theme-on.ts';
import { settleAfterChange, settleAfterLoad } from '../theme/settle.ts';
import type { Task, Visit } from './visits.ts';
import { isPassing } from './visits.ts';
import type { Whereabouts } from './whereabouts.ts';

/** As it meets a visitor who chose the theme before. @throws GloamError also where it ends elsewhere than asked */
export async function loadPage(tab: Tab, visit: Visit, first: Task, where: Whereabouts): Promise<readonly Note[]> {
  return withThemeEarly(tab, first.theme.apply, () => loadWithin(tab, visit, first, where));
}

async function loadWithin(tab: Tab, visit: Visit, first: Task, where: Whereabouts): Promise<readonly Note[]> {
  const { apply } = first.theme;
  const url = needsLoad(apply) ? themedUrl(first.view.url, apply) : first.view.url;
  await tab.setViewport(visit.viewport);
  await loadInTheme(tab, first.theme, { url, status: visit.page.status });
  const { waitFor } = visit.page;
  if (waitFor !== undefined) await waitForPlace(tab, waitFor, where);
  const notes = await settleAfterLoad(tab, { isTold: waitFor !== undefined });
  await where.prove();
  // Clicks and scripts are done once: done again for each theme they might undo themselves.
  if (!isPassing(first.state)) {
    await putThemeOn(tab, first.theme);
    await settleAfterChange(tab);
    await enterState(tab, first.state);
    await where.stayHere();
  }
  return notes;
}

async function waitForPlace(tab: Tab, selector: string, where: Whereabouts): Promise<void> {
  try {
    await tab.guard(
      'waiting',
      tab.page.waitForSelector(selector, { state: 'attached', timeout: tab.limits.settleMs * 2 }),
      tab.limits.settleMs * 3,
    );
  } catch (error) {
    if (error instanceof GloamError || tab.signal.aborted) throw error;
    // On another page nobody would look for it.
    await where.prove();
    throw placeNotFound(tab.url, 'waitFor', selector);
  }
}
