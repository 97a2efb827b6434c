// Ids that components give as they load. Which number each gets depends on whose code came first.
import { dom } from '../dom.ts';
import { isNumbered } from './generated-ids.ts';

/**
 * The numbers of a page's own document are its author's (`#step-1`). In a shadow tree nobody can tell: what is written there in the same
 * way for all components of a kind has the same number in each, and loses little without. Out of one, a component names itself.
 */
export function isGivenByComponent(el: Element): boolean {
  const { id, localName } = dom(el);
  return isComponentsOwn(el, id) || (localName.includes('-') && isNumbered(id) && id.includes(localName));
}

/** @param id of an element in the same tree */
export function isComponentsOwn(el: Element, id: string): boolean {
  if (!isNumbered(id)) return false;
  const root = dom(el).getRootNode();
  return dom(root).nodeType === Node.DOCUMENT_FRAGMENT_NODE;
}
