// What lies between the canvas and an element's content, by the ancestors' computed styles (a chain shared by all that lies on it).
import { isTransparent } from './colors.ts';
import type { Identity } from './identity.ts';
import type { Entry } from './scene.ts';
import type { Doubt, WireGround } from './wire.ts';

export interface Grounds {
  readonly list: readonly WireGround[];
  /** Ground that an entry's content lies on: its own background included. */
  of(entry: Entry): number;
}

export function groundsOf(identity: Identity): Grounds {
  const list: WireGround[] = [];
  const indexes = new Map<Entry, number>();
  const of = (entry: Entry): number => {
    const known = indexes.get(entry);
    if (known !== undefined) return known;
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
      const ground = groundFrom(link, below, identity);
      if (ground !== null) {
        list.push(ground);
        below = list.length - 1;
      }
      indexes.set(link, below);
    }
    return below;
  };
  return { list, of };
}

function groundFrom(entry: Entry, up: number, identity: Identity): WireGround | null {
  const { style } = entry;
  const color = style.backgroundColor;
  const painted = entry.visible && style.display !== 'contents';
  const hasColor = painted && !isTransparent(color);
  const image = painted ? imageOf(style) : undefined;
  const opacity = Number(style.opacity);
  const blend = style.mixBlendMode;
  const doubts = doubtsOf(style);
  const isolates = isolating(style);
  if (!hasColor && image === undefined && opacity === 1 && blend === 'normal' && doubts.length === 0 && !isolates) return null;
  return {
    up,
    selector: identity.selectorOf(entry),
    ...(hasColor ? { color } : {}),
    ...(image === undefined ? {} : { image }),
    ...(opacity === 1 ? {} : { opacity }),
    ...(blend === 'normal' ? {} : { blend }),
    ...(isolates ? { isolates } : {}),
    ...(doubts.length === 0 ? {} : { doubts }),
  };
}

function imageOf(style: CSSStyleDeclaration): 'gradient' | 'picture' | undefined {
  const image = style.backgroundImage;
  if (image === 'none') return undefined;
  return /url\(|image-set\(|paint\(|cross-fade\(|element\(/u.test(image) ? 'picture' : 'gradient';
}

/** Stacking contexts that are no opacity group or blend; those make a group anyway (Compositing 1 §4). */
function isolating(style: CSSStyleDeclaration): true | undefined {
  if (style.isolation === 'isolate' || style.transform !== 'none') return true;
  if (style.position === 'fixed' || style.position === 'sticky') return true;
  if (style.position !== 'static' && style.zIndex !== 'auto') return true;
  return undefined;
}

function doubtsOf(style: CSSStyleDeclaration): Doubt[] {
  const doubts: Doubt[] = [];
  if (style.filter !== 'none') doubts.push('filter');
  if (style.backdropFilter !== '' && style.backdropFilter !== 'none') doubts.push('backdrop-filter');
  if (style.maskImage !== '' && style.maskImage !== 'none') doubts.push('mask');
  if (style.clipPath !== 'none') doubts.push('clip-path');
  if (style.backgroundClip.includes('text')) doubts.push('clip-text');
  return doubts;
}
