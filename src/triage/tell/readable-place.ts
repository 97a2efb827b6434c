// What a place is called in a sentence: people know a control by its words and a part by its name, not by a path or a hash.
import type { Finding } from '../../samples/finding.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import { isRule } from '../cases/own-rules.ts';

/**
 * A path that counts its way through the page tells nobody anything: then what the element is, and what is written on it.
 * @param place rule or selector @param finding one at the place
 */
export function readablePlace(place: string, finding: Pick<Finding, 'selector' | 'key'> | undefined): string {
  if (finding === undefined || place !== finding.selector || !PATH.test(place)) return place;
  const [what = ''] = finding.key.split('|');
  const named = what.replace(/^((?:[^"[\]]|\[[^"\]]*\])+)"/u, '$1 "');
  return !NAMED.test(named) || named.length > MOST_LETTERS ? place : named;
}

const PATH = /:nth-|^html > body > /u;
/** It has an id, an attribute or words of its own. */
const NAMED = /[#["]/u;
const MOST_LETTERS = 60;

/** `.card_x7Qz9` → `card (.card_x7Qz9)`: what its author called it first, then what the build made of it. */
export function readableName(rule: string): string {
  const names = [...rule.matchAll(HASHED)].flatMap(([, name = '', mark = '', hash = '']) =>
    isHash(hash, mark) && !TOOLS.test(name) ? [name] : [],
  );
  return names.length === 0 ? rule : `${[...new Set(names)].join(', ')} (${rule})`;
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

/** What people find it by: the rule, where that is known and says more than one element does. */
export function placeName([declaration]: readonly WrittenPlace[], selector = ''): string {
  return declaration !== undefined && isRule(declaration) ? declaration.rule : selector;
}
