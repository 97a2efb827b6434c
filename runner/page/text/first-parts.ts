// Text whose first letter or first line has a colour of its own (CSS Pseudo-Elements 4 §2).
import { dom } from '../dom.ts';
import type { Entry, Scene } from '../scene/scene.ts';

/** @returns whether a first letter or line of the entry, or of what it lies in, is coloured apart */
export function partedColors(scene: Scene): (entry: Entry) => boolean {
  if (!scene.roots.some(mentionsFirst)) return () => false;
  const known = new Map<Entry, boolean>();
  const of = (entry: Entry): boolean => {
    const have = known.get(entry);
    if (have !== undefined) return have;
    const view = entry.shown.window;
    const { color } = entry.style;
    const own = ['::first-line', '::first-letter'].some((part) => view.getComputedStyle(entry.el, part).color !== color);
    const found = own || (entry.up !== null && of(entry.up));
    known.set(entry, found);
    return found;
  };
  return of;
}

const asked = new WeakMap<CSSStyleSheet, { readonly rules: number; readonly mentions: boolean }>();

function mentionsFirst(root: Document | ShadowRoot): boolean {
  return [...dom(root).styleSheets, ...dom(root).adoptedStyleSheets].some(sheetMentions);
}

function sheetMentions(sheet: CSSStyleSheet): boolean {
  let rules: CSSRuleList;
  try {
    rules = sheet.cssRules;
  } catch {
    // A sheet of another origin cannot be read: it may.
    return true;
  }
  const known = asked.get(sheet);
  if (known?.rules === rules.length) return known.mentions;
  const mentions = [...rules].some(ruleMentions);
  asked.set(sheet, { rules: rules.length, mentions });
  return mentions;
}

function ruleMentions(rule: CSSRule): boolean {
  if ('selectorText' in rule && String(rule.selectorText).includes('first-l')) return true;
  if ('styleSheet' in rule && rule.styleSheet !== null) return sheetMentions(rule.styleSheet as CSSStyleSheet);
  return 'cssRules' in rule && [...(rule.cssRules as CSSRuleList)].some(ruleMentions);
}
