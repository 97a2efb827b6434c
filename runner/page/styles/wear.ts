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
      worn = everywhere === '' ? [] : allRoots().map((root) => [root, addSheet(root, everywhere)] as const);
      const missing: string[] = [];
      for (const { within, css } of rules) {
        const root = rootAt(within);
        if (root === null) missing.push(within);
        else worn.push([root, addSheet(root, css)]);
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
