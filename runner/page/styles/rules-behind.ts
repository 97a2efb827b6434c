// Places → the rules that may decide how they are painted, as text. Two places of which the same is told are painted by the same
// declarations, so that the browser need be asked about one of them only: each answer of it lists all rules of all elements around.
import { SHORTHANDS, isHandedOn, isInherited, namesIn, takesInkUnset } from '../color-properties.ts';
import { dom } from '../dom.ts';
import { shadowOf } from '../scene/shadow-trees.ts';
import type { WireRulesBehind } from '../wire/wire.ts';

interface Declaring {
  /** Its place among the rules of the page. */
  readonly id: string;
  readonly selector: string;
  readonly style: CSSStyleDeclaration;
  /** More than its selector says where it holds. */
  readonly isSure: boolean;
}

/** What it says cannot be said for this place. */
class Unsure extends Error {}

/**
 * @param places selectors within the document, with the property that is asked about
 * @param ours style sheets that hold the page still: they set no colour
 */
export function rulesBehind(
  places: readonly (readonly [selector: string, property: string])[],
  ours: ReadonlySet<CSSStyleSheet>,
): WireRulesBehind {
  const read = readSheets(ours);
  if (read === null) return { sheets: '', places: places.map(() => null) };
  const teller = openTeller(read.byName);
  return { sheets: read.sheets, places: places.map(([selector, property]) => teller(selector, property)) };
}

function openTeller(byName: ReadonlyMap<string, readonly Declaring[]>): (selector: string, property: string) => string | null {
  const told = new Map<Element, Map<string, string | null>>();
  const declaring = new Map<string, readonly Declaring[]>();

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

  /** Everything that may have a part in what `property` is on the element, the ways through custom properties and `inherit` included. */
  const tell = (el: Element, property: string): string => {
    const known = told.get(el) ?? new Map<string, string | null>();
    told.set(el, known);
    const had = known.get(property);
    // Names that lead back to themselves.
    if (had === null) throw new Unsure();
    if (had !== undefined) return had;
    known.set(property, null);
    const text = tellAnew(el, property);
    known.set(property, text);
    return text;
  };

  const tellAnew = (el: Element, property: string): string => {
    const goesOn = isInherited(property);
    const here = declaredOn(el, property, declaringOf(property));
    const values = here.flatMap((each) => each.values);
    const parts = here.map(({ id, values: own }) => `${id} ${own.join(';')}`);
    const browsers = property.startsWith('--') ? '' : ofBrowser(el, property);
    if (browsers !== '') parts.push(browsers);
    for (const name of new Set(values.flatMap(namesIn))) parts.push(tell(el, name));
    const mayTakeInk = takesInkUnset(property) || values.some((value) => /currentcolor/iu.test(value));
    if (mayTakeInk && property !== 'color') parts.push(tell(el, 'color'));
    const isOpen = here.length === 0 ? goesOn : values.some((value) => isHandedOn(property, value));
    const parent = isOpen ? parentOf(el) : null;
    const around = parent === null ? '' : tell(parent, property);
    // How far above it stands makes no difference.
    return parts.length === 0 && around !== '' ? around : `(${[property, ...parts, around].join(' ')})`;
  };

  return (selector, property) => {
    const el = dom(document).querySelector(selector);
    if (el === null) return null;
    try {
      return tell(el, property);
    } catch (error) {
      // A selector that only the engine itself can read.
      if (error instanceof Unsure || error instanceof DOMException) return null;
      throw error;
    }
  };
}

interface Declared {
  readonly id: string;
  readonly values: readonly string[];
}

function declaredOn(el: Element, property: string, all: readonly Declaring[]): readonly Declared[] {
  // Rules of a shadow tree may hold for its host, too.
  if (all.length > 0 && shadowOf(el) !== null) throw new Unsure();
  const rules = all.flatMap(({ id, selector, style, isSure }) => {
    if (!dom(el).matches(selector)) return [];
    if (!isSure) throw new Unsure();
    return [{ id, values: valuesOf(style, property) }];
  });
  const inline = valuesOf(dom(el as HTMLElement).style, property);
  return inline.length === 0 ? rules : [...rules, { id: 'style', values: inline }];
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

/** Elements to which browsers give an ink of their own. */
const COLOURED = new Set(
  'a area mark input textarea select button meter progress option optgroup hr dialog table fieldset legend summary'.split(' '),
);
/** Whose borders take the colour of those around them. */
const BORDERED = /^(?:thead|tbody|tfoot|tr|td|th|col|colgroup)$/u;

/** What the browser's own rules go by. @throws Unsure where they hand on what is around */
function ofBrowser(el: Element, property: string): string {
  const { localName } = dom(el);
  if (takesInkUnset(property) && BORDERED.test(localName)) throw new Unsure();
  if (isInherited(property) && !COLOURED.has(localName)) return '';
  const states = [
    ':disabled',
    ':any-link',
    ':checked',
    ':autofill',
    ':focus-visible',
    '[popover]',
    '[multiple]',
    '[size]',
    '[open]',
  ];
  return [localName, dom(el).getAttribute('type') ?? '', ...states.filter((state) => dom(el).matches(state))].join(',');
}

/** @throws Unsure where it is in a slot, or in another tree than the document's own */
function parentOf(el: Element): Element | null {
  if (dom(el).assignedSlot !== null) throw new Unsure();
  return dom(el).parentElement;
}

interface Sheets {
  readonly sheets: string;
  readonly byName: ReadonlyMap<string, readonly Declaring[]>;
}

/** @returns null where a sheet may not be read */
function readSheets(ours: ReadonlySet<CSSStyleSheet>): Sheets | null {
  const byName = new Map<string, Declaring[]>();
  const { pathname, search } = location;
  const ids = [dom(document).compatMode, dom(document).contentType];
  const isOn = openConditions();
  try {
    const all = [...dom(document).styleSheets, ...dom(document).adoptedStyleSheets].filter((sheet) => !ours.has(sheet));
    for (const [at, sheet] of all.entries()) {
      // One that is written in the page is none of another page.
      ids.push(`${sheet.href ?? `${pathname}${search}`} ${sheet.cssRules.length}`);
      if (!sheet.disabled && isOn(sheet.media)) readRules(sheet.cssRules, String(at), { parent: '', isSure: true });
    }
  } catch (error) {
    if (error instanceof DOMException && error.name === 'SecurityError') return null;
    throw error;
  }
  return { sheets: ids.join('\n'), byName };

  function readRules(rules: CSSRuleList, path: string, around: Around): void {
    for (const [at, rule] of [...rules].entries()) {
      const id = `${path}.${at}`;
      if (rule instanceof CSSStyleRule) {
        const selector = selectorOf(rule.selectorText, around.parent);
        note(id, selector, rule.style, around.isSure);
        if (rule.cssRules.length > 0) readRules(rule.cssRules, id, { ...around, parent: selector });
      } else if (rule instanceof CSSMediaRule) {
        if (isOn(rule.media)) readRules(rule.cssRules, id, around);
      } else if (rule instanceof CSSSupportsRule) {
        if (CSS.supports(rule.conditionText)) readRules(rule.cssRules, id, around);
      } else if (rule instanceof CSSLayerBlockRule) readRules(rule.cssRules, id, around);
      else if (rule instanceof CSSImportRule) {
        const { styleSheet } = rule;
        if (styleSheet !== null && isOn(rule.media)) readRules(styleSheet.cssRules, id, around);
      } else if (rule instanceof CSSKeyframesRule) continue;
      else if (rule instanceof CSSScopeRule) {
        // Without a start it is the element around the style sheet.
        readRules(rule.cssRules, id, { parent: rule.start === null ? '*' : selectorOf(rule.start, around.parent), isSure: false });
      } else if ('cssRules' in rule) readRules(rule.cssRules as CSSRuleList, id, { ...around, isSure: false });
      else if ('style' in rule && around.parent !== '') note(id, around.parent, rule.style as CSSStyleDeclaration, around.isSure);
    }
  }

  function note(id: string, selector: string, style: CSSStyleDeclaration, isSure: boolean): void {
    const declaring = { id, selector, style, isSure };
    for (const name of style) {
      const all = byName.get(name);
      if (all === undefined) byName.set(name, [declaring]);
      else all.push(declaring);
    }
  }
}

/** Conditions are asked once. */
function openConditions(): (media: MediaList) => boolean {
  const known = new Map<string, boolean>();
  return ({ mediaText }) => {
    let isOn = known.get(mediaText);
    if (isOn === undefined) known.set(mediaText, (isOn = mediaText === '' || matchMedia(mediaText).matches));
    return isOn;
  };
}

interface Around {
  /** Selector of the rule or scope it is nested in, else ''. */
  readonly parent: string;
  readonly isSure: boolean;
}

/** CSS Nesting 1: `&` stands for the elements that the rule around it matches; in a scope, as `:scope`, for its roots. */
function selectorOf(text: string, parent: string): string {
  if (parent === '') return text;
  const around = `:is(${parent})`;
  const selector = text.replace(/"(?:[^"\\]|\\.)*"|&|:scope\b/gu, (part) => (part.startsWith('"') ? part : around));
  return selector === text ? `${around} ${text}` : selector;
}
