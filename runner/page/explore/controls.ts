// Controls that look as if they switch the theme, told by the words on and around them; and using them.
import type { WireControl } from '../wire/explore.ts';

const WORDS = /theme|dark|light|night|dusk|appearance|contrast|colou?r.?(mode|scheme)|\bmode\b|scheme|skin|palette/i;

const PRESSED =
  'button, [role=button], [role=switch], [role=menuitemradio], input[type=checkbox], input[type=radio], a[href^="#"], summary';

export function exploreControls({ most }: { readonly most: number }): readonly WireControl[] {
  const found: WireControl[] = [];
  for (const el of document.querySelectorAll<HTMLElement>(`select, ${PRESSED}`)) {
    if (found.length >= most) break;
    const words = wordsOf(el);
    const options = el instanceof HTMLSelectElement ? [...el.options].filter((option) => !option.disabled) : [];
    if (!WORDS.test([...words, ...options.map((option) => `${option.value} ${option.text}`)].join(' '))) continue;
    found.push({
      selector: pathOf(el),
      kind: options.length > 0 ? 'choose' : 'press',
      label: (words.find((word) => word.trim() !== '') ?? el.localName).trim().slice(0, 40),
      values: options.map((option) => option.value),
    });
  }
  return found;
}

export function exploreUse({ selector, value }: { readonly selector: string; readonly value: string | null }): boolean {
  const el = document.querySelector<HTMLElement>(selector);
  if (el === null) return false;
  if (value !== null && el instanceof HTMLSelectElement) {
    el.value = value;
    el.dispatchEvent(new Event('input', { bubbles: true }));
    el.dispatchEvent(new Event('change', { bubbles: true }));
  } else el.click();
  return true;
}

/** What a person reads first, then what a script would. */
function wordsOf(el: HTMLElement): readonly string[] {
  const labels = 'labels' in el && el.labels instanceof NodeList ? [...el.labels].map((label) => label.textContent ?? '') : [];
  const text = el instanceof HTMLSelectElement ? '' : el.textContent.slice(0, 60);
  const data = Object.entries(el.dataset).map(([name, value]) => `${name} ${value ?? ''}`);
  return [el.ariaLabel ?? '', ...labels, text, el.title, el.getAttribute('name') ?? '', el.id, el.className, ...data];
}

/** `#id` where that is unique, else the way down from the nearest such ancestor. */
export function pathOf(el: Element): string {
  if (el.id !== '' && document.querySelectorAll(`#${CSS.escape(el.id)}`).length === 1) return `#${CSS.escape(el.id)}`;
  const parent = el.parentElement;
  if (parent === null || el === document.body) return el.localName;
  const same = [...parent.children].filter((child) => child.localName === el.localName);
  const place = same.length === 1 ? '' : `:nth-of-type(${String(same.indexOf(el) + 1)})`;
  return `${pathOf(parent)} > ${el.localName}${place}`;
}
