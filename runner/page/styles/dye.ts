// Reads computed colours while style sheets of ours are on the page, one after the other. One synchronous go: styles are worked out anew,
// but nothing is laid out or drawn, no observer and no frame of the page comes in between, and the page is left as it was.
import { dom } from '../dom.ts';
import type { DyeCalls, WireAsk } from '../wire/dye.ts';
import { addSheet, allRoots, removeSheet } from '../rest/freeze.ts';
import type { Identity } from '../scene/identity.ts';
import type { Entry, Scene } from '../scene/scene.ts';

interface Target {
  readonly el: Element;
  /** `::before` …; null for the element itself. */
  readonly pseudo: string | null;
  readonly property: string;
}

export interface Asked {
  readonly targets: readonly (Target | null)[];
}

export function ask(args: DyeCalls['ask']['args'], scene: Scene, identity: Identity): Asked {
  const wanted = new Set(args.selectors.map((selector) => splitPseudo(selector).base));
  const entries = new Map<string, Entry>();
  for (const entry of scene.entries) {
    const selector = identity.selectorOf(entry);
    if (wanted.has(selector)) entries.set(selector, entry);
  }
  return {
    targets: args.asks.map((each) => {
      const { base, pseudo } = splitPseudo(args.selectors[each[0]] ?? '');
      const entry = entries.get(base);
      return entry === undefined ? null : targetOf(entry, pseudo, each);
    }),
  };
}

/** The paint of a drawing stands on one of its shapes. */
function targetOf({ el, shown }: Entry, pseudo: string | null, [, property, color]: WireAsk): Target {
  const isPaint = property === 'fill' || property === 'stroke';
  if (!isPaint || pseudo !== null || shown.window.getComputedStyle(el).getPropertyValue(property) === color) {
    return { el, pseudo, property };
  }
  for (const shape of dom(el).querySelectorAll('*')) {
    if (shown.window.getComputedStyle(shape).getPropertyValue(property) === color) return { el: shape, pseudo, property };
  }
  return { el, pseudo, property };
}

function splitPseudo(selector: string): { readonly base: string; readonly pseudo: string | null } {
  const at = selector.lastIndexOf('::');
  return at < 0 || selector.includes('>>>', at)
    ? { base: selector, pseudo: null }
    : { base: selector.slice(0, at), pseudo: selector.slice(at) };
}

export function dyed({ sheets, only }: DyeCalls['dyed']['args'], { targets }: Asked): DyeCalls['dyed']['result'] {
  const asked = only === undefined ? targets : only.map((index) => targets[index] ?? null);
  const read = (): readonly (string | null)[] => asked.map((target) => (target === null ? null : valueOf(target)));
  const put: (readonly [Document | ShadowRoot, CSSStyleSheet])[] = [];
  try {
    return sheets.map((css) => {
      if (put.length > 0) for (const [, sheet] of put) sheet.replaceSync(css);
      else if (css !== '') for (const root of allRoots()) put.push([root, addSheet(root, css)]);
      return read();
    });
  } finally {
    for (const [root, sheet] of put) removeSheet(root, sheet);
  }
}

function valueOf({ el, pseudo, property }: Target): string | null {
  const view = dom(dom(el).ownerDocument).defaultView;
  return view === null ? null : view.getComputedStyle(el, pseudo).getPropertyValue(property);
}
