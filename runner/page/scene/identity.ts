// Names of places: a selector that finds exactly one element in the page as captured, and a key that stays the same in every
// theme and from night to night.
import { dom } from '../dom.ts';
import { isComponentsOwn, isGivenByComponent } from './component-ids.ts';
import { isCounted, isRandom } from './generated-ids.ts';
import type { Entry, Scene } from './scene.ts';

export interface Identity {
  /** `#id` alone where unique and neither made up nor counted at each load; trees joined by ` >>> `. */
  selectorOf(entry: Entry): string;
  /** From tag, id, name, role, stable attributes and own text, never from classes: themes change those. */
  keyOf(entry: Entry): string;
}

/** Attributes that authors give for good. */
const STABLE = [
  'name',
  'role',
  'type',
  'for',
  'href',
  'data-testid',
  'data-test',
  'data-id',
  'aria-label',
  'alt',
  'placeholder',
] as const;
const TEXT_IN_KEY = 60;

export function identify(scene: Scene): Identity {
  const selectors = new Map<Element, string>();
  const keys = new Map<Element, string>();
  const idCounts = new Map<ParentNode, Map<string, number>>();
  const places = new Map<ParentNode, Places>();

  const countsOf = (root: Document | ShadowRoot): Map<string, number> => {
    const known = idCounts.get(root);
    if (known !== undefined) return known;
    const counts = new Map<string, number>();
    for (const el of dom(root).querySelectorAll('[id]')) counts.set(dom(el).id, (counts.get(dom(el).id) ?? 0) + 1);
    idCounts.set(root, counts);
    return counts;
  };

  /** Within its own tree (document or shadow root). */
  const local = (el: Element): string => {
    const known = selectors.get(el);
    if (known !== undefined) return known;
    const chain: Element[] = [];
    let base = '';
    for (let at: Element | null = el; at !== null; at = dom(at).parentElement) {
      const have = selectors.get(at);
      if (have !== undefined) {
        base = have;
        break;
      }
      chain.push(at);
      if (uniqueId(at, countsOf)) break;
    }
    for (const at of chain.reverse()) {
      base = uniqueId(at, countsOf) ? `#${CSS.escape(dom(at).id)}` : step(base, at, places);
      selectors.set(at, base);
    }
    return base;
  };

  const selectorOf = (entry: Entry): string => {
    const own = local(entry.el);
    const root = dom(entry.el).getRootNode();
    const host = root instanceof entry.shown.window.ShadowRoot ? entryOfHost(entry, root.host) : entry.shown.holder;
    if (host !== null) return `${selectorOf(host)} >>> ${own}`;
    return scene.within === undefined ? own : `${scene.within.selector} >>> ${own}`;
  };

  // Keys are told apart by the frame: two may hold the same.
  const within = scene.within === undefined ? '' : `${scene.within.key}>`;
  const ordinals = new Map<string, number>();
  for (const entry of scene.entries) {
    const signature = within + signatureOf(entry);
    const n = ordinals.get(signature) ?? 0;
    ordinals.set(signature, n + 1);
    keys.set(entry.el, n === 0 ? signature : `${signature}~${n + 1}`);
  }
  return {
    selectorOf,
    keyOf: (entry) => keys.get(entry.el) ?? signatureOf(entry),
  };
}

function entryOfHost(entry: Entry, host: Element): Entry | null {
  for (let at: Entry | null = entry; at !== null; at = at.up) if (at.el === host) return at;
  return null;
}

function uniqueId(el: Element, countsOf: (root: Document | ShadowRoot) => Map<string, number>): boolean {
  if (dom(el).id === '' || isRandom(dom(el).id) || isGivenByComponent(el)) return false;
  const root = dom(el).getRootNode();
  const inTree = dom(root).nodeType === Node.DOCUMENT_NODE || dom(root).nodeType === Node.DOCUMENT_FRAGMENT_NODE;
  return inTree && countsOf(root as Document | ShadowRoot).get(dom(el).id) === 1;
}

/** Positions of all children of a parent among those of their tag; a page may have ten thousand siblings. */
type Places = Map<Element, { readonly n: number; readonly alone: boolean }>;

function step(base: string, el: Element, places: Map<ParentNode, Places>): string {
  const tag = CSS.escape(dom(el).localName);
  const parent = dom(el).parentNode;
  const place = parent === null ? undefined : placesIn(parent, places).get(el);
  const own = place === undefined || place.alone ? tag : `${tag}:nth-of-type(${place.n})`;
  return base === '' ? own : `${base} > ${own}`;
}

function placesIn(parent: ParentNode, all: Map<ParentNode, Places>): Places {
  const known = all.get(parent);
  if (known !== undefined) return known;
  const counts = new Map<string, number>();
  for (let at = dom(parent).firstElementChild; at !== null; at = dom(at).nextElementSibling) {
    counts.set(dom(at).localName, (counts.get(dom(at).localName) ?? 0) + 1);
  }
  const seen = new Map<string, number>();
  const places: Places = new Map();
  for (let at = dom(parent).firstElementChild; at !== null; at = dom(at).nextElementSibling) {
    const n = (seen.get(dom(at).localName) ?? 0) + 1;
    seen.set(dom(at).localName, n);
    places.set(at, { n, alone: counts.get(dom(at).localName) === 1 });
  }
  all.set(parent, places);
  return places;
}

function signatureOf(entry: Entry): string {
  const { el } = entry;
  const parts = [dom(el).localName];
  if (dom(el).id !== '' && !isCounted(dom(el).id) && !isGivenByComponent(el)) parts.push(`#${dom(el).id}`);
  for (const name of STABLE) {
    const value = dom(el).getAttribute(name);
    if (value !== null && value !== '' && !refersToMadeUp(el, name, value)) parts.push(`[${name}=${value.slice(0, TEXT_IN_KEY)}]`);
  }
  const text = ownText(el);
  if (text !== '') parts.push(`"${text}"`);
  return parts.join('');
}

/** Names of groups and ids of other elements, where no author gave them. */
function refersToMadeUp(el: Element, attribute: string, value: string): boolean {
  if (attribute === 'name') return isRandom(value);
  if (attribute === 'for') return isCounted(value) || isComponentsOwn(el, value);
  return attribute === 'href' && value.includes('#') && isRandom(value.slice(value.indexOf('#') + 1));
}

function ownText(el: Element): string {
  let text = '';
  for (let node = dom(el).firstChild; node !== null && text.length < TEXT_IN_KEY; node = dom(node).nextSibling) {
    if (dom(node).nodeType === Node.TEXT_NODE) text += dom(node).nodeValue ?? '';
  }
  // Counts and times change, the place stays.
  return text.replace(/\s+/gu, ' ').replace(/\d+/gu, '0').trim().slice(0, TEXT_IN_KEY);
}
