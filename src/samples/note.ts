// What is worth knowing of a captured view though it is no failure: a code, where, and what the code needs to be told in words
// (note-words.ts). Whoever decides by a note decides by its code. Types only.
import type { Rect } from './view.ts';

type Nothing = Readonly<Record<string, never>>;

/** Abilities of a browser without which a view is read all the same, in part. */
export type BrowserLack = 'matched-rules' | 'generated-text' | 'closed-trees';

/** What each code carries besides its place. A member of `at` is a selector, an address or a name in the page. */
export interface NoteFacts {
  /** The load event never came. */
  readonly 'never-loaded': Nothing;
  /** The page grows as it is scrolled; captured as far as it had grown. */
  readonly grows: Nothing;
  /** `at`: address of a request without an answer. */
  readonly 'no-answer': Nothing;
  /** Animations that start again and again. */
  readonly 'animated-again': Nothing;
  /** `at`: address of a picture. */
  readonly 'picture-loading': Nothing;
  readonly 'fonts-loading': Nothing;
  /** `at`: an element that changes and changes. */
  readonly 'keeps-changing': Nothing;
  /** `at`: what says that there is more to come, though the page rests. */
  readonly 'still-loading': Nothing;
  /** `at`: address of something that scripts fetched and the app did not begin to answer. */
  readonly unanswered: Nothing;
  /** Little but a form that asks for a password is seen, though the run is signed in: the page itself, or what stands in its place. */
  readonly 'asks-password': Nothing;
  /** A canvas that is drawn anew without end while all else stands still: its pixels are not compared. CSS px in the page. */
  readonly 'canvas-moves': { readonly rect: Rect };
  /** It came on a further try; how the tries before ended. */
  readonly retried: { readonly errors: readonly string[] };
  /** Only the first part of a long page was captured. CSS px. */
  readonly 'cut-off': { readonly heightCssPx: number; readonly capturedCssPx: number };
  /** `at`: address of a frame of another origin. */
  readonly 'frame-unread': Nothing;
  /** `at`: address of a frame that did not come, or forbids to be framed: the browser shows a page of its own. */
  readonly 'frame-refused': Nothing;
  /** What the browser cannot be asked for, and what therefore is not known of the view. */
  readonly 'browser-lacks': { readonly what: BrowserLack };
  /** `at`: address of a style sheet of another origin. */
  readonly 'sheet-unread': Nothing;
  /** Custom properties: how many were traced of how many. */
  readonly 'properties-untraced': { readonly traced: number; readonly of: number };
  /** `at`: an element on which a change was to be tried, and which is not there. */
  readonly 'not-worn': Nothing;
  /** Switched in place the theme shows otherwise than on a fresh load: where. */
  readonly 'left-behind': { readonly difference: string };
  readonly 'nothing-interactive': Nothing;
  /** The reference's view was not captured: nothing was compared. */
  readonly 'no-reference': { readonly reference: string };
  /** Places that the reference's view does not have: how many of how many, by how many selectors, and the first of those. */
  readonly 'not-compared': {
    readonly reference: string;
    readonly places: number;
    readonly of: number;
    readonly selectors: number;
    readonly first: readonly string[];
  };
  /** A note of a store that an older version wrote, in the words of that version. */
  readonly told: { readonly text: string };
}

export type NoteCode = keyof NoteFacts;

export interface NoteOf<C extends NoteCode> {
  readonly code: C;
  readonly at?: string;
  readonly data: NoteFacts[C];
}

export type Note = { readonly [C in NoteCode]: NoteOf<C> }[NoteCode];
