// The elements a state acts on, held for Node to force pseudo-classes on, and the events a pointer or keyboard would cause.
import { dom } from '../dom.ts';
import { allRoots } from '../rest/freeze.ts';

export interface HeldTargets {
  readonly targets: number;
  readonly held: number;
}

export type Acted = 'hover' | 'focus' | 'active';

export interface Targets {
  hold(elements: readonly Element[]): HeldTargets;
  /** Elements that the state acts on now. */
  now(): readonly Element[];
  /** Of those held: targets first, then their ancestors. */
  held(index: number): Element | null;
  act(kind: Acted): void;
  /** Nothing is held after it. */
  undo(kind: Acted): void;
  /** Brings the first target into view. @returns where to click it, in client coordinates; null when something else lies there */
  clickPoint(): { x: number; y: number } | null;
  /** From now on `wasPressed` tells whether the pointer went down on the first target. */
  watchPress(): void;
  wasPressed(): boolean;
  clickByScript(): void;
}

export function openTargets(): Targets {
  let held: readonly Element[] = [];
  let targets: readonly Element[] = [];
  let focusBefore: Element | null = null;
  let pressed = true;
  return {
    hold: (elements) => {
      targets = elements;
      const all = new Set<Element>(elements);
      for (const el of elements) for (let at = flatParent(el); at !== null; at = flatParent(at)) all.add(at);
      held = [...all];
      return { targets: targets.length, held: held.length };
    },
    now: () => targets,
    held: (index) => held[index] ?? null,
    act: (kind) => {
      if (kind !== 'focus') pointAt(targets, kind);
      else {
        focusBefore = dom(document).activeElement;
        const [first] = targets;
        if (isFocusable(first)) dom(first).focus({ preventScroll: true });
      }
    },
    undo: (kind) => {
      if (kind !== 'focus') pointAway(targets, kind);
      else {
        const [first] = targets;
        if (isFocusable(first)) dom(first).blur();
        if (isFocusable(focusBefore) && focusBefore !== dom(document).body) dom(focusBefore).focus({ preventScroll: true });
        focusBefore = null;
      }
      held = [];
      targets = [];
    },
    clickPoint: () => {
      const [first] = targets;
      return first === undefined ? null : clickPoint(first);
    },
    watchPress: () => {
      const [first] = targets;
      if (first === undefined) return;
      pressed = false;
      const see = (event: Event): void => {
        pressed ||= isOn(event, first);
      };
      for (const type of PRESSES) window.addEventListener(type, see, { capture: true, once: true });
    },
    wasPressed: () => pressed,
    clickByScript: () => {
      const [first] = targets;
      if (isFocusable(first)) dom(first).click();
    },
  };
}

/** @param selector matched in the page, its frames and open shadow trees */
export function find(selector: string): readonly Element[] {
  try {
    return allRoots().flatMap((root) => [...dom(root).querySelectorAll(selector)]);
  } catch {
    return [];
  }
}

function flatParent(el: Element): Element | null {
  if (dom(el).assignedSlot !== null) return dom(el).assignedSlot;
  if (dom(el).parentElement !== null) return dom(el).parentElement;
  const root = dom(el).getRootNode();
  if ('host' in dom(root)) return (root as ShadowRoot).host;
  // Out of a frame.
  return dom(dom(el).ownerDocument).defaultView?.frameElement ?? null;
}

/** Not `instanceof`: frames have classes of their own. */
function isFocusable(el: Element | null | undefined): el is HTMLElement {
  return el !== null && el !== undefined && 'focus' in dom(el);
}

const POINTER_IN = ['pointerover', 'mouseover', 'pointermove', 'mousemove'] as const;
const POINTER_OUT = ['pointerout', 'mouseout'] as const;

function pointAt(targets: readonly Element[], kind: 'hover' | 'active'): void {
  for (const el of targets) {
    for (const type of POINTER_IN) send(el, type, true);
    for (const type of ['pointerenter', 'mouseenter']) send(el, type, false);
    if (kind === 'active') for (const type of ['pointerdown', 'mousedown']) send(el, type, true);
  }
}

function pointAway(targets: readonly Element[], kind: 'hover' | 'active'): void {
  for (const el of targets) {
    // No click: a release elsewhere.
    if (kind === 'active') for (const type of ['pointercancel', 'mouseup']) send(dom(document).documentElement, type, true);
    for (const type of POINTER_OUT) send(el, type, true);
    for (const type of ['pointerleave', 'mouseleave']) send(el, type, false);
  }
}

function send(el: Element, type: string, bubbles: boolean): void {
  const box = dom(el).getBoundingClientRect();
  const init = {
    bubbles,
    cancelable: true,
    composed: true,
    clientX: box.left + box.width / 2,
    clientY: box.top + box.height / 2,
    view: window,
  };
  dom(el).dispatchEvent(
    type.startsWith('pointer') ? new PointerEvent(type, { ...init, pointerType: 'mouse' }) : new MouseEvent(type, init),
  );
}

function clickPoint(el: Element): { x: number; y: number } | null {
  dom(el).scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
  const box = dom(el).getBoundingClientRect();
  const x = box.left + box.width / 2;
  const y = box.top + box.height / 2;
  const root = dom(el).getRootNode();
  const hit = 'elementFromPoint' in dom(root) ? dom(root as Document | ShadowRoot).elementFromPoint(x, y) : null;
  const isThere = dom(el).ownerDocument === document && hit !== null && (dom(el).contains(hit) || dom(hit).contains(el));
  return isThere ? { x, y } : null;
}

/** A page may take the first for itself, so that the second never comes. */
const PRESSES = ['pointerdown', 'mousedown'] as const;

/** What lies in a closed shadow tree is told by its host. */
function isOn(event: Event, el: Element): boolean {
  const path = event.composedPath();
  for (let at: Element | null = el; at !== null; at = hostOf(at)) if (path.includes(at)) return true;
  return false;
}

function hostOf(el: Element): Element | null {
  const root = dom(el).getRootNode();
  return 'host' in dom(root) ? (root as ShadowRoot).host : null;
}
