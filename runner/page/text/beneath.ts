// What lies beneath text by painting order, where the chain of its ancestors does not tell: siblings, positioned parts, pictures.
import { dom } from '../dom.ts';
import { isTransparent } from '../places/colors.ts';
import { flatCovers, flatImages } from '../places/flat-covers.ts';
import { paintOrder } from '../scene/paint-order.ts';
import { LEAST_OPACITY } from '../places/place-facts.ts';
import { borderBox, generatedStyle, pseudoBox } from '../places/places.ts';
import type { FoundRun } from './runs.ts';
import type { Box, Entry, Scene } from '../scene/scene.ts';
import { cut } from '../scene/scene.ts';
import type { Identity } from '../scene/identity.ts';
import type { WireLayer } from '../wire/wire.ts';

/** One painted box, in painting order. */
interface Painted {
  readonly entry: Entry;
  readonly box: Box;
  readonly layer: () => WireLayer;
}

/** @returns layers for each of the chosen runs, bottom first, the canvas left out */
export function layersBeneath(
  scene: Scene,
  identity: Identity,
  found: readonly FoundRun[],
  chosen: readonly number[],
): readonly (readonly WireLayer[])[] {
  const order = paintOrder(scene.entries);
  const places = new Map(order.map((entry, place) => [entry, place]));
  const painted = order.flatMap((entry) => paintedBy(entry, identity));
  return chosen.map((index) => {
    const run = found[index];
    const [rect] = run?.wire.rects ?? [];
    if (run === undefined || rect === undefined) return [];
    const x = rect[0] + rect[2] / 2;
    const y = rect[1] + rect[3] / 2;
    const own = places.get(run.entry) ?? Infinity;
    return painted
      .filter(
        ({ entry, box }) =>
          isBelow(places.get(entry) ?? Infinity, own) && x >= box.left && x <= box.right && y >= box.top && y <= box.bottom,
      )
      .map(({ layer }) => layer())
      .filter(({ opacity }) => opacity >= LEAST_OPACITY);
  });
}

/** The element's own background lies below its text as well. */
const isBelow = (place: number, own: number): boolean => place <= own;

function paintedBy(entry: Entry, identity: Identity): readonly Painted[] {
  const { style } = entry;
  if (!entry.visible || style.display === 'contents') return [];
  const boxes: Painted[] = [];
  const own = fillOf(style);
  if (own !== null || isShown(entry.el)) {
    const fill = own ?? { image: 'picture' as const };
    boxes.push({
      entry,
      box: paintsCanvas(entry) ? EVERYWHERE : cut(borderBox(entry), entry.clip),
      layer: () => ({ selector: identity.selectorOf(entry), ...fill, ...effectsOf(entry) }),
    });
  }
  for (const which of ['::before', '::after'] as const) {
    const generated = generatedStyle(entry, which);
    const fill = generated === null ? null : fillOf(generated);
    const box = generated === null ? null : pseudoBox(entry, which, generated);
    if (generated === null || fill === null || box === null) continue;
    const opacity = Number(generated.opacity);
    boxes.push({
      entry,
      box: cut(box, entry.inside.flow),
      layer: () => {
        const effects = effectsOf(entry);
        return { selector: identity.selectorOf(entry) + which, ...fill, ...effects, opacity: effects.opacity * opacity };
      },
    });
  }
  return boxes;
}

const EVERYWHERE: Box = { left: -Infinity, top: -Infinity, right: Infinity, bottom: Infinity };

/** The background of the root, or else of the body, is the canvas's (CSS Backgrounds 3 §2.11). */
function paintsCanvas({ el, up, shown }: Entry): boolean {
  if (shown.holder !== null) return false;
  if (el === dom(shown.document).documentElement) return true;
  return el === dom(shown.document).body && up !== null && fillOf(up.style) === null;
}

/** Elements that show a picture of their own, and shapes of drawings. */
function isShown(el: Element): boolean {
  return dom(el).matches('img, video, canvas, object, embed, input[type=image], rect, circle, ellipse, path, polygon, image');
}

function fillOf(style: CSSStyleDeclaration): Pick<WireLayer, 'color' | 'covers' | 'image'> | null {
  if (style.backgroundClip.includes('text')) return null;
  const color = isTransparent(style.backgroundColor) ? {} : { color: style.backgroundColor };
  const covers = flatCovers(style);
  const image =
    style.backgroundImage === 'none' || flatImages(style) !== null
      ? {}
      : { image: /url\(|image-set\(/u.test(style.backgroundImage) ? ('picture' as const) : ('gradient' as const) };
  const fill = { ...color, ...(covers.length === 0 ? {} : { covers }), ...image };
  return Object.keys(fill).length === 0 ? null : fill;
}

function effectsOf(entry: Entry): { opacity: number; blend?: string } {
  let opacity = 1;
  let blend = 'normal';
  for (let at: Entry | null = entry; at !== null; at = at.up) {
    opacity *= Number(at.own.opacity);
    if (blend === 'normal') blend = at.own.mixBlendMode;
  }
  return { opacity, ...(blend === 'normal' ? {} : { blend }) };
}
