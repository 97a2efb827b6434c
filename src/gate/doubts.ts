// Views that may not be what they say: pages that look like one another, views that show far less than the same page elsewhere, views
// that say themselves that they are not done, and states that look as if nothing had been done. Pure.
import { groupBy } from '../checks/group-by.ts';
import type { StoredView } from '../ledger/records.ts';
import type { Page, State } from '../plan/configuration.ts';
import { pagePath } from '../plan/page-path.ts';
import { isWalk } from '../plan/walk.ts';
import type { Note } from '../samples/note.ts';
import { meaningOf } from '../samples/note-words.ts';
import type { ViewRef } from '../samples/view.ts';
import { REST_STATE } from '../samples/view.ts';

/** Pages of one theme, state and viewport whose pictures are the same, byte for byte. */
export interface AlikePages {
  readonly kind: 'alike';
  /** Names, in plan order; at least two that are not one page by their addresses. */
  readonly pages: readonly string[];
  readonly view: ViewRef;
}

/** A view with far fewer samples than the same page has in another theme, or had in the run before. */
export interface ThinView {
  readonly kind: 'thin';
  readonly view: ViewRef;
  readonly samples: number;
  readonly of: number;
  /** Theme it is held against; null: the run before. */
  readonly theme: string | null;
}

/** A view that rested and still said that it was loading, or whose app had not answered. */
export interface LoadingView {
  readonly kind: 'loading';
  readonly view: ViewRef;
  /** What says so. */
  readonly sign: string;
}

/** A view that shows little but a form that asks for a password, though the run is signed in. */
export interface AskingView {
  readonly kind: 'asking';
  readonly view: ViewRef;
}

/** A view in a state with the picture that its page has at rest, byte for byte: the click went nowhere, or the theme shows nothing of it. */
export interface IdleView {
  readonly kind: 'idle';
  readonly view: ViewRef;
}

export type Doubt = AlikePages | ThinView | LoadingView | AskingView | IdleView;

/** What is known of the pages and states that views belong to. */
export interface Planned {
  readonly pages: readonly Page[];
  readonly states: readonly State[];
}

type ViewFacts = Pick<StoredView, 'id' | 'page' | 'theme' | 'state' | 'viewport' | 'status' | 'shot' | 'samples' | 'url' | 'notes'>;
type Counted = ViewRef & Pick<ViewFacts, 'samples'>;

/** Ours: themes of one page differ by a few shadows and edges; a placeholder has a tenth of its page. */
const LEAST_SHARE_OF_THEME = 0.5;
/** Ours: content changes from night to night, but seldom loses two thirds of a page. */
const LEAST_SHARE_OF_BEFORE = 1 / 3;
/** Fewer than this on a small page is no sign of anything (ours). */
const LEAST_MISSING = 8;

/** @param views of the whole run, in plan order @param before those of the run before */
export function doubtsOf(views: readonly ViewFacts[], before: readonly ViewFacts[], { pages, states }: Planned): readonly Doubt[] {
  const captured = views.filter(({ status }) => status === 'captured');
  const earlier = before.filter(({ status }) => status === 'captured');
  return [
    ...alike(captured, pages),
    ...thinViews(captured, earlier),
    ...loading(captured),
    ...asking(captured),
    ...idleViews(captured, states),
  ];
}

function alike(views: readonly ViewFacts[], pages: readonly Page[]): readonly AlikePages[] {
  const lands = new Map(pages.map((page) => [page.name, page.lands]));
  const placeOf = ({ page, url }: ViewFacts): string => addressOf(lands.get(page) ?? url);
  const groups = groupBy(views, ({ theme, state, viewport, shot }) => JSON.stringify([theme, state, viewport, shot]));
  return groups.flatMap((group): readonly AlikePages[] => {
    const [first] = group;
    if (first === undefined || first.shot === null || new Set(group.map(placeOf)).size < 2) return [];
    return [{ kind: 'alike', pages: group.map(({ page }) => page), view: first }];
  });
}

/** Without the host, in one spelling; query and hash may be routes. */
function addressOf(url: string): string {
  const path = url.replace(/^[a-z]+:\/\/[^/]*/iu, '');
  const [plain = ''] = path.split(/[?#]/u);
  return pagePath(plain === '' ? '/' : plain) + path.slice(plain.length);
}

/** @returns the note by which a view says that it is not done */
export function loadingOf(notes: readonly Note[]): Note | null {
  return notes.find((note) => meaningOf(note) === 'loading') ?? null;
}

function loading(views: readonly ViewFacts[]): readonly LoadingView[] {
  return views.flatMap((view): readonly LoadingView[] => {
    const note = loadingOf(view.notes);
    return note === null
      ? []
      : [{ kind: 'loading', view, sign: `${note.code === 'unanswered' ? 'no answer to ' : ''}${note.at ?? ''}` }];
  });
}

function asking(views: readonly ViewFacts[]): readonly AskingView[] {
  return views.flatMap((view): readonly AskingView[] =>
    view.notes.some((note) => meaningOf(note) === 'asking') ? [{ kind: 'asking', view }] : [],
  );
}

/** Focus that shows nothing is a finding, no doubt. Walks look at all interactive elements in turn, of which a page may have none. */
export function isToShow(state: State): boolean {
  return state.kind !== 'focus' && !isWalk(state);
}

/** @param views captured ones */
export function idleViews(
  views: readonly (ViewRef & { readonly shot: string | null })[],
  states: readonly State[],
): readonly IdleView[] {
  const shown = new Set(states.filter(isToShow).map(({ name }) => name));
  const rest = new Map(views.flatMap((view) => (view.state === REST_STATE ? [[atRest(view), view.shot] as const] : [])));
  return views.flatMap((view): readonly IdleView[] => {
    if (!shown.has(view.state) || view.shot === null) return [];
    return rest.get(atRest(view)) === view.shot ? [{ kind: 'idle', view }] : [];
  });
}

function atRest({ page, theme, viewport }: ViewRef): string {
  return JSON.stringify([page, theme, viewport]);
}

/** @param views whole groups, captured @param before views of an earlier run */
export function thinViews(views: readonly Counted[], before: readonly Pick<Counted, 'id' | 'samples'>[]): readonly ThinView[] {
  const earlier = new Map(before.map((view) => [view.id, view.samples]));
  const groups = groupBy(views, ({ page, state, viewport }) => JSON.stringify([page, state, viewport]));
  return groups.flatMap((group) => {
    const fullest = group.reduce((most, view) => (view.samples > most.samples ? view : most));
    return group.flatMap((view): readonly ThinView[] => {
      const { samples } = view;
      const then = earlier.get(view.id) ?? 0;
      const isThin = (of: number, share: number): boolean => samples < of * share && of - samples >= LEAST_MISSING;
      if (isThin(fullest.samples, LEAST_SHARE_OF_THEME))
        return [{ kind: 'thin', view, samples, of: fullest.samples, theme: fullest.theme }];
      return isThin(then, LEAST_SHARE_OF_BEFORE) ? [{ kind: 'thin', view, samples, of: then, theme: null }] : [];
    });
  });
}
