// What the notes of a captured view mean to the gate, by their codes.
import type { Note } from '../samples/note.ts';
import type { NoteMeaning } from '../samples/note-words.ts';
import { meaningOf, noteWords } from '../samples/note-words.ts';

/** @returns the notes of this meaning in one line; null where there is none */
export function saidOf(notes: readonly Note[], meaning: NoteMeaning): string | null {
  const said = notes.filter((note) => meaningOf(note) === meaning);
  return said.length === 0 ? null : said.map(noteWords).join('; ');
}
