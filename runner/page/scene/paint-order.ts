// Elements in the order they are painted (CSS 2.2 Appendix E): of two that overlap, the later one lies above.
import { dom } from '../dom.ts';
import type { Entry } from './scene.ts';

/** What is painted in one go: a stacking context, or a positioned element with what lies in its flow. */
interface Unit {
  readonly entry: Entry;
  readonly z: number;
  readonly context: boolean;
  /** Elements of its own flow, tree order. */
  readonly flow: Entry[];
  /** Units whose stacking context it is, tree order. */
  readonly units: Unit[];
}

/** Floats and inline boxes are taken in tree order: they rarely overlap their neighbours. */
export function paintOrder(entries: readonly Entry[]): readonly Entry[] {
  const unitOf = new Map<Entry, Unit>();
  const top: Unit[] = [];
  let root: Unit | null = null;
  for (const entry of entries) {
    const above = entry.up === null ? null : (unitOf.get(entry.up) ?? null);
    const own = above === null ? unit(entry, true) : ownUnit(entry);
    if (own === null) {
      above?.flow.push(entry);
      if (above !== null) unitOf.set(entry, above);
      continue;
    }
    unitOf.set(entry, own);
    if (above === null) root = own;
    else if (inTopLayer(entry.el)) top.push(own);
    else contextOf(entry, unitOf)?.units.push(own);
  }
  const order: Entry[] = [];
  if (root !== null) emit(root, order);
  for (const one of top) emit(one, order);
  return order;
}

function unit(entry: Entry, context: boolean): Unit {
  const z = Number.parseInt(entry.style.zIndex, 10);
  return { entry, z: Number.isNaN(z) || !takesZ(entry) ? 0 : z, context, flow: [], units: [] };
}

function ownUnit(entry: Entry): Unit | null {
  const context = isStackingContext(entry);
  return context || entry.own.position !== 'static' || inTopLayer(entry.el) ? unit(entry, context || inTopLayer(entry.el)) : null;
}

/** Positioned elements and items of flex and grid containers (CSS Flexbox 1 §5.4, CSS Grid 2 §9). */
function takesZ({ own, up }: Entry): boolean {
  return own.position !== 'static' || (up !== null && /flex|grid/u.test(up.style.display));
}

/** The usual reasons; rarer ones (masks, containment …) seldom change who covers whom, and each costs a read per element. */
function isStackingContext(entry: Entry): boolean {
  const { position, opacity, transform, filter, isolation, mixBlendMode } = entry.own;
  return (
    position === 'fixed' ||
    position === 'sticky' ||
    opacity !== '1' ||
    transform !== 'none' ||
    filter !== 'none' ||
    isolation === 'isolate' ||
    mixBlendMode !== 'normal' ||
    (takesZ(entry) && entry.style.zIndex !== 'auto')
  );
}

function contextOf(entry: Entry, unitOf: ReadonlyMap<Entry, Unit>): Unit | null {
  for (let at = entry.up; at !== null; at = at.up) {
    const found = unitOf.get(at);
    if (found?.context === true && found.entry === at) return found;
  }
  return null;
}

/** Modal dialogs and open popovers lie above everything (CSS Position 4, top layer). */
function inTopLayer(el: Element): boolean {
  return dom(el).matches(':modal, :popover-open, :fullscreen');
}

/** An explicit stack: contexts nest deeper than a call stack. */
function emit(first: Unit, order: Entry[]): void {
  const stack: (Unit | Entry)[] = [first];
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    if (!('flow' in next)) {
      order.push(next);
      continue;
    }
    const sorted = next.units.slice().sort((a, b) => a.z - b.z);
    const below = sorted.filter((one) => one.z < 0);
    const above = sorted.filter((one) => one.z >= 0);
    const all = [next.entry, ...below, ...next.flow, ...above];
    for (let i = all.length - 1; i >= 0; i -= 1) {
      const one = all[i];
      if (one !== undefined) stack.push(one);
    }
  }
}
