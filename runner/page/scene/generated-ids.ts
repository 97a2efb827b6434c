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

/**
 * A number that stands for itself, as a counter's does. Authors number steps, too: whose number it is only the element tells
 * (component-ids.ts).
 */
export function isNumbered(id: string): boolean {
  return numberedStemOf(id) !== null;
}

/** Up to the last number that ends a word: `field-446` of `field-446-hint`. @returns null where there is none */
function numberedStemOf(id: string): string | null {
  return /^.*\d(?![a-z\d])/iu.exec(id)?.[0] ?? null;
}

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

/** Those that may be generated: to look at all words of a large document takes twice the time. */
const WORDS = /[\w:«»-]*\d[\w:«»-]*|mantine-[\w:«»-]+/gu;

/**
 * Ids that no author gave, and what refers to them, by their order in the document: `#x7k2m9q-title` is `#random-1-title` on every
 * night.
 * @param ids in the order of the document
 * @param counted those of them that components number as they load
 */
export function openGeneratedIds(ids: Iterable<string>, counted: ReadonlySet<string> = new Set()): (text: string) => string {
  const names = new Map<string, string>();
  for (const id of ids) {
    const random = stemOf(id);
    const stem = random ?? (counted.has(id) ? numberedStemOf(id) : null);
    if (stem !== null && !names.has(stem)) names.set(stem, `${random === null ? 'counted' : 'random'}-${String(names.size + 1)}`);
  }
  if (names.size === 0) return (text) => text;
  return (text) =>
    text.replace(WORDS, (word) => {
      const stem = stemOf(word) ?? numberedStemOf(word);
      const name = stem === null ? undefined : names.get(stem);
      return stem === null || name === undefined ? word : `${name}${word.slice(stem.length)}`;
    });
}
