// A picture's pixels with the colours of some places exchanged. Between what stands in front and what lies behind, edges are mixtures of the
// two: each pixel on the way between them goes to the same place on the way between the new two. What is neither stays.

/** 0–255 each. */
export type Rgb = readonly [red: number, green: number, blue: number];

export interface PixelLook {
  /** Device px, whole. */
  readonly rect: readonly [x: number, y: number, width: number, height: number];
  /** A surface is its colour alone; what lies around it is a place of its own. */
  readonly part: 'both' | 'fore';
  readonly before: { readonly fore: Rgb; readonly back: Rgb };
  readonly after: { readonly fore: Rgb; readonly back: Rgb };
}

/** Distance from the way between two colours that counts as on it. Found by trying: smoothed letters lie within 14 of it. */
const NEAR = 20;
/** … and from one colour: pictures are without loss, but dithered gradients differ by a step or two. */
const SAME = 6;

/** @param pixels RGBA, row by row; changed in place @param looks large before small: a later one counts where both lie */
export function recolorPixels(pixels: Uint8ClampedArray, width: number, looks: readonly PixelLook[]): void {
  const seen = pixels.slice();
  const height = width === 0 ? 0 : pixels.length / 4 / width;
  for (const { rect, part, before, after } of looks) {
    const [x, y, across, down] = rect;
    const { fore, back } = before;
    const way: Rgb = [fore[0] - back[0], fore[1] - back[1], fore[2] - back[2]];
    const long = way[0] ** 2 + way[1] ** 2 + way[2] ** 2;
    for (let row = Math.max(0, y); row < Math.min(height, y + down); row += 1) {
      for (let column = Math.max(0, x); column < Math.min(width, x + across); column += 1) {
        const at = (row * width + column) * 4;
        const share = shareOf(part, [seen[at] ?? 0, seen[at + 1] ?? 0, seen[at + 2] ?? 0]);
        if (share === null) continue;
        for (const channel of [0, 1, 2] as const) {
          pixels[at + channel] = after.back[channel] + share * (after.fore[channel] - after.back[channel]);
        }
      }
    }

    function shareOf(of: PixelLook['part'], pixel: Rgb): number | null {
      const [red, green, blue] = [pixel[0] - back[0], pixel[1] - back[1], pixel[2] - back[2]];
      if (of === 'fore') return within(pixel, fore, SAME) ? 1 : null;
      if (long === 0) return within(pixel, back, SAME) ? 0 : null;
      const along = Math.min(1, Math.max(0, (red * way[0] + green * way[1] + blue * way[2]) / long));
      const nearest: Rgb = [back[0] + along * way[0], back[1] + along * way[1], back[2] + along * way[2]];
      return within(pixel, nearest, NEAR) ? along : null;
    }
  }
}

function within(one: Rgb, other: Rgb, distance: number): boolean {
  return (one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2 + (one[2] - other[2]) ** 2 <= distance ** 2;
}
