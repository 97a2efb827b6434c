// Decoded pictures and areas in them.

/** Rows of pixels, top to bottom. */
export interface Pixels {
  readonly data: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Bytes per pixel: RGB or RGBA (alpha is not looked at: pages are opaque). */
  readonly channels: 3 | 4;
  /** Place of the top left pixel in the picture of the whole page, device px. */
  readonly leftPx: number;
  readonly topPx: number;
}

/** Device px in the picture of the whole page; right and bottom are the first ones outside. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The whole pixels inside a rectangle of CSS px. @param scale device px per CSS px */
export function areaInside(rect: readonly [x: number, y: number, width: number, height: number], scale: number): Area {
  const [x, y, width, height] = rect;
  return {
    left: Math.ceil(x * scale - 0.01),
    top: Math.ceil(y * scale - 0.01),
    right: Math.floor((x + width) * scale + 0.01),
    bottom: Math.floor((y + height) * scale + 0.01),
  };
}

/** What of an area lies in the picture; may be empty (`right <= left`). */
export function cutTo(area: Area, pixels: Pixels): Area {
  return {
    left: Math.max(area.left, pixels.leftPx),
    top: Math.max(area.top, pixels.topPx),
    right: Math.min(area.right, pixels.leftPx + pixels.widthPx),
    bottom: Math.min(area.bottom, pixels.topPx + pixels.heightPx),
  };
}

export function isEmpty(area: Area): boolean {
  return area.right <= area.left || area.bottom <= area.top;
}

/** Index into `data` of a pixel given in page coordinates. */
export function offsetOf(pixels: Pixels, x: number, y: number): number {
  return ((y - pixels.topPx) * pixels.widthPx + (x - pixels.leftPx)) * pixels.channels;
}
