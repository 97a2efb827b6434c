// A long list of which only the part in sight is in the document.
import { Virtualizer, elementScroll, observeElementOffset, observeElementRect } from '@tanstack/virtual-core';
import type { VirtualItem } from '@tanstack/virtual-core';
import type { RefObject } from 'preact';
import { useLayoutEffect, useMemo, useState } from 'preact/hooks';

export interface Virtual {
  readonly items: readonly VirtualItem[];
  readonly sizePx: number;
  readonly show: (index: number) => void;
}

/** @param rowPx height of every row, CSS px */
export function useVirtual(scroller: RefObject<HTMLElement | null>, count: number, rowPx: number, headPx = 0): Virtual {
  const [, redraw] = useState(0);
  const virtualizer = useMemo(
    () =>
      new Virtualizer<HTMLElement, HTMLElement>({
        count: 0,
        getScrollElement: () => scroller.current,
        estimateSize: () => rowPx,
        scrollToFn: elementScroll,
        observeElementRect,
        observeElementOffset,
      }),
    [],
  );
  virtualizer.setOptions({
    ...virtualizer.options,
    count,
    estimateSize: () => rowPx,
    scrollMargin: headPx,
    scrollPaddingStart: headPx,
    overscan: 4,
    initialRect: { width: 800, height: 600 },
    onChange: () => {
      redraw((n) => n + 1);
    },
  });
  useLayoutEffect(() => virtualizer._didMount(), []);
  useLayoutEffect(() => {
    virtualizer._willUpdate();
  });
  return {
    items: virtualizer.getVirtualItems(),
    sizePx: virtualizer.getTotalSize(),
    show: (index) => {
      virtualizer.scrollToIndex(index, { align: 'auto' });
    },
  };
}
