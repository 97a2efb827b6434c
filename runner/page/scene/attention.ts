// Layers of attention: what lies beneath a modal layer is there, but not what the page shows in this state. Modal is what keeps the
// pointer from the page below it: a modal dialog, a popover with a backdrop, what says so of itself (`aria-modal`) and does it, and a
// veil: a translucent box that covers the viewport and takes the pointer.
import { dom } from '../dom.ts';
import { alphaOf } from '../places/colors.ts';
import { paintOrder } from './paint-order.ts';
import { opacityOf } from '../places/place-facts.ts';
import type { Pseudo } from '../places/places.ts';
import { borderBox, generatedStyle, pseudoBox, toRect } from '../places/places.ts';
import type { On } from './pointer.ts';
import { hasAbove, isMet, isReached, showsText, takesPointer } from './pointer.ts';
import type { Box, Entry, Scene, Shown } from './scene.ts';
import { cut, ownGroup } from './scene.ts';
import type { WireVeil } from '../wire/places.ts';

export interface Attention {
  /** Why an entry is not what the state shows; undefined where it is. */
  readonly behind: (entry: Entry) => string | undefined;
  /** Flat translucent colours between the page and what lies above it, lowest first. */
  readonly veils: readonly WireVeil[];
  /** Whether the entry's own box, or its pseudo-element, is one of the veils. */
  readonly isVeil: (entry: Entry, which?: Pseudo) => boolean;
}

interface Painter {
  readonly entry: Entry;
  readonly which?: Pseudo | undefined;
}

/** One modal layer. */
interface Layer {
  readonly why: string;
  readonly shown: Shown;
  isBeneath(entry: Entry): boolean;
  readonly veil?: { readonly box: Box; readonly color: string; readonly opacity: number; readonly painter?: Painter };
}

/** Alpha from which a layer is seen to lie over the page (ours: the browser's own backdrop has .1, grain and tints less than .05). */
const LEAST_VEIL = 0.05;
/** Share of the viewport's side that a veil may leave free (ours: a hairline or a scroll bar). */
const SLACK = 0.02;

const NOTHING: Attention = { behind: () => undefined, veils: [], isVeil: () => false };
const read = new WeakMap<Scene, Attention>();

export function attentionOf(scene: Scene): Attention {
  const known = read.get(scene) ?? readAttention(scene);
  read.set(scene, known);
  return known;
}

function readAttention(scene: Scene): Attention {
  const { within } = scene;
  if (within?.behind !== undefined) return { ...NOTHING, behind: () => within.behind };
  const candidates = scene.entries.filter((entry) => entry.visible && isCandidate(entry));
  const generated = generatedVeils(scene);
  if (candidates.length + generated.length === 0) return NOTHING;
  const all = [...scene.entries, ...generated.map(({ stand }) => stand)];
  const order = placesOf(all);
  const on: On = { scene, order, entryOf: new Map(scene.entries.map((entry) => [entry.el, entry])) };
  const layers = [
    ...modalLayers(candidates, on),
    ...candidates.flatMap((entry) =>
      [popoverLayer(entry, on), claimedLayer(entry, on), veilLayer(entry, on)].filter((one) => one !== null),
    ),
    ...generated.flatMap((one) => veilLayer(one.stand, on, one) ?? []),
  ].filter((layer) => scene.entries.some((entry) => showsText(entry) && isIn(entry, layer.shown) && layer.isBeneath(entry)));
  if (layers.length === 0) return NOTHING;
  const veils = layers.flatMap(({ veil }) => (veil === undefined || alphaOf(veil.color) === 0 ? [] : [veil]));
  const whys = new Map<Entry, string | null>();
  return {
    behind: (entry) => {
      const known = whys.get(entry);
      if (known !== undefined) return known ?? undefined;
      const why = layers.find((layer) => isIn(entry, layer.shown) && layer.isBeneath(entry))?.why;
      whys.set(entry, why ?? null);
      return why;
    },
    veils: veils.map(({ box, color, opacity }) => ({ rect: toRect(box), color, ...(opacity === 1 ? {} : { opacity }) })),
    isVeil: (entry, which) => veils.some(({ painter }) => painter?.entry === entry && painter.which === which),
  };
}

function isCandidate(entry: Entry): boolean {
  const { position } = entry.own;
  if (position === 'fixed' || position === 'absolute') return true;
  return dom(entry.el).matches(':modal, :popover-open, [aria-modal=true]');
}

/** Of several modal dialogs of a document the uppermost: all others are inert, so the pointer meets none of them (HTML §6.3.1). */
function modalLayers(candidates: readonly Entry[], on: On): readonly Layer[] {
  const modals = candidates.filter(({ el }) => dom(el).matches(':modal'));
  const popovers = candidates.filter(({ el }) => dom(el).matches(':popover-open:not(:modal)'));
  return [...new Set(modals.map(({ shown }) => shown))].flatMap((shown) => {
    const own = modals.filter((entry) => entry.shown === shown);
    const top = own.find((entry) => isMet(entry, on)) ?? own.at(-1);
    if (top === undefined) return [];
    // Which of two was opened later is not told; one further down in the document is taken to lie above, so that it is judged.
    const above = new Set<Entry>([top, ...popovers.filter((entry) => (on.order.get(entry) ?? 0) > (on.order.get(top) ?? 0))]);
    return [
      {
        why: `behind the modal ${nameOf(top.el)}`,
        shown,
        isBeneath: (entry) => !hasAbove(entry, (at) => above.has(at)),
        ...backdropOf(top),
      },
    ];
  });
}

function popoverLayer(entry: Entry, on: On): Layer | null {
  if (!dom(entry.el).matches(':popover-open:not(:modal)')) return null;
  const backdrop = backdropOf(entry);
  const { backdropFilter } = entry.shown.window.getComputedStyle(entry.el, '::backdrop');
  if (backdrop.veil === undefined && isNone(backdropFilter)) return null;
  return {
    why: `behind the backdrop of ${nameOf(entry.el)}`,
    shown: entry.shown,
    isBeneath: beneath(entry, on),
    ...backdrop,
  };
}

function backdropOf({ el, shown }: Entry): Pick<Layer, 'veil'> {
  const { backgroundColor: color, opacity, display } = shown.window.getComputedStyle(el, '::backdrop');
  if (display === 'none' || alphaOf(color) * Number(opacity) < LEAST_VEIL) return {};
  return { veil: { box: viewportOf(shown), color, opacity: Number(opacity) } };
}

/**
 * A dialog that calls itself modal, and is: notices of all kinds carry the attribute while the page beside them is in use, and then the
 * page is what is shown. Its holder, as far as that lies apart from the flow, is part of it.
 */
function claimedLayer(entry: Entry, on: On): Layer | null {
  if (!dom(entry.el).matches('[aria-modal=true]:not(:modal)') || opacityOf(entry) < LEAST_VEIL || !isMet(entry, on)) return null;
  let holder = entry;
  for (let at: Entry | null = entry; at !== null; at = at.up) {
    if (at.own.position !== 'fixed' && at.own.position !== 'absolute') continue;
    holder = at;
    break;
  }
  const isBeneath = beneath(holder, on);
  if (isReached(entry.shown, isBeneath, on)) return null;
  return { why: `behind ${nameOf(entry.el)}, which is modal`, shown: entry.shown, isBeneath };
}

/** @param generated where it is a pseudo-element */
function veilLayer(entry: Entry, on: On, generated?: GeneratedVeil): Layer | null {
  const { own, style, shown } = entry;
  if (own.position !== 'fixed' && own.position !== 'absolute') return null;
  const box = cut(generated?.box ?? borderBox(entry), entry.clip);
  if (!covers(box, viewportOf(shown)) || style.pointerEvents === 'none') return null;
  const opacity = opacityOf(entry);
  const look = lookOf(style, opacity);
  if (look === null || !takesPointer(entry, on, generated?.holder)) return null;
  const isBefore = beneath(entry, on);
  // One that scrolls away with the page lies over what it covers now, a fixed one over all that is ever scrolled there.
  const isUnder = own.position === 'fixed' ? isBefore : (at: Entry): boolean => isBefore(at) && liesIn(at, box);
  return {
    why: `behind the veil ${nameOf((generated?.holder ?? entry).el)}`,
    shown,
    isBeneath: isUnder,
    veil: { box, color: look, opacity, painter: { entry: generated?.holder ?? entry, which: generated?.which } },
  };
}

/** @returns its flat colour, `transparent` for one without; null: it is opaque, or nothing of it is seen */
function lookOf(
  { backgroundColor: color, backgroundImage: image, backdropFilter }: CSSStyleDeclaration,
  opacity: number,
): string | null {
  const alpha = alphaOf(color) * opacity;
  if (alpha >= LEAST_VEIL && alpha < 1 && image === 'none') return color;
  const blurs = !isNone(backdropFilter) && alpha < 1;
  const stops = (image.match(/rgba?\([^()]*\)|color\([^()]*\)/gu) ?? []).map((stop) => alphaOf(stop) * opacity);
  const shades = image.includes('gradient(') && stops.some((stop) => stop < 1) && stops.some((stop) => stop >= LEAST_VEIL);
  return (blurs || shades) && alpha < 1 ? 'transparent' : null;
}

const isNone = (value: string): boolean => value === '' || value === 'none';

interface GeneratedVeil {
  /** Stands for the pseudo-element in painting order. */
  readonly stand: Entry;
  readonly holder: Entry;
  readonly which: Pseudo;
  readonly box: Box;
}

function generatedVeils({ entries }: Scene): readonly GeneratedVeil[] {
  return entries.flatMap((holder) =>
    (['::before', '::after'] as const).flatMap((which: Pseudo) => {
      const style = generatedStyle(holder, which);
      if (style === null || (style.position !== 'fixed' && style.position !== 'absolute')) return [];
      const box = pseudoBox(holder, which, style);
      if (box === null || !covers(box, viewportOf(holder.shown))) return [];
      const own = ownGroup(style);
      return [{ stand: { ...holder, up: holder, style, own }, holder, which, box }];
    }),
  );
}

function placesOf(entries: readonly Entry[]): ReadonlyMap<Entry, number> {
  return new Map(paintOrder(entries).map((entry, place) => [entry, place]));
}

function beneath(layer: Entry, { order }: On): (entry: Entry) => boolean {
  const place = order.get(layer) ?? Infinity;
  return (entry) => (order.get(entry) ?? Infinity) < place && !hasAbove(entry, (at) => at === layer);
}

/** In the document of the layer, or in a frame of it. */
function isIn(entry: Entry, shown: Shown): boolean {
  for (let at: Entry | null = entry; at !== null; at = at.shown.holder) if (at.shown === shown) return true;
  return false;
}

/** In page coordinates. */
function viewportOf({ dx, dy, window: view }: Shown): Box {
  return { left: dx, top: dy, right: dx + view.innerWidth, bottom: dy + view.innerHeight };
}

function covers(box: Box, viewport: Box): boolean {
  const x = (viewport.right - viewport.left) * SLACK;
  const y = (viewport.bottom - viewport.top) * SLACK;
  return (
    box.left <= viewport.left + x &&
    box.top <= viewport.top + y &&
    box.right >= viewport.right - x &&
    box.bottom >= viewport.bottom - y
  );
}

function liesIn(entry: Entry, { left, top, right, bottom }: Box): boolean {
  const box = borderBox(entry);
  const [x, y] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  return x >= left && x <= right && y >= top && y <= bottom;
}

export function nameOf(el: Element): string {
  return dom(el).id === '' ? dom(el).localName : `${dom(el).localName}#${dom(el).id}`;
}
