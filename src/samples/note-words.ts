// The one table of notes: what each code means to those who decide by it, and how it is told to people.
import type { BrowserLack, Note, NoteCode, NoteFacts } from './note.ts';

/**
 * - `moving`: the view did not come to rest
 * - `loading`: it rested, and said itself that it was not done, or its app had not answered
 * - `asking`: it shows a form that asks for a password, and may not be the page
 * - `tries`: it only came on a further try
 * - `unread`: a part of the page was not looked into
 * - `compared`: said when the view is judged; it holds for one run and is not taken over by the next
 * - `remark`: nobody decides by it
 */
export type NoteMeaning = 'moving' | 'loading' | 'asking' | 'tries' | 'unread' | 'compared' | 'remark';

const LACKING: Readonly<Record<BrowserLack, string>> = {
  'matched-rules': 'which rules match an element: where colours are written is not known',
  'generated-text': 'where generated text (::before, ::after, markers) lies: it was not measured',
  'closed-trees': 'for closed shadow trees: what is in them was not looked into',
};

type Table = {
  readonly [C in NoteCode]: { readonly means: NoteMeaning; readonly words: (data: NoteFacts[C], at: string) => string };
};

const NOTES: Table = {
  'never-loaded': { means: 'moving', words: () => 'the page never finished loading' },
  grows: { means: 'unread', words: () => 'the page grows as it is scrolled; captured as far as it had grown' },
  'no-answer': { means: 'moving', words: (_, at) => `no answer yet: ${at}` },
  'animated-again': { means: 'moving', words: () => 'animations that start again and again' },
  'picture-loading': { means: 'moving', words: (_, at) => `picture still loading: ${at}` },
  'fonts-loading': { means: 'moving', words: () => 'fonts still loading' },
  'keeps-changing': { means: 'moving', words: (_, at) => `${at} keeps changing` },
  'still-loading': { means: 'loading', words: (_, at) => `the page still says that it is loading: ${at}` },
  unanswered: { means: 'loading', words: (_, at) => `the app has not answered yet: ${at}` },
  'asks-password': {
    means: 'asking',
    words: () =>
      'all it shows is a form that asks for a password, though the run is signed in: the page itself, or a session that ran out',
  },
  'canvas-moves': {
    means: 'remark',
    words: ({ rect: [x, y, width, height] }) =>
      `a canvas moves for ever at ${String(x)}, ${String(y)} px (${String(width)} × ${String(height)} px); its pixels are not compared`,
  },
  retried: {
    means: 'tries',
    words: ({ errors }) =>
      `only ${errors.length === 1 ? 'a second try' : `try ${String(errors.length + 1)}`} came; before: ${errors.join('; ')}`,
  },
  'cut-off': {
    means: 'unread',
    words: ({ heightCssPx, capturedCssPx }) =>
      `the page is ${String(heightCssPx)} px high; only its first ${String(capturedCssPx)} px were captured`,
  },
  'frame-unread': { means: 'unread', words: (_, at) => `a frame of another origin was not looked into: ${at}` },
  'frame-refused': {
    means: 'unread',
    words: (_, at) => `a frame shows nothing of its own, since it did not come or may not be framed: ${at}`,
  },
  'browser-lacks': { means: 'unread', words: ({ what }) => `this browser cannot be asked ${LACKING[what]}` },
  'sheet-unread': {
    means: 'unread',
    words: (_, at) => `the style sheet ${at} of another origin cannot be read: what it declares is not traced`,
  },
  'properties-untraced': {
    means: 'unread',
    words: ({ traced, of }) => `only ${String(traced)} of ${String(of)} custom properties were traced`,
  },
  'not-worn': { means: 'remark', words: (_, at) => `nothing found at ${at}: the change is not tried there` },
  'left-behind': {
    means: 'remark',
    words: ({ difference }) =>
      `switched in place the theme shows otherwise than on a fresh load (${difference}): the switch leaves something behind, or the page is another on each load; its themes are loaded one by one`,
  },
  'nothing-interactive': { means: 'remark', words: () => 'nothing on the page is interactive' },
  'no-reference': {
    means: 'compared',
    words: ({ reference }) =>
      `not compared with ${reference}: that view was not captured, so flipped, unthemed and separation compare nothing`,
  },
  'not-compared': {
    means: 'compared',
    words: ({ reference, places, of, selectors, first }) =>
      `not compared with ${reference}: ${String(places)} of ${String(of)} places, which flipped, unthemed and separation could not find there: ${first.join(', ')}${selectors > first.length ? ' …' : ''}`,
  },
  told: { means: 'remark', words: ({ text }) => text },
};

export const NOTE_CODES: readonly NoteCode[] = Object.keys(NOTES).filter((code): code is NoteCode => Object.hasOwn(NOTES, code));

/** @returns one line for people, without a full stop */
export function noteWords(note: Note): string {
  return say(note.code, note.data, note.at ?? '');
}

export function meaningOf({ code }: Pick<Note, 'code'>): NoteMeaning {
  return NOTES[code].means;
}

function say<C extends NoteCode>(code: C, data: NoteFacts[C], at: string): string {
  return NOTES[code].words(data, at);
}
