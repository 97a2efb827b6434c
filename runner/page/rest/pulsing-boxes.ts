// Grey boxes in place of text that no name tells of: empty, in the flow of the page, and moving for ever.
import { dom } from '../dom.ts';
import { isTransparent } from '../places/colors.ts';

/** CSS px: dots that pulse beside what is live are smaller (ours). */
const LEAST = { width: 24, height: 8 };
/** One may be an ornament; placeholders come in rows (ours). */
const FEWEST = 2;
/** What shows something of its own. */
const SHOWS = 'img,svg,canvas,video,iframe,object,input,button,select,textarea,progress,meter';

/** @returns the first of several that are seen; null where there are none */
export function pulsingBox(root: Document | ShadowRoot): Element | null {
  const boxes = new Set<Element>();
  for (const { effect } of dom(root).getAnimations()) {
    if (effect === null || !('target' in effect) || effect.getComputedTiming().iterations !== Infinity) continue;
    for (const box of boxesIn((effect as KeyframeEffect).target)) boxes.add(box);
  }
  const [first] = boxes;
  return first === undefined || boxes.size < FEWEST ? null : first;
}

/** The element itself, or what a container that moves is filled with. */
function boxesIn(target: Element | null): readonly Element[] {
  if (target === null || dom(target).textContent.trim() !== '') return [];
  if (dom(target).matches(SHOWS) || dom(target).closest('svg') !== null || dom(target).querySelector(SHOWS) !== null) return [];
  return [target, ...dom(target).querySelectorAll('*')].filter((el) => dom(el).childElementCount === 0 && isBox(el));
}

function isBox(el: Element): boolean {
  const { width, height } = dom(el).getBoundingClientRect();
  const { position, backgroundColor, backgroundImage } = getComputedStyle(el);
  const isPainted = !isTransparent(backgroundColor) || backgroundImage !== 'none';
  const isSeen = dom(el).checkVisibility({ visibilityProperty: true, opacityProperty: true });
  return (
    isSeen && isPainted && (position === 'static' || position === 'relative') && width >= LEAST.width && height >= LEAST.height
  );
}
