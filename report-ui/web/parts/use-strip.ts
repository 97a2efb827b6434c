// Which items of a long row or column of equal ones are in sight. Positions are arithmetic, so a list may be as long as it likes.
import type { RefObject } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';

export interface Strip {
  readonly from: number;
  /** Exclusive. */
  readonly to: number;
  readonly sizePx: number;
}

/** Items beyond each edge that are drawn already. */
const AROUND = 6;

/** @param itemPx length of each item with its gap, CSS px */
export function useStrip(scroller: RefObject<HTMLElement | null>, count: number, itemPx: number): Strip {
  const [seen, setSeen] = useState({ at: 0, length: 1_600 });
  useLayoutEffect(() => {
    const target = scroller.current;
    if (target === null) return undefined;
    const look = (): void => {
      setSeen((old) => {
        const now = { at: target.scrollLeft, length: target.clientWidth };
        return Math.floor(old.at / itemPx) === Math.floor(now.at / itemPx) && old.length === now.length ? old : now;
      });
    };
    const observer = new ResizeObserver(look);
    observer.observe(target);
    target.addEventListener('scroll', look, { passive: true });
    look();
    return () => {
      observer.disconnect();
      target.removeEventListener('scroll', look);
    };
  }, [itemPx]);
  return {
    from: Math.max(0, Math.floor(seen.at / itemPx) - AROUND),
    to: Math.min(count, Math.ceil((seen.at + seen.length) / itemPx) + AROUND),
    sizePx: count * itemPx,
  };
}
