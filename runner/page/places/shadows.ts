// Shadows as computed, each where it is declared; their lists are taken apart by the Node side.
import { dom } from '../dom.ts';
import { svgPaints } from './svg-paints.ts';
import { isTransparent } from './colors.ts';
import type { PlaceFacts } from './place-facts.ts';
import { LEAST_OPACITY, opacityOf, placeOf } from './place-facts.ts';
import { borderBox, toRect, visiblePart } from './places.ts';
import type { Box, Entry } from '../scene/scene.ts';
import type { WireShadow } from '../wire/places.ts';

/** @param focused elements under keyboard focus: their shadows are focus indicators */
export function collectShadows(facts: PlaceFacts, focused: ReadonlySet<Element>): readonly WireShadow[] {
  return facts.scene.entries.flatMap((entry): readonly WireShadow[] => {
    const { style, el } = entry;
    const { boxShadow, textShadow, filter } = style;
    const texts = textShadow !== 'none' && textShadow !== entry.up?.style.textShadow;
    const drops = filter.includes('drop-shadow(');
    if (boxShadow === 'none' && !texts && !drops) return [];
    if (!entry.visible || opacityOf(entry) < LEAST_OPACITY || focused.has(el)) return [];
    const box = borderBox(entry);
    const make = (property: WireShadow['property'], value: string, caster: Box): readonly WireShadow[] => {
      const rect = visiblePart(caster, entry.clip);
      if (rect === null) return [];
      const filters = filtersOn(property === 'drop-shadow' ? entry.up : entry);
      return [
        {
          ...placeOf(facts, entry, property),
          rect,
          property,
          value,
          box: toRect(caster),
          ...(filters.length === 0 ? {} : { filters }),
        },
      ];
    };
    const line = texts ? firstLine(entry) : null;
    return [
      ...(boxShadow === 'none' ? [] : make('box-shadow', boxShadow, box)),
      // Text shadows fall on the element's own background.
      ...(line === null
        ? []
        : make('text-shadow', textShadow, line).map((shadow) => ({
            ...shadow,
            ground: facts.grounds.of(entry),
            inks: [style.color],
          }))),
      ...(drops ? make('drop-shadow', filter, box).map((shadow) => ({ ...shadow, ...inksOf(entry) })) : []),
    ];
  });
}

/** Box of the first text inside that has the element's shadow: one line stands for all. */
function firstLine({ el, shown, style }: Entry): Box | null {
  const texts = dom(shown.document).createTreeWalker(el, NodeFilter.SHOW_TEXT);
  for (let node = texts.nextNode(); node !== null; node = texts.nextNode()) {
    const holder = dom(node).parentElement;
    if (holder === null || (dom(node).nodeValue ?? '').trim() === '') continue;
    const own = shown.window.getComputedStyle(holder);
    if (own.textShadow !== style.textShadow || own.visibility !== 'visible') continue;
    const range = dom(shown.document).createRange();
    range.selectNodeContents(node);
    const r = range.getClientRects()[0];
    if (r === undefined || r.width < 2 || r.height < 2) continue;
    return { left: r.left + shown.dx, top: r.top + shown.dy, right: r.right + shown.dx, bottom: r.bottom + shown.dy };
  }
  return null;
}

function filtersOn(entry: Entry | null): readonly string[] {
  const filters: string[] = [];
  for (let at = entry; at !== null; at = at.up) if (at.own.filter !== 'none') filters.push(at.own.filter);
  return filters;
}

function inksOf({ el, style, shown }: Entry): Pick<WireShadow, 'inks'> {
  if (el instanceof shown.window.SVGSVGElement) return { inks: (svgPaints(el, shown.window) ?? []).map((paint) => paint.color) };
  const transparent = isTransparent(style.backgroundColor) && style.backgroundImage === 'none';
  return transparent && !dom(el).matches('img, video, canvas') ? { inks: [style.color] } : {};
}
