// Which notes of a captured view say that it did not come to rest (the runner's settling, in its words).

const MOVING = [
  /^unsettled: /,
  /^the page never finished loading/,
  /^no answer yet: /,
  /^animations that start again/,
  /^picture still loading: /,
  /^fonts still loading/,
  / keeps changing$/,
] as const;

const UNSTEADY = /^unsteady: /;

/** @returns the note that says a view only came on a further try, without its mark; null when the first did */
export function unsteadyNote(notes: readonly string[]): string | null {
  return notes.find((note) => UNSTEADY.test(note))?.replace(UNSTEADY, '') ?? null;
}

/** @returns the notes that say so, in one line; null when the view rested */
export function unsettledNote(notes: readonly string[]): string | null {
  const said = notes.filter((note) => MOVING.some((pattern) => pattern.test(note)));
  return said.length === 0 ? null : said.join('; ');
}
