// One visit: loads a page once and captures its views one after the other.
import { captureFailed } from '../../src/errors/capture-errors.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { CapturedView, KnownView, ViewResult } from '../../src/samples/captured-view.ts';
import type { Note } from '../../src/samples/note.ts';
import type { View } from '../../src/samples/view.ts';
import { revealClosedTrees } from '../tab/closed-trees.ts';
import type { SeenView } from './capture-view.ts';
import type { CaptureWishes } from './capture-wishes.ts';
import { captureView } from './capture-view.ts';
import { walkView } from './walk-view.ts';
import type { State } from '../../src/plan/configuration.ts';
import { isWalk } from '../../src/plan/walk.ts';
import { focusSamples } from '../painted/focus-samples.ts';
import type { Look } from '../theme/fresh-load.ts';
import { enterState } from '../theme/enter-state.ts';
import type { Rules } from '../page/wire/wire.ts';
import { putThemeOn } from '../theme/put-theme-on.ts';
import { settleAfterChange } from '../theme/settle.ts';
import type { Tab } from '../tab/tab.ts';
import { loadPage } from './load-page.ts';
import { besideInPlace, differenceFromFresh, leftNothingBehind, lookInPlace } from './proof.ts';
import type { ShownInPlace } from './shown-in-place.ts';
import type { Task, Visit } from './visits.ts';
import type { SignedOut } from './signed-out.ts';
import { openWhereabouts } from './whereabouts.ts';
import { openWrittenBook } from '../written/written-book.ts';
import type { RulesLookedUp } from '../written/once-for-rules.ts';
import type { Wear } from '../theme/wear.ts';
import { putWearOn } from '../theme/wear.ts';
import { isPassing } from './visits.ts';

export interface VisitWishes {
  readonly rules: Rules;
  /** Selectors of the configuration of which it is asked whether they find anything. */
  readonly ruled: readonly string[];
  /** Custom properties to trace besides those that the page names. */
  readonly dye: readonly string[];
  readonly wearFor: (view: View) => Wear | null;
  readonly knownFor: (view: View) => Promise<KnownView | undefined>;
  /** Of the whole run. */
  readonly rulesLookedUp: RulesLookedUp;
  readonly shownInPlace: ShownInPlace;
  /** Null where nobody signs in. */
  readonly signedOut: SignedOut | null;
  /** The time for new views is over. */
  readonly isOver: () => boolean;
}

type Done = (result: ViewResult) => Promise<void>;

/**
 * Hands each result to `done` as it comes. What fails is a result too, except when the tab died: then the rest is left.
 * On some pages one theme that was switched on in place is proved against a fresh load; where they differ, the rest wants loads of its own.
 * @returns tasks that were not come to
 */
export async function visitPage(tab: Tab, visit: Visit, wishes: VisitWishes, done: Done): Promise<Left> {
  // What is held against another visit's look waits for that, while this one goes on.
  const waiting: Promise<void>[] = [];
  try {
    return await visitTasks(tab, visit, wishes, { done, waiting });
  } finally {
    await Promise.all(waiting);
  }
}

async function visitTasks(
  tab: Tab,
  visit: Visit,
  wishes: VisitWishes,
  { done, waiting }: { readonly done: Done; readonly waiting: Promise<void>[] },
): Promise<Left> {
  const [first] = visit.tasks;
  if (first === undefined) return NOTHING_LEFT;
  let started = performance.now();
  const since = (): number => {
    const now = performance.now();
    const ms = Math.round(now - started);
    started = now;
    return ms;
  };
  let loadNotes: readonly Note[];
  const where = openWhereabouts(tab, visit, first, wishes.signedOut);
  tab.beginView();
  try {
    loadNotes = await tab.watch.time('loading', () => loadPage(tab, visit, first, where));
  } catch (error) {
    tab.signal.throwIfAborted();
    const ms = since();
    for (const task of visit.tasks) await done(failed(task.view, ms, error));
    return NOTHING_LEFT;
  }

  let worn: Task['theme'] | null = null;
  /** Of the page at rest in the theme it has on. */
  let atRest: string | undefined;
  let isWorn = false;
  const { proof } = visit;
  let isProved = proof?.by !== 'loading';
  let asBefore = false;
  let apart = false;
  const written = openWrittenBook(tab.limits.writtenMs, wishes.rulesLookedUp);
  for (const [index, task] of visit.tasks.entries()) {
    if (index > 0 && wishes.isOver()) return { tasks: visit.tasks.slice(index), apart };
    let result: ViewResult;
    let lookedAt: Promise<readonly Note[]> | null = null;
    // The load is part of the first view.
    if (index > 0) tab.beginView();
    try {
      const notes = [...loadNotes];
      if (worn !== task.theme) {
        await tab.watch.time('settling', async () => {
          await putThemeOn(tab, task.theme);
          notes.push(...(await settleAfterChange(tab)));
        });
        worn = task.theme;
        atRest = undefined;
      }
      await where.prove();
      const wear = wishes.wearFor(task.view);
      if (wear !== null || isWorn) {
        notes.push(...(await putWearOn(tab, wear)), ...(await settleAfterChange(tab)));
        isWorn = wear !== null;
      }
      const beside = besideOf(task.state, atRest);
      const known = beside !== undefined && wear === null ? await wishes.knownFor(task.view) : undefined;
      const capture: CaptureWishes = {
        view: task.view,
        theme: task.theme,
        viewport: visit.viewport,
        rules: wishes.rules,
        dye: wishes.dye,
        ...(beside === undefined ? {} : { beside }),
        ...(known === undefined ? {} : { known }),
      };
      if ((await tab.watch.time('settling', () => revealClosedTrees(tab))) > 0) notes.push(...(await settleAfterChange(tab)));
      let { captured, linesMoved, pieced } = await captureIn(tab, task.state, capture, once(notes));
      await where.prove();
      const isSwitched = task.theme !== first.theme && task.state.kind === 'rest' && wear === null && notes.length === 0;
      if (!isProved && isSwitched && captured.reused !== true) {
        isProved = true;
        const isKnown = asBefore && (await leftNothingBehind(viewsOf(visit), wishes.knownFor));
        const prove = (): Promise<string | null> => differenceFromFresh(tab, { visit, task, where }, { captured, pieced });
        const difference = isKnown ? null : await tab.watch.time('proving', prove);
        if (difference !== null) {
          apart = true;
          ({ captured, linesMoved, pieced } = await captureIn(tab, task.state, capture, [
            { code: 'left-behind', data: { difference } },
          ]));
        }
      }
      const note = (): Promise<CapturedView['samples']> => written.note(tab, captured.samples, lookUnder(task.state));
      const isWritten = captured.reused === true && !linesMoved;
      if (isWritten) written.learn(captured.samples);
      const samples = isWritten ? captured.samples : await tab.watch.time('written', note);
      const ruled = wishes.ruled.length === 0 ? undefined : await tab.call('ruled', { selectors: wishes.ruled });
      const told = [...captured.notes, ...(isWritten ? [] : written.lacking(tab, samples))];
      result = inDoubt({ ...captured, samples, notes: told, ms: since(), ...(ruled === undefined ? {} : { ruled }) }, where.doubt);
      const isSeen = proof?.by === 'seeing' && task.state.kind === 'rest' && wear === null && notes.length === 0;
      if (isSeen && captured.reused !== true) lookedAt = besideInPlace(wishes.shownInPlace.of(task.view), { captured, pieced });
      if (task.state.kind === 'rest') atRest = captured.fingerprint;
      asBefore ||= index === 0 && captured.reused === true;
    } catch (error) {
      tab.signal.throwIfAborted();
      result = failed(task.view, since(), error);
    }
    if (lookedAt === null) await done(result);
    else {
      const told = lookedAt.then((notes) => done(withNotes(result, notes)));
      // Heard in the end.
      told.catch(() => undefined);
      waiting.push(told);
    }
    // A page that hung or crashed cannot be trusted with the next view; the caller opens a fresh one.
    if (result.status === 'failed' && (tab.dead || result.code !== 'place-not-found'))
      return { tasks: visit.tasks.slice(index + 1), apart };
    if (apart) return { tasks: visit.tasks.slice(index + 1), apart };
  }
  if (proof?.by === 'showing' && wishes.wearFor(proof.view) === null) {
    const isKnown = asBefore && (await leftNothingBehind([proof.view], wishes.knownFor));
    const look = (): Promise<Look | null> => lookInPlace(tab, visit, proof.theme);
    if (!isKnown) wishes.shownInPlace.show(proof.view, await tab.watch.time('proving', look));
  }
  return NOTHING_LEFT;
}

function viewsOf({ tasks }: Visit): readonly View[] {
  return tasks.map(({ view }) => view);
}

function withNotes(result: ViewResult, notes: readonly Note[]): ViewResult {
  return result.status === 'failed' || notes.length === 0 ? result : { ...result, notes: [...result.notes, ...notes] };
}

/** Without a fingerprint: the next night must not take the note over. */
function inDoubt({ fingerprint, ...view }: CapturedView, doubt: Note | null): CapturedView {
  if (doubt !== null) return { ...view, notes: [...view.notes, doubt] };
  return fingerprint === undefined ? view : { ...view, fingerprint };
}

/** Focus is what differs between two pictures; walks read the page again and again. */
function besideOf(state: State, atRest: string | undefined): string | null | undefined {
  if (isWalk(state)) return undefined;
  return state.kind === 'focus' ? atRest : null;
}

/** Under a pointer or focus that is gone by now, other rules hold: the browser is told of it; what is walked through is not done again. */
function lookUnder(state: State): Parameters<ReturnType<typeof openWrittenBook>['note']>[2] {
  if (isWalk(state)) return false;
  switch (state.kind) {
    case 'hover':
    case 'active':
    case 'focus':
      return { selector: state.selector, classes: FORCED[state.kind] };
    case 'rest':
    case 'click':
    case 'script':
      return true;
  }
}

const FORCED = { hover: ['hover'], active: ['hover', 'active'], focus: ['focus', 'focus-visible', 'focus-within'] } as const;

/** What a visit did not come to. */
export interface Left {
  readonly tasks: readonly Task[];
  /** Each theme wants a load of its own. */
  readonly apart: boolean;
}

const NOTHING_LEFT: Left = { tasks: [], apart: false };

/** What did not rest after loading may not rest after the theme either; it is said once. */
function once(notes: readonly Note[]): readonly Note[] {
  return [...new Map(notes.map((note) => [JSON.stringify(note), note])).values()];
}

/** Brings the page into the state, reads it, and takes it back. */
async function captureIn(
  tab: Tab,
  state: State,
  wishes: CaptureWishes,
  notes: readonly Note[],
): Promise<Pick<SeenView, 'captured' | 'linesMoved' | 'pieced'>> {
  if (isWalk(state)) return { captured: await walkView(tab, state, wishes, notes), linesMoved: false, pieced: [] };
  // Clicks and scripts were done when the page was loaded.
  const enter = (): ReturnType<typeof enterState> => tab.watch.time('states', () => enterState(tab, state));
  const leave = isPassing(state) ? await enter() : (): Promise<void> => Promise.resolve();
  const { captured, linesMoved, pieced, painted } = await captureView(tab, wishes, notes);
  await tab.watch.time('states', leave);
  if (state.kind !== 'focus' || painted === null) return { captured, linesMoved, pieced };
  const focus = await tab.watch.time('states', () => focusSamples(tab, painted));
  return { captured: { ...captured, samples: [...captured.samples, ...focus] }, linesMoved, pieced };
}

export function failed(view: View, ms: number, error: unknown): ViewResult {
  const known = error instanceof GloamError ? error : captureFailed(view.url, error);
  return { view, status: 'failed', ms, code: known.code, error: known.message };
}
