// What lies between the canvas and an element's content, by the ancestors' computed styles (a chain shared by all that lies on it).
import { isTransparent } from './colors.ts';
import { flatCovers, flatImages } from './flat-covers.ts';
import { imageArea } from './image-area.ts';
import type { Identity } from '../scene/identity.ts';
import type { Entry, OwnGroup } from '../scene/scene.ts';
import { ownGroup } from '../scene/scene.ts';
import type { Doubt, WireGround } from '../wire/wire.ts';

export interface Grounds {
  readonly list: readonly WireGround[];
  /** Ground that an entry's content lies on: its own background included. */
  of(entry: Entry): number;
  /** Ground of a pseudo-element's content. */
  ofPseudo(entry: Entry, which: string, style: CSSStyleDeclaration): number;
  /** Product of the opacities down to a ground, 0–1. */
  opacity(index: number): number;
}

export function groundsOf(identity: Identity): Grounds {
  const list: WireGround[] = [];
  const indexes = new Map<Entry, number>();
  const add = (ground: WireGround | null, below: number): number => {
    if (ground === null) return below;
    list.push(ground);
    return list.length - 1;
  };
  const of = (entry: Entry): number => {
    // Explicit chain: documents nest deeper than a call stack.
    const chain: Entry[] = [];
    let at: Entry | null = entry;
    let below = -1;
    while (at !== null) {
      const have = indexes.get(at);
      if (have !== undefined) {
        below = have;
        break;
      }
      chain.push(at);
      at = at.up;
    }
    for (const link of chain.reverse()) {
      below = add(
        groundFrom(link, link.visible, below, () => identity.selectorOf(link), link),
        below,
      );
      indexes.set(link, below);
    }
    return below;
  };
  return {
    list,
    of,
    ofPseudo: (entry, which, style) => {
      const below = of(entry);
      return add(
        groundFrom(
          { style, own: ownGroup(style) },
          style.visibility === 'visible',
          below,
          () => identity.selectorOf(entry) + which,
        ),
        below,
      );
    },
    opacity: (index) => {
      let product = 1;
      for (let ground = list[index]; ground !== undefined; ground = list[ground.up]) product *= ground.opacity ?? 1;
      return product;
    },
  };
}

function groundFrom(
  { style, own }: Pick<Entry, 'style' | 'own'>,
  visible: boolean,
  up: number,
  selector: () => string,
  entry?: Entry,
): WireGround | null {
  const clipped = style.backgroundClip.includes('text');
  const painted = visible && style.display !== 'contents' && !clipped;
  const color = style.backgroundColor;
  const hasColor = painted && !isTransparent(color);
  const covers = painted ? flatCovers(style) : [];
  const image = painted ? imageOf(style) : undefined;
  const opacity = Number(own.opacity);
  const blend = own.mixBlendMode;
  const doubts = doubtsOf(own, style);
  if (image !== undefined) doubts.push(image);
  const area = image === undefined || entry === undefined ? null : imageArea(entry);
  const isolates = isolating(own, style);
  if (
    !hasColor &&
    covers.length === 0 &&
    image === undefined &&
    opacity === 1 &&
    blend === 'normal' &&
    doubts.length === 0 &&
    isolates === undefined
  )
    return null;
  return {
    up,
    selector: selector(),
    ...(hasColor ? { color } : {}),
    ...(covers.length === 0 ? {} : { covers }),
    ...(image === undefined ? {} : { image }),
    ...(area === null ? {} : { imageArea: area }),
    ...(opacity === 1 ? {} : { opacity }),
    ...(blend === 'normal' ? {} : { blend }),
    ...(isolates === undefined ? {} : { isolates }),
    ...(isColourFilter(own.filter) ? { filter: own.filter } : {}),
    ...(doubts.length === 0 ? {} : { doubts }),
  };
}

const COLOUR_FILTER = /^(?:(?:brightness|contrast|grayscale|hue-rotate|invert|saturate|sepia)\([^()]*\)\s*)+$/u;

function isColourFilter(filter: string): boolean {
  return filter !== 'none' && COLOUR_FILTER.test(filter);
}

function imageOf(style: CSSStyleDeclaration): 'gradient' | 'picture' | undefined {
  const image = style.backgroundImage;
  if (image === 'none' || flatImages(style) !== null) return undefined;
  return /url\(|image-set\(|paint\(|cross-fade\(|element\(/u.test(image) ? 'picture' : 'gradient';
}

/** Stacking contexts that are no opacity group or blend; those make a group anyway (Compositing 1 §4). */
function isolating({ isolation, transform, position }: OwnGroup, style: CSSStyleDeclaration): true | undefined {
  if (isolation === 'isolate' || transform !== 'none') return true;
  if (position === 'fixed' || position === 'sticky') return true;
  if (position !== 'static' && style.zIndex !== 'auto') return true;
  return undefined;
}

function doubtsOf({ filter }: OwnGroup, style: CSSStyleDeclaration): Doubt[] {
  const doubts: Doubt[] = [];
  if (filter !== 'none') doubts.push('filter');
  if (style.backdropFilter !== '' && style.backdropFilter !== 'none') doubts.push('backdrop-filter');
  if (style.maskImage !== '' && style.maskImage !== 'none') doubts.push('mask');
  if (style.clipPath !== 'none') doubts.push('clip-path');
  return doubts;
}
