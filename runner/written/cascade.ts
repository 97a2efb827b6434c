// Matched rules of an element, as the browser lists them → the declaration that wins for a property (CSS Cascade 5 §6).
import { SHORTHANDS } from '../page/color-properties.ts';
import { nestedSelector } from '../page/styles/selector-parts.ts';
import type { MatchedProperty, MatchedRule, MatchedStyle } from '../driver/page-driver.ts';

/** One element of the chain from the asked one upwards. */
export interface Level {
  /** In the order of the cascade, lowest first. */
  readonly rules: readonly MatchedRule[];
  readonly inline: MatchedStyle | null;
  /** Of a drawing: they count less than rules of the page. */
  readonly attributes: MatchedStyle | null;
}

export interface Winner {
  readonly name: string;
  readonly value: string;
  readonly important: boolean;
  /** Selector of the rule, nested or not; null for attributes. */
  readonly rule: string | null;
  readonly layer: string | null;
  /** Of the rule, or `style` or `attribute`. */
  readonly origin: string;
  readonly styleSheetId: string | null;
  readonly range: { readonly startLine: number; readonly startColumn: number } | null;
}

/** @returns null when nothing on this element sets the property; the browser's own rules count last */
export function winnerOf({ rules, inline, attributes }: Level, property: string): Winner | null {
  const names = new Set([property, 'all', ...(SHORTHANDS[property] ?? [])]);
  const candidates = [
    ...ownWinner(attributes, names, 'attribute'),
    ...rules.flatMap(({ rule }) => {
      const found = lastOf(rule.style, names);
      if (found === null) return [];
      const layer = (rule.layers ?? []).map(({ text }) => text).join('.');
      return [{ ...winner(found, rule.style), rule: selectorOf(rule), layer: layer === '' ? null : layer, origin: rule.origin }];
    }),
    ...ownWinner(inline, names, 'style'),
  ];
  return candidates.reduce<Winner | null>((best, next) => (best === null || beats(next, best) ? next : best), null);
}

/** As one that is not nested. Declarations after what is nested are told as a rule in their own one. */
function selectorOf({ selectorList: { text }, nestingSelectors = [] }: MatchedRule['rule']): string {
  const around = nestingSelectors[0] === text ? nestingSelectors.slice(1) : nestingSelectors;
  return nestedSelector(
    text,
    around.reduceRight((parent, selector) => nestedSelector(selector, parent), ''),
  );
}

/**
 * Of one block: the last important one, else the last. The browser's own rules stand in no text, nor do some of those that scripts put in: then
 * it lists longhands alone, without a value where a shorthand with a custom property in it sets them.
 */
function lastOf({ cssProperties }: MatchedStyle, names: ReadonlySet<string>): MatchedProperty | null {
  const isInText = cssProperties.some(({ range }) => range !== undefined);
  const set = cssProperties.filter(
    ({ name, value, range, disabled, parsedOk }) =>
      names.has(name) && (isInText ? range !== undefined : value !== '') && disabled !== true && parsedOk !== false,
  );
  return set.findLast((each) => each.important === true) ?? set.at(-1) ?? null;
}

/** Of what stands at the element itself. */
function ownWinner(own: MatchedStyle | null, names: ReadonlySet<string>, origin: 'attribute' | 'style'): readonly Winner[] {
  const found = own === null ? null : lastOf(own, names);
  return found === null || own === null ? [] : [{ ...winner(found, own), rule: null, layer: null, origin }];
}

function winner(
  found: MatchedProperty,
  style: MatchedStyle,
): Pick<Winner, 'name' | 'value' | 'important' | 'styleSheetId' | 'range'> {
  return {
    name: found.name,
    value: found.value.replace(/\s*!\s*important\s*$/iu, ''),
    important: found.important === true,
    styleSheetId: style.styleSheetId ?? null,
    range: found.range ?? null,
  };
}

/** `next` comes after `best` in the order of the cascade; important declarations turn the order of layers over (CSS Cascade 5 §6.4.4). */
function beats(next: Winner, best: Winner): boolean {
  const [isUa, wasUa] = [next.origin === 'user-agent', best.origin === 'user-agent'];
  if (isUa !== wasUa && !next.important && !best.important) return wasUa;
  if (next.important !== best.important) return next.important;
  if (!next.important || next.layer === best.layer || next.rule === null) return true;
  return next.layer !== null && best.layer === null;
}
