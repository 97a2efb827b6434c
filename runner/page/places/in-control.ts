// The control, or link, that an element is part of: by the tree as it is shown, so that what a component keeps in a shadow tree, and what is
// put into its slots, belongs to its button as if all stood in one document.
import { dom } from '../dom.ts';
import { shadowOf } from '../scene/shadow-trees.ts';
import type { Entry } from '../scene/scene.ts';

export const CONTROLS =
  'button, input:not([type=hidden]), select, textarea, summary, [role=button], [role=tab], [role=switch], [role=checkbox], [role=radio], [role=slider], [role=spinbutton], [role=menuitem], [role=option], [role=combobox], [role=textbox], [role=searchbox]';

/** Links up to this height look like controls, taller ones like cards (CSS px, ours). */
const LINK_HEIGHT = 80;
/** A component is a control where one in its shadow tree takes so much of its width and height, 0–1 (ours: rings and shadows lie outside). */
const WHOLE = 0.9;

/** What an element lies in, or is. */
export interface Within {
  readonly control: Entry | null;
  readonly link: Entry | null;
  /** The innermost of both. */
  readonly holder: Entry | null;
}

const NOWHERE: Within = { control: null, link: null, holder: null };
const known = new WeakMap<Entry, Within>();

/** Not across frames: a document in a frame is no part of what holds it. */
export function withinOf(entry: Entry): Within {
  const chain: Entry[] = [];
  let found = NOWHERE;
  for (let at = entry; ; at = at.up) {
    const have = known.get(at);
    if (have !== undefined) {
      found = have;
      break;
    }
    chain.push(at);
    if (at.up === null || at.up.shown !== at.shown) break;
  }
  for (const link of chain.reverse()) {
    if (isControl(link)) found = { ...found, control: link, holder: link };
    else if (dom(link.el).matches('a[href]')) found = { ...found, link, holder: link };
    known.set(link, found);
  }
  return found;
}

/** @returns whether it is, or lies in, a control or a link that looks like one */
export function isInControl(entry: Entry, height: number): boolean {
  const { control, link } = withinOf(entry);
  return control !== null || (link !== null && height <= LINK_HEIGHT);
}

/** Itself, or as a component whose shadow tree holds one control that stands for all of it: that takes its focus, or most of its room. */
function isControl({ el }: Entry): boolean {
  if (dom(el).matches(CONTROLS)) return true;
  const tree = shadowOf(el);
  const [inner, ...others] = tree === null ? [] : dom(tree).querySelectorAll(`${CONTROLS}, a[href]`);
  if (tree === null || inner === undefined) return false;
  const [own, part] = [dom(el).getBoundingClientRect(), dom(inner).getBoundingClientRect()];
  if (own.width === 0 || own.height === 0) return false;
  const isLow = own.height <= LINK_HEIGHT;
  if (isLow && others.length === 0 && tree.delegatesFocus) return true;
  const fills = part.width >= own.width * WHOLE && part.height >= own.height * WHOLE;
  return fills && (isLow || dom(inner).localName !== 'a');
}

/** What of an element's text is not that of one part in it, if any, as shown: with what is put into slots, without what a slot leaves out. */
export function textBeside(holder: Entry, part: Element | null): string {
  const texts: string[] = [];
  const stack: Node[] = [holder.el];
  for (;;) {
    const node = stack.pop();
    if (node === undefined) break;
    if (node === part) continue;
    if (dom(node).nodeType === Node.TEXT_NODE) texts.push((node as Text).data);
    if (dom(node).nodeType !== Node.ELEMENT_NODE) continue;
    const el = node as Element;
    if (SILENT.has(dom(el).localName)) continue;
    const tree = shadowOf(el);
    const put = el instanceof holder.shown.window.HTMLSlotElement ? el.assignedNodes() : [];
    const inside = put.length > 0 ? put : dom(tree ?? el).childNodes;
    stack.push(...[...inside].reverse());
  }
  return texts.join('').trim();
}

const SILENT = new Set(['style', 'script', 'template']);
