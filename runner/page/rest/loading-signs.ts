// Signs by which a page says that it is not there yet: a placeholder text, `aria-busy`, a bar without a value, grey boxes in place of text.
import { PENDING, PENDING_LONG } from './pending-events.ts';

/** Words of placeholders in six languages (common practice). */
const WORD =
  '(?:loading|please wait|one moment|wird geladen|lade|lädt|bitte warten|chargement|veuillez patienter|cargando|caricamento|carregando)';
const PLACEHOLDER = new RegExp(`^${WORD}(?:\\s.{0,30})?\\s*(?:…|\\.{2,})$`, 'iu');
const BARE_WORD = new RegExp(`^${WORD}$`, 'iu');
/** The longest text that can be one. */
const MOST = 60;
const BOXES =
  '[aria-busy=true],progress:not([value]),[role=progressbar]:not([aria-valuenow]),[class*=skeleton i],[class*=shimmer i]';

/** @returns what shows the first sign that is seen, for people; null where the page is silent */
export function loadingSign(): string | null {
  const box = [...document.querySelectorAll(BOXES)].find(isSeen);
  if (box !== undefined) return nameOf(box);
  const walker = document.createTreeWalker(document, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    const text = node.nodeValue ?? '';
    if (text.length > MOST + 20) continue;
    const plain = text.trim();
    const el = node.parentElement;
    if (plain.length > MOST || el === null) continue;
    // In a list of ships, "Loading" is news.
    const isPlaceholder = PLACEHOLDER.test(plain) || (BARE_WORD.test(plain) && el.closest('table,ul,ol,dl,select') === null);
    if (isPlaceholder && isSeen(el)) return `${nameOf(el)} "${plain}"`;
  }
  return null;
}

/** Whether the page has set a timer that ends soon; with `later`, one that ends at all while anybody would wait. */
export function isPending(later: boolean): boolean {
  return !window.dispatchEvent(new Event(later ? PENDING_LONG : PENDING, { cancelable: true }));
}

function isSeen(el: Element): boolean {
  return el.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && el.getClientRects().length > 0;
}

function nameOf(el: Element): string {
  const [first] = el.classList;
  return `${el.localName}${el.id === '' ? (first === undefined ? '' : `.${first}`) : `#${el.id}`}`;
}
