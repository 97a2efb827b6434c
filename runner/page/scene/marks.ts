// Which configured exemptions, owners and tones hold at a place (a selector holds for what it matches and all inside it), and whether a
// modal layer lies above it.
import { dom } from '../dom.ts';
import type { Attention } from './attention.ts';
import type { Entry } from './scene.ts';
import type { Rules, WireMarks } from '../wire/wire.ts';

const NONE: WireMarks = {};

/** @returns a lookup; selectors that are no selectors match nothing (the configuration check names them) */
export function markWith(rules: Rules, attention: Attention): (entry: Entry) => WireMarks {
  const configured = configuredMarks(rules);
  return (entry) => {
    const behind = attention.behind(entry);
    return behind === undefined ? configured(entry) : { ...configured(entry), behind };
  };
}

/** What the configuration says alone. */
export function configuredMarks(rules: Rules): (entry: Entry) => WireMarks {
  if (rules.exempt.length + rules.owners.length + rules.stay.length === 0) return () => NONE;
  const known = new Map<Entry, WireMarks>();
  const marksOf = (entry: Entry): WireMarks => {
    const have = known.get(entry);
    if (have !== undefined) return have;
    const own = ownMarks(entry.el, rules);
    const above = entry.up === null ? NONE : marksOf(entry.up);
    const exemptions = union(above.exemptions, own.exemptions);
    const owner = own.owner ?? above.owner;
    const stay = own.stay ?? above.stay;
    const marks: WireMarks = {
      ...(exemptions === undefined ? {} : { exemptions }),
      ...(owner === undefined ? {} : { owner }),
      ...(stay === undefined ? {} : { stay }),
    };
    known.set(entry, marks);
    return marks;
  };
  return marksOf;
}

function ownMarks(el: Element, rules: Rules): WireMarks {
  const exemptions = rules.exempt.flatMap((selector, index) => (matches(el, selector) ? [index] : []));
  const owner = rules.owners.find((rule) => matches(el, rule.selector))?.owner;
  const stay = rules.stay.find((rule) => matches(el, rule.selector))?.tone;
  return {
    ...(exemptions.length === 0 ? {} : { exemptions }),
    ...(owner === undefined ? {} : { owner }),
    ...(stay === undefined ? {} : { stay }),
  };
}

function union(a: readonly number[] | undefined, b: readonly number[] | undefined): readonly number[] | undefined {
  if (a === undefined || b === undefined) return a ?? b;
  return [...new Set([...a, ...b])].sort((x, y) => x - y);
}

/** Selectors that are no selectors match nothing. */
export function matches(el: Element, selector: string): boolean {
  try {
    return dom(el).matches(selector);
  } catch {
    return false;
  }
}
