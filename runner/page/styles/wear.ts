// Style sheets of ours that stay on the page while it is looked at: to see what a change would do.
import { dom } from '../dom.ts';
import type { WearCalls } from '../wire/wear.ts';
import { documentIn } from '../scene/frame-documents.ts';
import { addSheet, allRoots, removeSheet } from '../rest/freeze.ts';
import { shadowOf } from '../scene/shadow-trees.ts';

type Root = Document | ShadowRoot;

export interface Worn {
  /** Takes off what was put on before. @returns places that were not found */
  wear(args: WearCalls['wear']['args']): { missing: readonly string[] };
}

export function openWorn(): Worn {
  let worn: (readonly [Root, CSSStyleSheet])[] = [];
  return {
    wear: ({ everywhere, rules }) => {
      for (const [root, sheet] of worn) removeSheet(root, sheet);
      const putOn = (root: Root, css: string): readonly [Root, CSSStyleSheet] => [root, addSheet(root, insisting(css, root))];
      worn = everywhere === '' ? [] : allRoots().map((root) => putOn(root, everywhere));
      const missing: string[] = [];
      for (const { within, css } of rules) {
        const root = rootAt(within);
        if (root === null) missing.push(within);
        else worn.push(putOn(root, css));
      }
      return { missing };
    },
  };
}

function rootAt(within: string): Root | null {
  let root: Root = document;
  for (const part of within === '' ? [] : within.split(' >>> ')) {
    const el: Element | null = dom(root).querySelector(part);
    const inner: Root | null = el === null ? null : (shadowOf(el) ?? documentIn(el));
    if (inner === null) return null;
    root = inner;
  }
  return root;
}

/** Of what insists, the layer that is named first is the strongest (CSS Cascade 5 §6.4.4): the same is said there as well. */
function insisting(css: string, root: Root): string {
  const layer = css.includes('!important') ? firstLayer(root) : null;
  return layer === null ? css : `${css} @layer ${layer}{${css}}`;
}

/** @returns null where the page has no layer with a name */
function firstLayer(root: Root): string | null {
  for (const sheet of dom(root).styleSheets) {
    try {
      const name = firstLayerIn(sheet.cssRules);
      if (name !== null) return name;
    } catch {
      // From another origin.
    }
  }
  return null;
}

function firstLayerIn(rules: CSSRuleList): string | null {
  for (const rule of rules) {
    // Not `instanceof`: frames have classes of their own.
    const [named] = 'nameList' in rule ? (rule as CSSLayerStatementRule).nameList : [];
    const own = named ?? ('layerName' in rule ? (rule as CSSImportRule).layerName : null);
    if (own !== null && own !== '') return own;
    if ('name' in rule && 'insertRule' in rule && rule.name !== '') return String(rule.name);
    const inner = 'cssRules' in rule && !('selectorText' in rule) ? firstLayerIn((rule as CSSGroupingRule).cssRules) : null;
    if (inner !== null) return inner;
  }
  return null;
}
