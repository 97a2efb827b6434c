// Elements of pages as numbers: cases hang together by them.
import type { ViewRef } from '../../samples/view.ts';

/** FNV-1a, 31 bits (RFC 9923): one number for an element of a page in all themes. Two elements may meet in one; that only blurs counts. */
export function elementNumber(view: ViewRef, selector: string): number {
  let hash = 0x811c9dc5;
  for (const text of [view.page, view.state, view.viewport, selector]) {
    for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
    hash = Math.imul(hash ^ 10, 0x01000193);
  }
  return hash >>> 1;
}
