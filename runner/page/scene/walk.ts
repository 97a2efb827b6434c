// Walks all interactive elements of a page in few passes: elements next to each other or inside each other are never in the same
// pass, so that none changes how another one looks.
import { dom } from '../dom.ts';
import { find } from './targets.ts';
import type { Acted } from './targets.ts';

/** What answers to pointer or keyboard (HTML §6.6.2, WAI-ARIA 1.2 widget roles). */
const INTERACTIVE =
  'a[href], button, input:not([type=hidden]), select, textarea, summary, label, [tabindex]:not([tabindex="-1"]), [contenteditable]:not([contenteditable=false]), ' +
  '[role=button], [role=link], [role=tab], [role=menuitem], [role=option], [role=checkbox], [role=radio], [role=switch], [role=treeitem]';
const FOCUSABLE =
  'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex]:not([tabindex="-1"]), [contenteditable]:not([contenteditable=false])';

/** Neighbours in document order lie this many passes apart. */
const APART = 3;

export interface Walk {
  /** @returns how many passes there are */
  plan(kind: Acted): number;
  /** Elements of one pass. */
  pass(index: number): readonly Element[];
  end(): void;
  isOn(): boolean;
  /** The walked element that a place belongs to: the nearest one around it; null outside a walk or outside all of them. */
  around(el: Element): Element | null;
}

export function openWalk(): Walk {
  let passes: readonly (readonly Element[])[] = [];
  let walked: ReadonlySet<Element> = new Set();
  return {
    plan: (kind) => {
      const elements = find(kind === 'focus' ? FOCUSABLE : INTERACTIVE).filter(canBeReached);
      walked = new Set(elements);
      passes = passesOf(elements);
      return passes.length;
    },
    pass: (index) => passes[index] ?? [],
    end: () => {
      passes = [];
      walked = new Set();
    },
    isOn: () => walked.size > 0,
    around: (el) => {
      for (let at: Element | null = el; at !== null; at = above(at)) if (walked.has(at)) return at;
      return null;
    },
  };
}

function passesOf(elements: readonly Element[]): readonly (readonly Element[])[] {
  const passOf = new Map<Element, number>();
  const groups: Element[][] = [];
  for (const [order, el] of elements.entries()) {
    const taken = new Set<number>();
    for (let at = above(el); at !== null; at = above(at)) {
      const pass = passOf.get(at);
      if (pass !== undefined) taken.add(pass);
    }
    let pass = order % APART;
    while (taken.has(pass)) pass += 1;
    passOf.set(el, pass);
    while (groups.length <= pass) groups.push([]);
    groups[pass]?.push(el);
  }
  return groups.filter((group) => group.length > 0);
}

function canBeReached(el: Element): boolean {
  if (dom(el).matches(':disabled, [aria-disabled=true], [inert], [inert] *')) return false;
  const box = dom(el).getBoundingClientRect();
  return box.width > 0 && box.height > 0 && dom(el).checkVisibility({ opacityProperty: true, visibilityProperty: true });
}

function above(el: Element): Element | null {
  if (dom(el).parentElement !== null) return dom(el).parentElement;
  const root = dom(el).getRootNode();
  return 'host' in dom(root) ? (root as ShadowRoot).host : null;
}
