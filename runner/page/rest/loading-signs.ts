// Signs by which a page says that it is not there yet: a placeholder text, `aria-busy`, a bar without a value, grey boxes in place of text.
// In its shadow trees and frames as well.
import { dom, isDocument } from '../dom.ts';
import { PENDING, PENDING_LONG } from './pending-events.ts';
import { pulsingBox } from './pulsing-boxes.ts';

/** Words of placeholders in six languages (common practice). */
const WORD =
  '(?:loading|please wait|one moment|wird geladen|lade|lädt|bitte warten|chargement|veuillez patienter|cargando|caricamento|carregando)';
const PLACEHOLDER = new RegExp(`^${WORD}(?:\\s.{0,30})?\\s*(?:…|\\.{2,})$`, 'iu');
const BARE_WORD = new RegExp(`^${WORD}$`, 'iu');
/** The longest text that can be one. */
const MOST = 60;
const BOXES = '[aria-busy=true],progress:not([value]),[role=progressbar]:not([aria-valuenow])';
/** Signs only while no text stands in them: names of classes mean many things. */
const GREY_BOXES = '[class*=skeleton i],[class*=shimmer i],[data-skeleton]';
/** In a list of ships, "Loading" is news; as a heading or on a control it is a name. */
const NAMES = 'table,ul,ol,dl,select,h1,h2,h3,h4,h5,h6,[role=heading],label,legend,summary,caption,figcaption,nav,a,button';

/** @returns what shows the first sign that is seen, for people; null where the page is silent */
export function loadingSign(roots: readonly (Document | ShadowRoot)[]): string | null {
  for (const root of roots) {
    const sign = signIn(root);
    if (sign !== null) return sign;
  }
  return null;
}

function signIn(root: Document | ShadowRoot): string | null {
  const greyBoxes = [...dom(root).querySelectorAll(GREY_BOXES)].filter((el) => dom(el).textContent.trim() === '');
  const box = [...dom(root).querySelectorAll(BOXES), ...greyBoxes].find(isSeen);
  if (box !== undefined) return nameOf(box);
  const pulsing = pulsingBox(root);
  if (pulsing !== null) return nameOf(pulsing);
  const walker = dom(document).createTreeWalker(root, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    const text = dom(node).nodeValue ?? '';
    if (text.length > MOST + 20) continue;
    const plain = text.trim();
    const parent = dom(node).parentNode;
    // Text may stand in a shadow tree itself.
    const el = parent !== null && 'host' in dom(parent) ? (parent as ShadowRoot).host : dom(node).parentElement;
    if (plain.length > MOST || el === null) continue;
    const isPlaceholder = PLACEHOLDER.test(plain) || (BARE_WORD.test(plain) && dom(el).closest(NAMES) === null);
    if (isPlaceholder && isSeen(el)) return `${nameOf(el)} "${plain}"`;
  }
  return null;
}

/** Whether the page or a frame in it has set a timer that ends soon; with `later`, one that ends at all while anybody would wait. */
export function isPending(roots: readonly (Document | ShadowRoot)[], later: boolean): boolean {
  // The page and the frames in it each know their own.
  const views = roots.flatMap((root) => (isDocument(root) ? [dom(root).defaultView] : []));
  return views.some((view) => view?.dispatchEvent(new Event(later ? PENDING_LONG : PENDING, { cancelable: true })) === false);
}

function isSeen(el: Element): boolean {
  return dom(el).checkVisibility({ visibilityProperty: true, opacityProperty: true }) && dom(el).getClientRects().length > 0;
}

function nameOf(el: Element): string {
  const [first] = dom(el).classList;
  return `${dom(el).localName}${dom(el).id === '' ? (first === undefined ? '' : `.${first}`) : `#${dom(el).id}`}`;
}
