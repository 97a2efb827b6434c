// Controls that look as if they switch the theme, told by the words on and around them; and using them.
import { dom, meetTree } from '../dom.ts';
import type { WireControl } from '../wire/explore.ts';

const WORDS = /theme|dark|light|night|dusk|appearance|contrast|colou?r.?(mode|scheme)|\bmode\b|scheme|skin|palette/i;

const PRESSED =
  'button, [role=button], [role=switch], [role=menuitemradio], input[type=checkbox], input[type=radio], a[href^="#"], summary';

export function exploreControls({ most }: { readonly most: number }): readonly WireControl[] {
  const found: WireControl[] = [];
  for (const el of dom(document).querySelectorAll<HTMLElement>('*')) {
    if (found.length >= most) break;
    if (!dom(el).matches(`select, ${PRESSED}`) && !isButtonOfComponent(el)) continue;
    const words = wordsOf(el);
    const options = el instanceof HTMLSelectElement ? [...el.options].filter((option) => !option.disabled) : [];
    if (!WORDS.test([...words, ...options.map((option) => `${option.value} ${option.text}`)].join(' '))) continue;
    found.push({
      selector: pathOf(el),
      kind: options.length > 0 ? 'choose' : 'press',
      label: (words.find((word) => word.trim() !== '') ?? dom(el).localName).trim().slice(0, 40),
      values: options.map((option) => option.value),
    });
  }
  return found;
}

/** An element of a component library, whose button lies in its shadow tree. */
function isButtonOfComponent(el: Element): boolean {
  const tree = dom(el).localName.includes('-') ? dom(el).shadowRoot : null;
  return tree !== null && dom(meetTree(tree)).querySelector(PRESSED) !== null;
}

export function exploreUse({ selector, value }: { readonly selector: string; readonly value: string | null }): boolean {
  const el = dom(document).querySelector<HTMLElement>(selector);
  if (el === null) return false;
  if (value !== null && el instanceof HTMLSelectElement) {
    el.value = value;
    el.dispatchEvent(new Event('input', { bubbles: true }));
    el.dispatchEvent(new Event('change', { bubbles: true }));
  } else dom(el).click();
  return true;
}

/** What a person reads first, then what a script would. */
function wordsOf(el: HTMLElement): readonly string[] {
  const { labels } = dom(el) as Partial<HTMLInputElement>;
  const labelled = labels instanceof NodeList ? [...labels].map((label) => dom(label).textContent) : [];
  const text = el instanceof HTMLSelectElement ? '' : dom(el).textContent.slice(0, 60);
  const data = Object.entries(dom(el).dataset).map(([name, value]) => `${name} ${value ?? ''}`);
  return [
    dom(el).ariaLabel ?? '',
    ...labelled,
    text,
    dom(el).title,
    dom(el).getAttribute('name') ?? '',
    dom(el).id,
    dom(el).className,
    ...data,
  ];
}

/** `#id` where that is unique, else the way down from the nearest such ancestor. */
export function pathOf(el: Element): string {
  if (dom(el).id !== '' && dom(document).querySelectorAll(`#${CSS.escape(dom(el).id)}`).length === 1)
    return `#${CSS.escape(dom(el).id)}`;
  const parent = dom(el).parentElement;
  if (parent === null || el === dom(document).body) return dom(el).localName;
  const same = [...dom(parent).children].filter((child) => dom(child).localName === dom(el).localName);
  const place = same.length === 1 ? '' : `:nth-of-type(${String(same.indexOf(el) + 1)})`;
  return `${pathOf(parent)} > ${dom(el).localName}${place}`;
}
