// Which parts of a page to take pictures of, when only some places matter: few, since each picture has a price of its own.
import type { Area } from './pixels.ts';

/** A picture costs about as much as this many more device px of one (measured: 19 ms of processor time against .015 ms for 1,000 px). */
const PX_A_PICTURE = 1_300_000;

export interface CutWishes {
  /** Pictures begin and end at multiples of this, CSS px. */
  readonly step: number;
  /** Room left around each place, CSS px. */
  readonly margin: number;
  /** Of the page, CSS px. */
  readonly width: number;
  readonly height: number;
  /** Device px per CSS px. */
  readonly scale: number;
}

/**
 * @param places CSS px, in any order
 * @returns areas inside the page, from top to bottom, that together cover each place whole; they may overlap
 */
export function cutsAround(places: readonly Area[], { step, margin, width, height, scale }: CutWishes): readonly Area[] {
  const down = (v: number): number => Math.max(0, Math.floor((v - margin) / step) * step);
  const up = (v: number, most: number): number => Math.min(most, Math.ceil((v + margin) / step) * step);
  const price = PX_A_PICTURE / scale ** 2;
  let cuts: Area[] = [];
  for (const place of [...places].sort((a, b) => a.top - b.top)) {
    const cut = {
      left: down(place.left),
      top: down(place.top),
      right: up(place.right, width),
      bottom: up(place.bottom, height),
    };
    cuts = joined(cuts, cut, price);
  }
  return cuts.sort((a, b) => a.top - b.top || a.left - b.left);
}

/** With one more, joined to another one as long as that is cheaper than a picture of its own. */
function joined(cuts: Area[], added: Area, price: number): Area[] {
  let best: { readonly at: number; readonly both: Area; readonly gain: number } | null = null;
  for (const [at, cut] of cuts.entries()) {
    const both = around(cut, added);
    const gain = price + sizeOf(cut) + sizeOf(added) - sizeOf(both);
    if (gain > (best?.gain ?? 0)) best = { at, both, gain };
  }
  // What has grown may now lie near another one.
  return best === null ? [...cuts, added] : joined(cuts.toSpliced(best.at, 1), best.both, price);
}

function around(one: Area, other: Area): Area {
  return {
    left: Math.min(one.left, other.left),
    top: Math.min(one.top, other.top),
    right: Math.max(one.right, other.right),
    bottom: Math.max(one.bottom, other.bottom),
  };
}

function sizeOf({ left, top, right, bottom }: Area): number {
  return (right - left) * (bottom - top);
}
