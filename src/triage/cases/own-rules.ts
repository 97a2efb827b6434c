// Declarations of a colour and its hops → the rules that are a place's own.
import type { WrittenPlace } from '../../samples/paint.ts';

export function isRule({ rule }: WrittenPlace): boolean {
  return rule !== 'browser' && rule !== 'style attribute' && rule !== 'presentation attribute';
}

/** Last first; what a theme declares for the whole page is no place's own, unless there is nothing else. */
export function ownRules(written: readonly WrittenPlace[]): readonly WrittenPlace[] {
  const rules = written.filter(isRule).toReversed();
  const own = rules.filter(({ rule }) => !WHOLE_PAGE.test(rule));
  return own.length > 0 ? own : rules;
}

/** Selector of the rule of a place's own that writes its colour. */
export function ownRule(written: readonly WrittenPlace[]): string | undefined {
  return written.findLast((place) => isRule(place) && !WHOLE_PAGE.test(place.rule))?.rule;
}

const WHOLE_PAGE = /(?:^|,)\s*(?::root|:host|html|body|\[[\w-]*theme[\w-]*[~|^$*]?=[^\]]*\])(?:[^\s>+~,]*)\s*(?:,|$)/u;
