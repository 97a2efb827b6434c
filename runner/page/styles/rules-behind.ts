// Places → the rules that may decide how they are painted: as text, so that two places of which the same is told are painted by the same
// declarations and one of them alone need be looked up; and level by level, so that which of them wins can be told without the browser,
// each answer of which lists all rules of all elements around.
import { ATTRIBUTES, SHORTHANDS, isHandedOn, isInherited, namesIn, takesInkUnset } from '../color-properties.ts';
import { dom } from '../dom.ts';
import { shadowOf } from '../scene/shadow-trees.ts';
import type { WireLevel, WirePlaceBehind, WireRule, WireRulesBehind } from '../wire/written.ts';
import type { Holder } from './browsers-own.ts';
import { isFilledIn, mayBeBrowsers, ofBrowser, Unsure } from './browsers-own.ts';
import { partSelected } from './selector-parts.ts';
import type { Declaring, SheetRules } from './sheet-rules.ts';

/**
 * @param places selectors within the document, of elements or parts of them (`::before`), with the property that is asked about
 * @param read style sheets of the document; null where one may not be read
 */
export function rulesBehind(
  places: readonly (readonly [selector: string, property: string])[],
  read: SheetRules | null,
): WireRulesBehind {
  if (read === null) return { key: '', sheets: [], rules: [], places: places.map(() => null) };
  const { key, sheets } = read;
  const teller = openTeller(read);
  const told = places.map(([selector, property]) => teller.tell(selector, property));
  return { key, sheets, rules: teller.rules, places: told };
}

/** @returns as the browser writes them (some shorthands it does not write at all: ''), null for those that it does not take */
export function parsed(declarations: readonly (readonly [property: string, value: string])[]): readonly (string | null)[] {
  const { style } = dom(dom(document).createElement('i'));
  return declarations.map(([property, value]) => {
    if (!CSS.supports(property, value)) return null;
    style.cssText = '';
    style.setProperty(property, value);
    return style.getPropertyValue(property);
  });
}

interface Declared {
  readonly declaring: Declaring | 'attribute' | 'style';
  readonly values: readonly string[];
}

/** What may have a part in what a property is on a holder, and what that leads to. */
interface Behind {
  readonly here: readonly Declared[];
  /** What the browser's own rules go by, '' where they say nothing. */
  readonly browsers: string;
  readonly names: readonly string[];
  readonly takesInk: boolean;
  readonly isOpen: boolean;
}

interface Teller {
  readonly rules: readonly WireRule[];
  tell(selector: string, property: string): WirePlaceBehind | null;
}

function openTeller({ byName, wireOf }: SheetRules): Teller {
  const holders = new Map<Element, Map<string, Holder>>();
  const told = new Map<Holder, Map<string, string | null>>();
  const behinds = new Map<Holder, Map<string, Behind>>();
  const declaring = new Map<string, readonly Declaring[]>();
  const rules: (WireRule & { readonly values: Record<string, string> })[] = [];
  const indexes = new Map<Declaring, number>();

  const holderOf = (el: Element, part: string): Holder => {
    const parts = holders.get(el) ?? new Map<string, Holder>();
    holders.set(el, parts);
    const holder = parts.get(part) ?? { el, part };
    parts.set(part, holder);
    return holder;
  };

  /** @throws Unsure where it is in a slot, or in another tree than the document's own */
  const aroundOf = ({ el, part }: Holder): Holder | null => {
    if (part !== '') return holderOf(el, '');
    if (dom(el).assignedSlot !== null) throw new Unsure();
    const { parentElement } = dom(el);
    return parentElement === null ? null : holderOf(parentElement, '');
  };

  /** Of all that declare a property, in the order of the page. */
  const declaringOf = (property: string): readonly Declaring[] => {
    let all = declaring.get(property);
    if (all === undefined) {
      const names = longhandsOf(property);
      all = names.length === 1 ? (byName.get(property) ?? []) : [...new Set(names.flatMap((name) => byName.get(name) ?? []))];
      declaring.set(property, all);
    }
    return all;
  };

  const behindOf = (holder: Holder, property: string): Behind => {
    const known = behinds.get(holder) ?? new Map<string, Behind>();
    behinds.set(holder, known);
    let behind = known.get(property);
    if (behind === undefined) {
      const here = declaredOn(holder, property, declaringOf(property));
      const values = here.flatMap((each) => each.values);
      behind = {
        here,
        browsers: property.startsWith('--') ? '' : ofBrowser(holder, property),
        names: [...new Set(values.flatMap(namesIn))],
        takesInk: property !== 'color' && (takesInkUnset(property) || values.some((value) => /currentcolor/iu.test(value))),
        isOpen: here.length === 0 ? isInherited(property) : values.some((value) => isHandedOn(property, value)),
      };
      known.set(property, behind);
    }
    return behind;
  };

  /** Everything that may have a part in what `property` is there, the ways through custom properties and `inherit` included. */
  const tellHolder = (holder: Holder, property: string): string => {
    const known = told.get(holder) ?? new Map<string, string | null>();
    told.set(holder, known);
    const had = known.get(property);
    // Names that lead back to themselves.
    if (had === null) throw new Unsure();
    if (had !== undefined) return had;
    known.set(property, null);
    const { here, browsers, names, takesInk, isOpen } = behindOf(holder, property);
    const parts = here.map(({ declaring: rule, values }) => `${typeof rule === 'string' ? rule : rule.id} ${values.join(';')}`);
    if (browsers !== '') parts.push(browsers);
    for (const name of names) parts.push(tellHolder(holder, name));
    if (takesInk) parts.push(tellHolder(holder, 'color'));
    const around = isOpen ? aroundOf(holder) : null;
    const above = around === null ? '' : tellHolder(around, property);
    // How far above it stands makes no difference.
    const text = parts.length === 0 && above !== '' ? above : `(${[property, ...parts, above].join(' ')})`;
    known.set(property, text);
    return text;
  };

  const indexOf = (rule: Declaring, properties: Iterable<string>): number => {
    const index = indexes.get(rule) ?? rules.push({ ...wireOf(rule), values: {} }) - 1;
    indexes.set(rule, index);
    for (const property of properties) {
      const value = rule.style.getPropertyValue(property);
      const wire = rules[index];
      if (value !== '' && wire !== undefined) wire.values[property] = value;
    }
    return index;
  };

  const levelsOf = (start: Holder, property: string): readonly WireLevel[] | null => {
    const levels: { readonly holder: Holder; readonly rules: Set<Declaring>; readonly seen: Set<string> }[] = [];
    const go = (holder: Holder, at: number, wanted: string): boolean => {
      const level = (levels[at] ??= { holder, rules: new Set(), seen: new Set() });
      if (level.seen.has(wanted)) return true;
      level.seen.add(wanted);
      const { here, names, takesInk, isOpen } = behindOf(holder, wanted);
      if (here.length === 0 ? mayBeBrowsers(holder, wanted) : isFilledIn(holder)) return false;
      for (const { declaring: rule } of here) if (typeof rule !== 'string') level.rules.add(rule);
      const around = isOpen ? aroundOf(holder) : null;
      return (
        names.every((name) => go(holder, at, name)) &&
        (!takesInk || go(holder, at, 'color')) &&
        (around === null || go(around, at + 1, wanted))
      );
    };
    if (!go(start, 0, property)) return null;
    return levels.map(({ holder, rules: matching, seen }) => ({
      rules: [...matching].map((rule) => [indexOf(rule, seen), matchingSelectors(holder, rule)] as const),
      inline: holder.part === '' ? dom(holder.el).getAttribute('style') : null,
      attributes: [...seen].flatMap((name) => {
        const value = attributeOf(holder, name);
        return value === null ? [] : [[name, value] as const];
      }),
    }));
  };

  return {
    rules,
    tell: (selector, property) => {
      const { on, part } = partSelected(selector) ?? { on: selector, part: '' };
      const el = dom(document).querySelector(on);
      if (el === null) return null;
      try {
        const holder = holderOf(el, part);
        return { told: tellHolder(holder, property), levels: levelsOf(holder, property) };
      } catch (error) {
        // A selector that only the engine itself can read.
        if (error instanceof Unsure || error instanceof DOMException) return null;
        throw error;
      }
    },
  };
}

/** @throws Unsure, DOMException */
function declaredOn(holder: Holder, property: string, all: readonly Declaring[]): readonly Declared[] {
  const { el, part } = holder;
  // Rules of a shadow tree may hold for its host, too.
  if (all.length > 0 && shadowOf(el) !== null) throw new Unsure();
  const declared = all.flatMap((declaring): readonly Declared[] => {
    const isMatching = part === '' ? dom(el).matches(declaring.selector) : matchingSelectors(holder, declaring).length > 0;
    if (!isMatching) return [];
    if (!declaring.isSure) throw new Unsure();
    return [{ declaring, values: valuesOf(declaring.style, property) }];
  });
  const attribute = attributeOf(holder, property);
  const inline = part === '' ? valuesOf(dom(el as HTMLElement).style, property) : [];
  return [
    ...(attribute === null ? [] : [{ declaring: 'attribute', values: [attribute] } as const]),
    ...declared,
    ...(inline.length === 0 ? [] : [{ declaring: 'style', values: inline } as const]),
  ];
}

/** What an attribute of a drawing says that stands for the property. */
function attributeOf({ el, part }: Holder, property: string): string | null {
  if (part !== '' || !ATTRIBUTES.includes(property) || dom(el).namespaceURI !== SVG) return null;
  const value = dom(el).getAttribute(property)?.trim() ?? null;
  // A drawing that is filled with nothing is painted by its shapes.
  return value !== null && value !== 'none' && CSS.supports(property, value) ? value : null;
}

const SVG = 'http://www.w3.org/2000/svg';

/** Those of the rule's selectors that match. */
function matchingSelectors({ el, part }: Holder, { selector, selectors }: Declaring): readonly string[] {
  if (part !== '' && !selector.includes(part)) return [];
  return selectors().filter((complex) => {
    const selected = partSelected(complex);
    if (part === '') return selected === null && dom(el).matches(complex);
    return selected?.part === part && dom(el).matches(selected.on);
  });
}

/** As they are written: a longhand has none where a shorthand with a custom property in it sets it. */
function valuesOf(style: CSSStyleDeclaration, property: string): readonly string[] {
  const names = [property, 'all', ...(SHORTHANDS[property] ?? [])];
  return names.flatMap((name) => {
    const value = style.getPropertyValue(name);
    return value === '' ? [] : [`${value} ${style.getPropertyPriority(name)}`.trim()];
  });
}

/** Under which names a declaration block may list what sets a property. */
function longhandsOf(property: string): readonly string[] {
  if (property.startsWith('--')) return [property];
  if (!property.startsWith('border-')) return [property, 'all'];
  return [...Object.keys(SHORTHANDS), ...Object.values(SHORTHANDS).flat(), 'all'].filter(
    (name) => name === 'all' || name.startsWith('border'),
  );
}
