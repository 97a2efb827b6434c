// Pictures, videos, canvases and emoji, each with the filters on its way to the screen (Filter Effects 1 §5: a filter acts on the
// element and all it holds, so the innermost acts first).
import { dom } from '../dom.ts';
import { ICON_SIDE } from './areas.ts';
import type { Identity } from '../scene/identity.ts';
import type { PlaceFacts } from './place-facts.ts';
import { LEAST_OPACITY, opacityOf, placeOf } from './place-facts.ts';
import { borderBox, visiblePart } from './places.ts';
import type { Entry } from '../scene/scene.ts';
import type { WirePicture } from '../wire/places.ts';

/** CSS px; smaller ones are icons or tracking dots. */
const LEAST_SIDE = 16;
/** Shown in colour whatever the font (Unicode Technical Standard 51: Emoji_Presentation, or asked for by U+FE0F). */
const EMOJI = /\p{Emoji_Presentation}|\p{Emoji}\uFE0F/u;

export function collectPictures(facts: PlaceFacts): readonly WirePicture[] {
  const filtersOf = filterChains(facts.identity);
  return facts.scene.entries.flatMap((entry): readonly WirePicture[] => {
    if (!entry.visible || opacityOf(entry) < LEAST_OPACITY) return [];
    const shown = mediumOf(entry, filtersOf(entry).length > 0);
    if (shown === null) return [];
    const rect = visiblePart(borderBox(entry), entry.clip);
    if (rect === null || Math.min(rect[2], rect[3]) < leastSide(shown.medium)) return [];
    return [{ ...placeOf(facts, entry, 'picture'), ...shown, rect, filters: filtersOf(entry) }];
  });
}

/** CSS px: background pictures of the size of icons are icons, drawn for the filter they have. */
function leastSide(medium: WirePicture['medium']): number {
  return medium === 'background' ? ICON_SIDE : medium === 'emoji' ? 0 : LEAST_SIDE;
}

function mediumOf(entry: Entry, filtered: boolean): Pick<WirePicture, 'medium' | 'source'> | null {
  const { el, style, shown } = entry;
  if (el instanceof shown.window.HTMLImageElement) {
    // One that failed to load, or has no file, shows the browser's mark and its own words: there is no picture to compare.
    return el.complete && el.naturalWidth === 0 ? null : { medium: 'image', ...sourceOf(el.currentSrc) };
  }
  if (el instanceof shown.window.HTMLVideoElement)
    return { medium: 'video', ...sourceOf(el.poster === '' ? el.currentSrc : el.poster) };
  if (el instanceof shown.window.HTMLCanvasElement) return { medium: 'canvas' };
  if (el instanceof shown.window.SVGImageElement) return { medium: 'svg-image', ...sourceOf(el.href.baseVal) };
  const image = /url\("([^"]*)"\)/u.exec(style.backgroundImage);
  if (image !== null) return { medium: 'background', ...sourceOf(image[1] ?? '') };
  return filtered && hasEmoji(el) ? { medium: 'emoji' } : null;
}

/** Addresses whose content is in them would fill every sample; hosts and ports change from run to run, paths do not. */
function sourceOf(address: string): { readonly source?: string } {
  if (address === '' || address.startsWith('data:')) return {};
  const { origin } = location;
  return { source: address.startsWith(`${origin}/`) ? address.slice(origin.length) : address };
}

function hasEmoji(el: Element): boolean {
  for (let node = dom(el).firstChild; node !== null; node = dom(node).nextSibling) {
    if (dom(node).nodeType === Node.TEXT_NODE && EMOJI.test(dom(node).nodeValue ?? '')) return true;
  }
  return false;
}

function filterChains(identity: Identity): (entry: Entry) => WirePicture['filters'] {
  const known = new Map<Entry, WirePicture['filters']>();
  return (entry) => {
    // Up to what is known, then down again: documents nest deeper than a call stack.
    const unknown: Entry[] = [];
    let at: Entry | null = entry;
    for (; at !== null && !known.has(at); at = at.up) unknown.push(at);
    let chain: WirePicture['filters'] = at === null ? [] : (known.get(at) ?? []);
    for (const link of unknown.reverse()) {
      const { filter } = link.style;
      if (filter !== 'none') chain = [{ selector: identity.selectorOf(link), filter }, ...chain];
      known.set(link, chain);
    }
    return chain;
  };
}
