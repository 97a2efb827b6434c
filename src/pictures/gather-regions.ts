// Changed pixels → a few rectangles a person can look at: pixels that touch or lie near each other are one region.

export interface MaskRegion {
  /** Tight around the pixels; px of the mask. */
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly pixels: number;
}

export interface Mask {
  readonly widthPx: number;
  readonly heightPx: number;
  /** One byte a pixel, 0 or 1. */
  readonly mask: Uint8Array;
}

/** Side of the squares in which pixels are gathered, px: about a letter, so that the letters of a word become one region. */
const CELL_PX = 8;
/** More regions than that nobody looks at; then squares grow until there are fewer. */
const MOST_REGIONS = 200;

/**
 * Pixels up to 8 px apart are always in one region, pixels 16 px apart in every direction never by themselves (unless there are more
 * than 200 regions). @returns top to bottom, then left to right; together they hold every changed pixel once
 */
export function gatherRegions(mask: Mask): readonly MaskRegion[] {
  for (let cell = CELL_PX; ; cell *= 2) {
    const regions = gather(mask, cell);
    if (regions.length <= MOST_REGIONS) return regions.sort((a, b) => a.top - b.top || a.left - b.left);
  }
}

interface Cell {
  left: number;
  top: number;
  right: number;
  bottom: number;
  pixels: number;
}

function gather({ widthPx, mask }: Mask, size: number): MaskRegion[] {
  const columns = Math.ceil(widthPx / size);
  const cells = new Map<number, Cell>();
  for (let next = mask.indexOf(1); next >= 0;) {
    const y = Math.floor(next / widthPx);
    const row = y * widthPx;
    for (let x = next - row; x < widthPx; x += 1) {
      if (mask[row + x] !== 1) continue;
      const place = Math.floor(y / size) * columns + Math.floor(x / size);
      const cell = cells.get(place);
      if (cell === undefined) cells.set(place, { left: x, top: y, right: x + 1, bottom: y + 1, pixels: 1 });
      else {
        if (x < cell.left) cell.left = x;
        if (x >= cell.right) cell.right = x + 1;
        if (y >= cell.bottom) cell.bottom = y + 1;
        cell.pixels += 1;
      }
    }
    next = mask.indexOf(1, row + widthPx);
  }
  return joinCells(cells, columns);
}

/** Cells that touch, corners included, become one. */
function joinCells(cells: ReadonlyMap<number, Cell>, columns: number): MaskRegion[] {
  const regions: MaskRegion[] = [];
  const left = new Set(cells.keys());
  for (const start of cells.keys()) {
    if (!left.delete(start)) continue;
    const region: Cell = { left: Infinity, top: Infinity, right: 0, bottom: 0, pixels: 0 };
    const open = [start];
    for (let place = open.pop(); place !== undefined; place = open.pop()) {
      const cell = cells.get(place);
      if (cell === undefined) continue;
      region.left = Math.min(region.left, cell.left);
      region.top = Math.min(region.top, cell.top);
      region.right = Math.max(region.right, cell.right);
      region.bottom = Math.max(region.bottom, cell.bottom);
      region.pixels += cell.pixels;
      const column = place % columns;
      for (const down of [-columns, 0, columns]) {
        for (const aside of [-1, 0, 1]) {
          if (column + aside < 0 || column + aside >= columns) continue;
          if (left.delete(place + down + aside)) open.push(place + down + aside);
        }
      }
    }
    regions.push(region);
  }
  return regions;
}
