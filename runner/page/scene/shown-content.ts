// What a page shows in the place of its content, for telling a sign-in that came instead of it: the words around the field for a password,
// without what all pages of an app share (bars, navigation).
import { dom } from '../dom.ts';
import { allRoots } from '../rest/freeze.ts';
import { shadowOf } from './shadow-trees.ts';
import type { WireContent } from '../wire/wire.ts';

const DIALOGS = 'dialog,[role=dialog],[role=alertdialog],[aria-modal=true]';
const MAIN = 'main,[role=main]';
/** What an app has on all of its pages (ARIA in HTML: landmarks). */
const SHARED =
  'header,nav,aside,footer,[role=banner],[role=navigation],[role=complementary],[role=contentinfo],script,style,noscript,template';
const FIELDS = 'input:not([type=hidden]),select,textarea';
/** No form that only lets people in has these. */
const MORE = 'table,video,canvas,textarea';
/** Ours: code units of a form to sign in with its links and a sentence or two, and its fields with a choice to be remembered. */
const MOST_TEXT = 400;
const MOST_FIELDS = 4;

/** @param whatever also where no field for a password is seen; null otherwise */
export function shownContent(whatever: boolean): WireContent | null {
  const passwords = allRoots()
    .flatMap((root) => [...dom(root).querySelectorAll('input[type=password]')])
    .filter(isSeen);
  const [first] = passwords;
  if (first === undefined && !whatever) return null;
  const around = aroundOf(first);
  const parts = [...partsOf(around, first)];
  const text = parts.join(' ').replace(/\s+/gu, ' ').trim();
  const fields = [...dom(around).querySelectorAll(FIELDS)].filter(isSeen).length;
  return {
    text,
    passwords: passwords.length,
    asksForNew: passwords.some((field) => dom(field).getAttribute('autocomplete')?.includes('new-password') === true),
    isAll: text.length <= MOST_TEXT && fields <= MOST_FIELDS && ![...dom(around).querySelectorAll(MORE)].some(isSeen),
  };
}

function aroundOf(field: Element | undefined): Element {
  const whole = dom(document).querySelector(MAIN) ?? dom(document).documentElement;
  if (field === undefined) return whole;
  return closest(field, DIALOGS) ?? closest(field, MAIN) ?? dom(document).documentElement;
}

/** Also out of shadow trees. */
function closest(el: Element, selector: string): Element | null {
  const found = dom(el).closest(selector);
  if (found !== null) return found;
  const root = dom(el).getRootNode();
  return root instanceof ShadowRoot ? closest(root.host, selector) : null;
}

/** Words and names of fields, as they stand in the page. @param kept is in what is shared by all pages, where it is there */
function* partsOf(around: Element, kept: Element | undefined): Generator<string> {
  const tree = shadowOf(around);
  const nodes = [...(tree === null ? [] : dom(tree).childNodes), ...dom(around).childNodes];
  for (const node of nodes) {
    if (node instanceof Text) {
      if (isSeen(around)) yield node.data;
    } else if (node instanceof Element) {
      const isShared = dom(node).matches(SHARED) && (kept === undefined || !dom(node).contains(kept));
      if (isShared) continue;
      if (dom(node).matches(FIELDS) && isSeen(node)) yield fieldName(node);
      yield* partsOf(node, kept);
    }
  }
}

function fieldName(el: Element): string {
  const { localName } = dom(el);
  return `‹${['type', 'name', 'placeholder'].map((name) => dom(el).getAttribute(name) ?? localName).join(' ')}›`;
}

function isSeen(el: Element): boolean {
  return dom(el).checkVisibility({ visibilityProperty: true });
}
