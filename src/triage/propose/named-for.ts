// A rule that is called after its token (`.text-error` takes `--color-error`) means that token: another one in its place would say
// something else.
import type { WrittenPlace } from '../../samples/paint.ts';
import type { Case } from '../cases/case.ts';
import { saysWhatFor, wordsIn } from '../cases/name-words.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** Words that every token of a set may have (common practice). */
const COMMON = new Set(['color', 'colour', 'clr', 'theme', 'token', 'sys', 'ref', 'default', 'base', 'main']);
/** Of a token that is read on another one, which has the same name without (common practice). */
const UPON = new Set(['on', 'content', 'contrast', 'inverse', 'invert']);

/** The words by which a rule is called after the token; empty where it is not. */
export function wordsMeant(index: TableIndex, { fore, wrote }: Pick<Case, 'fore' | 'wrote'>): readonly string[] {
  if (fore.kind !== 'token') return [];
  const own = ownWords(index, fore.token);
  if (own.length === 0) return [];
  return wrote.some((place) => own.every((word) => calledBy(place).has(word))) ? own : [];
}

/** @param meant as `wordsMeant` says */
export function saysTheSame(index: TableIndex, token: number, meant: readonly string[]): boolean {
  const own = ownWords(index, token);
  const isUpon = (words: readonly string[]): boolean => words.some((word) => UPON.has(word));
  return meant.every((word) => own.includes(word)) && (meant.length === 0 || isUpon(own) === isUpon(meant));
}

/** What tells it from other tokens: the last part of its path that says anything. */
function ownWords(index: TableIndex, token: number): readonly string[] {
  const parts = index.pathOf(token).split('.').map(wordsIn);
  const own = parts.map((words) => words.filter((word) => !COMMON.has(word) && !saysWhatFor(word)));
  return own.findLast((words) => words.length > 0) ?? [];
}

/** Classes of the elements that the rule matches, not of those around them; what holds for the whole page is called after nothing. */
function calledBy({ rule }: WrittenPlace): ReadonlySet<string> {
  const last = rule.split(',').flatMap((complex) => /[^\s>+~]*$/u.exec(complex.trim()) ?? []);
  return new Set(last.flatMap((compound) => compound.match(/\.[\w-]+/gu) ?? []).flatMap(wordsIn));
}
