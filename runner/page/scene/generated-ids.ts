// Ids that no author gave: counted up by a framework, or made of random letters at each load.

/** Ids that frameworks count up are not the same where more or less is on the page. */
export function isCounted(id: string): boolean {
  return /\d{3,}|^:|(?:^|[-_])[:«_]r[\da-z]*[:»_]|^(?:radix|headlessui|react|ember|mui|ng)-/u.test(id) || isRandom(id);
}

/** Another one at each load: letters and digits mixed as in no word with a number. */
export function isRandom(id: string): boolean {
  return stemOf(id) !== null;
}

/** Libraries that put their name before nine random letters. */
const PREFIXED = /^mantine-[a-z\d]{8,}/u;
const LEAST_LENGTH = 7;

/** What comes before and is random itself; what follows names parts (`-title`). @returns null where nothing is */
function stemOf(id: string): string | null {
  const prefixed = PREFIXED.exec(id);
  if (prefixed !== null) return prefixed[0];
  for (const { 0: part, index } of id.matchAll(/[a-z\d]+/giu)) if (isMixed(part)) return id.slice(0, index + part.length);
  return null;
}

/** Numbers in two places or more; or in one, among letters that nobody can speak. */
function isMixed(part: string): boolean {
  if (part.length < LEAST_LENGTH) return false;
  const numbers = part.match(/\d+/gu)?.length ?? 0;
  return /[a-z]/iu.test(part) && (numbers > 1 || (numbers === 1 && /[bcdfghjklmnpqrstvwxz]{4}/iu.test(part)));
}

/**
 * Random ids, and what refers to them, by their order in the document: `#x7k2m9q-title` is `#random-1-title` on every night.
 * @param ids in the order of the document
 */
export function openRandomIds(ids: Iterable<string>): (text: string) => string {
  const names = new Map<string, string>();
  for (const id of ids) {
    const stem = stemOf(id);
    if (stem !== null && !names.has(stem)) names.set(stem, `random-${String(names.size + 1)}`);
  }
  if (names.size === 0) return (text) => text;
  return (text) =>
    text.replace(/[\w:«»-]{7,}/gu, (word) => {
      const stem = stemOf(word);
      const name = stem === null ? undefined : names.get(stem);
      return stem === null || name === undefined ? word : `${name}${word.slice(stem.length)}`;
    });
}
