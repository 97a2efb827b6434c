// Inner width of an element as it is laid out.
import type { RefObject } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';

/** @returns CSS px, whole; 0 until it is known */
export function useWidth(element: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const target = element.current;
    if (target === null) return undefined;
    const measure = (): void => {
      setWidth(Math.floor(target.clientWidth));
    };
    const observer = new ResizeObserver(measure);
    observer.observe(target);
    measure();
    return () => {
      observer.disconnect();
    };
  }, []);
  return width;
}
