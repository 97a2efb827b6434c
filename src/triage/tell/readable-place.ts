// What a place is called in a sentence: people know a control by its words and a part by its name, not by a path or a hash.
import { builtIn, propertiesIn } from '../../colour/built-color.ts';
import type { Finding } from '../../samples/finding.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import { isRule } from '../cases/own-rules.ts';

/**
 * A path that counts its way through the page, or begins at an id that a framework counted up, tells nobody anything: then what the element
 * is, and what is written on it.
 * @param place rule or selector @param finding one at the place @param text what is read there, where that is known: keys leave numbers out
 */
export function readablePlace(place: string, finding: Pick<Finding, 'selector' | 'key'> | undefined, text = ''): string {
  if (finding === undefined || place !== finding.selector || !(PATH.test(place) || COUNTED.test(place))) return place;
  const [what = ''] = finding.key.split('|');
  const named = what.replace(
    /^((?:[^"[\]]|\[[^"\]]*\])+)"(.*)"/u,
    (_, element: string, words: string) => `${element} "${inShort(asRead(words, text))}"`,
  );
  return !NAMED.test(named) || named.length > MOST_LETTERS ? place : named;
}

/** @param words as a key has them: the beginning of the text, each number as 0 */
function asRead(words: string, text: string): string {
  const read = text.replace(/\s+/gu, ' ').trim();
  return read.replace(/\d+/gu, '0').startsWith(words) ? read : words;
}

function inShort(words: string): string {
  if (words.length <= MOST_OF_TEXT) return words;
  const cut = words.slice(0, MOST_OF_TEXT);
  return `${cut.slice(0, cut.includes(' ') ? cut.lastIndexOf(' ') : undefined)} …`;
}

const MOST_OF_TEXT = 32;

const PATH = /:nth-|^html > body > /u;
/** Ids that frameworks count up, as selectors escape them; keys leave them out as well (runner/page/scene/generated-ids.ts). */
const COUNTED = /#(?:(?:radix|headlessui|react|ember|mui|ng)-|\\:|(?:[^ >]*[-_])?(?:\\:|[«_])r[\da-z]*(?:\\:|[»_]))/u;
/** It has an id, an attribute or words of its own. */
const NAMED = /[#["]/u;
const MOST_LETTERS = 60;

/**
 * `.card_x7Qz9` → `card (.card_x7Qz9)`: what its author called it first, then what the build made of it; where its author called it nothing,
 * what is found there.
 * @param there name of one place that the rule paints
 */
export function readableName(list: string, there = ''): string {
  const rule = briefly(list);
  const hashed = [...rule.matchAll(HASHED)].filter(([, name = '', mark = '', hash = '']) => TOOLS.test(name) || isHash(hash, mark));
  const names = hashed.flatMap(([, name = '']) => (isName(name) ? [name] : []));
  if (names.length > 0) return `${[...new Set(names)].join(', ')} (${rule})`;
  const isNameless = hashed.length > 0 && hashed.length === [...rule.matchAll(/(?<!\\)\./gu)].length;
  if (!isNameless || there === '' || there === rule) return rule;
  const what = PATH.test(there) ? (/([a-z]+)(?::nth-of-type\(\d+\))?$/u.exec(there)?.[1] ?? '') : there;
  return what === '' || PLAIN.has(what) ? rule : `${what} (${rule})`;
}

/** The first of many selectors. */
function briefly(rule: string): string {
  const selectors = rule.split(/,\s*(?![^([]*[)\]])/u);
  return selectors.length <= MOST_SELECTORS ? rule : `${selectors.slice(0, 2).join(', ')} and ${selectors.length - 2} more`;
}

/** Told in a sentence. */
const MOST_SELECTORS = 4;
/** Elements that say nothing. */
const PLAIN: ReadonlySet<string> = new Set(['div', 'span']);

/** A letter says nothing, nor does the name of a tool. */
function isName(name: string): boolean {
  return name.length > 1 && !TOOLS.test(name);
}

const HASHED = /\._?([a-z](?:[\w-]*?[a-z\d])?)(__|_|-)([a-z\d]{5,})(?:_\d+)?(?![\w-])/giu;
/** Names that a tool puts before its hashes. */
const TOOLS = /^(?:css|sc|jss|jsx|go|tw|svelte|astro|emotion)$/iu;

/** Letters and digits mixed, or capitals within; after a hyphen, where authors number things too, only plenty of both. */
function isHash(text: string, mark: string): boolean {
  const digits = text.replace(/\D/gu, '').length;
  const letters = text.length - digits;
  if (mark === '-') return digits >= 2 && letters >= 2 && /\d[a-z]/iu.test(text);
  return (digits > 0 && letters > 0) || /[a-z][A-Z]/u.test(text);
}

/**
 * What people find it by: the rule, where that is known and says more than one element does; of a custom property that too, since one rule
 * may set many.
 */
export function placeName(written: readonly WrittenPlace[], selector = ''): string {
  const [declaration] = written;
  if (declaration === undefined || !isRule(declaration)) return selector;
  const { property, rule } = declaration;
  // A number of a colour is not the colour.
  const isNumber = written.some(({ value }) => propertiesIn(builtIn(value) ?? '').includes(property));
  return property.startsWith('--') && !isNumber ? `${property} in ${rule}` : rule;
}
