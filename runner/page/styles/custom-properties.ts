// All custom properties of the page: declared in style sheets (shadow trees and same-origin frames too), inline, or only referred to;
// what each holds, and what it computes to on the root and where it is declared again.
import { dom, isDocument } from '../dom.ts';
import type { Note } from '../../../src/samples/note.ts';
import type { WireProperties, WireProperty, WireServed } from '../wire/dye.ts';
import { allRoots } from '../rest/freeze.ts';
import type { Scheme } from '../scene/color-scheme.ts';
import { colorSchemeOf } from '../scene/color-scheme.ts';
import type { Identity } from '../scene/identity.ts';
import type { Scene } from '../scene/scene.ts';
import { openResolver } from './resolved-value.ts';

type Root = Document | ShadowRoot;

interface FoundProperty {
  declared: boolean;
  /** A declaration gives it a value: `--x: inherit` and `--x:` give none. */
  valued: boolean;
  /** A declaration refers to another custom property. */
  refers: boolean;
  /** Asked about by a style query: to change it would change which rules apply. */
  queried: boolean;
  /** Texts that stand in for it, in `var(--x, TEXT)`. */
  readonly fallbacks: Set<string>;
  /** It is all of the value of a property that takes a colour. */
  wholeColor: boolean;
  /** It stands among the numbers of a colour: `hsl(var(--h), 40%, 50%)`. */
  inColor: boolean;
  /** It may be declared on something else than the root of a document, or is not inherited. */
  elsewhere: boolean;
  /** Where it is declared: a selector in a tree. */
  readonly scopes: { readonly root: Root; readonly selector: string }[];
}

/** Scopes looked at for one property; a component declared a hundred times says the same a hundred times. */
const MOST_SCOPES = 8;

export function findProperties(known: readonly string[], scene: Scene, identity: Identity): WireProperties {
  const found = new Map<string, FoundProperty>();
  const notes: Note[] = [];
  let lightDark = false;
  let unread = false;
  for (const name of known) of(found, name);
  for (const root of allRoots()) {
    for (const sheet of [...dom(root).styleSheets, ...dom(root).adoptedStyleSheets]) {
      const rules = rulesOf(sheet, notes);
      if (rules === null) unread = true;
      else lightDark = walk(rules, root, found, notes) || lightDark;
    }
    for (const el of dom(root).querySelectorAll<HTMLElement>('[style*="--"]')) readInline(el, found);
  }
  const page = getComputedStyle(dom(document).documentElement);
  const child = getComputedStyle(dom(dom(document).documentElement).lastElementChild ?? dom(document).documentElement);
  const served: WireServed[] = [];
  const isWide = openWide();
  const selectors = new Map(scene.entries.map((entry) => [entry.el, entry] as const));
  const resolve = openResolver();
  const colorOn = (value: string, el: Element): string => resolve(value, () => schemeOn(el));
  const rooted = (name: string): string => page.getPropertyValue(name).trim();
  const properties = [...found].map(([name, facts]): WireProperty => {
    const onRoot = rooted(name);
    if (onRoot !== '') served.push({ name, value: colorOn(onRoot, dom(document).documentElement), at: 'html' });
    const isOfScript = onRoot !== '' && !facts.declared;
    if (unread || isOfScript || child.getPropertyValue(name).trim() !== onRoot) facts.elsewhere = true;
    const elsewhere = scopesOf(name, onRoot, facts);
    for (const { el, value } of elsewhere) {
      const entry = selectors.get(el);
      if (entry !== undefined)
        served.push({ name, value: colorOn(value, el), at: identity.selectorOf(entry), ...(isWide(el) ? { wide: true } : {}) });
    }
    const standIn = onRoot === '' && elsewhere.length === 0 ? standInFor(facts, rooted) : null;
    if (standIn !== null) served.push({ name, value: colorOn(standIn, dom(document).documentElement), at: '' });
    return describe(name, facts, onRoot === '' ? (elsewhere[0]?.value ?? '') : onRoot);
  });
  return { properties, served, lightDark, notes };
}

function schemeOn(el: Element): Scheme {
  const { ownerDocument } = dom(el);
  const view = dom(ownerDocument).defaultView ?? window;
  return colorSchemeOf({ style: view.getComputedStyle(el), shown: { document: ownerDocument, window: view } });
}

/** Share of the elements of a page in one of them from which what it sets holds for the page (ours): the rest are dialogs beside the app. */
const WIDE = 0.9;

/** Tells elements around the app: themes of component libraries are set there. */
function openWide(): (el: Element) => boolean {
  const known = new Map<Element, boolean>();
  const all = dom(document).querySelectorAll('body *').length;
  return (el) => {
    const isWide = known.get(el) ?? (dom(document).contains(el) && dom(el).querySelectorAll('*').length + 1 >= all * WIDE);
    known.set(el, isWide);
    return isWide;
  };
}

function of(found: Map<string, FoundProperty>, name: string): FoundProperty {
  let facts = found.get(name);
  if (facts === undefined) {
    const none = { declared: false, refers: false, queried: false, wholeColor: false, inColor: false, elsewhere: false };
    facts = { ...none, valued: false, fallbacks: new Set(), scopes: [] };
    found.set(name, facts);
  }
  return facts;
}

function rulesOf(sheet: CSSStyleSheet, notes: Note[]): CSSRuleList | null {
  try {
    return sheet.cssRules;
  } catch {
    notes.push({ code: 'sheet-unread', at: sheet.href ?? '', data: {} });
    return null;
  }
}

/** @returns whether some colour is written with `light-dark()` */
function walk(rules: CSSRuleList, root: Root, found: Map<string, FoundProperty>, notes: Note[]): boolean {
  let lightDark = false;
  for (const rule of rules) {
    if ('style' in rule) lightDark = readRule(rule as Declaring, root, found) || lightDark;
    if ('conditionText' in rule) {
      for (const [, name] of (rule as CSSConditionRule).conditionText.matchAll(/style\(\s*(--[^\s:)]+)/gu)) {
        if (name !== undefined) of(found, name).queried = true;
      }
    }
    if ('styleSheet' in rule && rule.styleSheet !== null) {
      const inner = rulesOf(rule.styleSheet as CSSStyleSheet, notes);
      if (inner !== null) lightDark = walk(inner, root, found, notes) || lightDark;
    } else if ('initialValue' in rule && 'name' in rule) {
      const facts = of(found, String(rule.name));
      facts.declared = facts.valued = true;
      if ('inherits' in rule && rule.inherits === false) facts.elsewhere = true;
    }
    if ('cssRules' in rule) lightDark = walk(rule.cssRules as CSSRuleList, root, found, notes) || lightDark;
  }
  return lightDark;
}

/** A style rule; or keyframes, or declarations in a condition inside a rule, which have no selector. */
interface Declaring {
  readonly style: CSSStyleDeclaration;
  readonly selectorText?: string;
}

function readRule({ style, selectorText }: Declaring, root: Root, found: Map<string, FoundProperty>): boolean {
  const text = style.cssText;
  if (!text.includes('--')) return text.includes('light-dark(');
  let isForRoot: boolean | null = null;
  for (const name of style) {
    if (!name.startsWith('--')) continue;
    const facts = of(found, name);
    facts.declared = true;
    const value = style.getPropertyValue(name);
    if (isValue(value)) facts.valued = true;
    if (value.includes('var(')) facts.refers = true;
    isForRoot ??= matchesRootOnly(root, selectorText);
    if (!isForRoot) facts.elsewhere = true;
    if (selectorText !== undefined && facts.scopes.length < MOST_SCOPES) facts.scopes.push({ root, selector: selectorText });
  }
  readReferences(text, found);
  return text.includes('light-dark(');
}

/** Pseudo-elements, hosts, and selectors that mean something only where they stand. */
const RELATIVE = /[&]|::|:(?:before|after|first-line|first-letter|host|scope)\b/u;

/** Whether it matches no element but the root of a document. */
function matchesRootOnly(root: Root, selector: string | undefined): boolean {
  if (!isDocument(root) || selector === undefined || RELATIVE.test(selector)) return false;
  try {
    return [...dom(root).querySelectorAll(selector)].every((el) => el === dom(root).documentElement);
  } catch {
    return false;
  }
}

function readInline(el: HTMLElement, found: Map<string, FoundProperty>): void {
  for (const name of dom(el).style) {
    if (!name.startsWith('--')) continue;
    const facts = of(found, name);
    facts.declared = true;
    const value = dom(el).style.getPropertyValue(name);
    if (isValue(value)) facts.valued = true;
    if (value.includes('var(')) facts.refers = true;
    if (el !== dom(dom(el).ownerDocument).documentElement) facts.elsewhere = true;
  }
  readReferences(dom(el).style.cssText, found);
}

const TAKES_COLOR = /(?:^|[;\s])(?:[a-z-]*color|background|fill|stroke|-webkit-text-fill-color)\s*:\s*var\(\s*(--[^\s,)]+)\s*\)/gu;
/** Functions that make a colour of numbers; three levels of brackets in them. */
const OF_NUMBERS = /\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color)\(((?:[^()]|\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\))*)\)/gu;
const REFERENCE = /var\(\s*(--[^\s,)]+)\s*(?:,\s*((?:[^()]|\((?:[^()]|\([^()]*\))*\))*))?\)/gu;

const WHOLE = new RegExp(`^${REFERENCE.source}$`, 'u');

function readReferences(text: string, found: Map<string, FoundProperty>): void {
  if (!text.includes('var(')) return;
  for (const [, name, fallback] of text.matchAll(REFERENCE)) {
    if (name === undefined) continue;
    const facts = of(found, name);
    if (fallback !== undefined && facts.fallbacks.size < MOST_SCOPES) facts.fallbacks.add(fallback.trim());
    if (fallback?.includes('var(') === true) readReferences(fallback, found);
  }
  for (const [, name] of text.matchAll(TAKES_COLOR)) if (name !== undefined) of(found, name).wholeColor = true;
  for (const [, numbers = ''] of text.matchAll(OF_NUMBERS)) {
    for (const [, name] of numbers.matchAll(REFERENCE)) if (name !== undefined) of(found, name).inColor = true;
  }
}

/** First elements of the scopes in which the property computes to something else than on the root. */
function scopesOf(
  name: string,
  onRoot: string,
  { scopes }: FoundProperty,
): readonly { readonly el: Element; readonly value: string }[] {
  const out: { el: Element; value: string }[] = [];
  for (const { root, selector } of scopes) {
    const el = firstIn(root, selector);
    if (el === null) continue;
    const view = dom(dom(el).ownerDocument).defaultView;
    if (view === null) continue;
    const value = view.getComputedStyle(el).getPropertyValue(name).trim();
    if (value !== '' && value !== onRoot && !out.some((each) => each.value === value)) out.push({ el, value });
  }
  return out;
}

function firstIn(root: Root, selector: string): Element | null {
  // A pseudo-element's own declaration is read from its element's: not the same, but of the same kind.
  const plain = selector.replace(/::?(?:before|after|marker|placeholder|backdrop|first-line|first-letter)\b/gu, '');
  if (!isDocument(root) && plain.includes(':host')) return root.host;
  try {
    return dom(root).querySelector(plain);
  } catch {
    return null;
  }
}

/** @returns the colour that all its uses come to where nothing declares it; null where they differ or are no colours */
function standInFor({ fallbacks }: FoundProperty, rooted: (name: string) => string): string | null {
  const colors = new Set([...fallbacks].map((text) => endOf(text, rooted)));
  const [only = null] = colors;
  return colors.size === 1 && only !== null && isColor(only) ? only : null;
}

/** From fallback to fallback: what `var(--a, var(--b, #fff))` comes to on the root. */
function endOf(text: string, rooted: (name: string) => string): string | null {
  let at = text;
  for (;;) {
    const [, name, fallback] = WHOLE.exec(at) ?? [];
    if (name === undefined) return at.includes('var(') ? null : at;
    const own = rooted(name);
    if (own !== '') return own;
    if (fallback === undefined) return null;
    at = fallback.trim();
  }
}

const KEYWORDS = /^(?:inherit|initial|unset|revert|revert-layer|currentcolor)$/iu;

function isValue(text: string): boolean {
  return text.trim() !== '' && !KEYWORDS.test(text.trim());
}

const NUMBER = /^(?:[+-]?[\d.]+(?:%|deg|turn|g?rad)?|calc\(.+\))$/iu;
const CHANNELS = /^[\d.]+(?:deg)?[\s,]+[\d.]+%?[\s,]+[\d.]+%?$/u;
/** Colours inside a longer value; words are tested one by one. */
const INSIDE =
  /#[\da-f]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color|color-mix|light-dark)\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)|\b[a-z]{3,}\b(?!\()/giu;

function describe(name: string, facts: FoundProperty, value: string): WireProperty {
  const { declared, refers } = facts;
  const base = { name, declared: declared || value !== '', leaf: !refers, rootOnly: !facts.elsewhere };
  if (facts.queried) return { ...base, kind: 'other', value };
  if (value === '') {
    // What holds nothing and has no stand-in makes the declaration that takes it none: what is around is handed on (CSS Variables 1 §3.1).
    const isNothing = facts.declared && !facts.valued && facts.fallbacks.size === 0;
    const isStandIn = [...facts.fallbacks].some((text) => isColor(text) || text.startsWith('var('));
    return { ...base, kind: (facts.wholeColor && !isNothing) || isStandIn ? 'color' : 'other', value };
  }
  if (isColor(value)) return { ...base, kind: 'color', value };
  if (CHANNELS.test(value)) return { ...base, kind: 'channels', value };
  if (facts.inColor && NUMBER.test(value)) return { ...base, kind: 'number', value };
  if (/["']|url\(/u.test(value)) return { ...base, kind: 'other', value };
  const template = value.replace(INSIDE, (part) => (isColor(part) ? '\u0001' : part));
  return template === value ? { ...base, kind: 'other', value } : { ...base, kind: 'mixed', value: template };
}

function isColor(text: string): boolean {
  return !KEYWORDS.test(text) && CSS.supports('color', text);
}
