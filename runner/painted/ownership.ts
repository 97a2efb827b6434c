// Which painted box is seen where: boxes laid over each other in painting order on a coarse grid.
import type { Rect } from '../../src/samples/view.ts';
import type { Tally } from './dominant-colors.ts';
import { count } from './dominant-colors.ts';
import type { Shot } from './pixels.ts';
import { codeAt } from './pixels.ts';

/** CSS px: fine enough for boxes of 8 px, coarse enough to be cheap. */
const CELL = 4;

export interface Ownership {
  readonly columns: number;
  readonly rows: number;
  /** Index of the uppermost box at each cell, row by row; -1: none. */
  readonly owner: Int32Array;
}

/** @param rects in painting order; null for boxes that hide nothing */
export function ownershipOf(rects: readonly (Rect | null)[], page: { readonly width: number; readonly height: number }): Ownership {
  const columns = Math.ceil(page.width / CELL);
  const rows = Math.ceil(page.height / CELL);
  const owner = new Int32Array(columns * rows).fill(-1);
  for (const [index, rect] of rects.entries()) {
    if (rect === null) continue;
    const { left, right, top, bottom } = cellsOf(rect, columns, rows);
    for (let row = top; row < bottom; row += 1) owner.fill(index, row * columns + left, row * columns + right);
  }
  return { columns, rows, owner };
}

/** Cells whose middle lies in the rectangle, the last ones excluded. */
function cellsOf(
  [x, y, width, height]: Rect,
  columns: number,
  rows: number,
): { left: number; right: number; top: number; bottom: number } {
  const first = (from: number): number => Math.max(0, Math.ceil(from / CELL - 0.5));
  const end = (to: number, most: number): number => Math.min(most, Math.ceil(to / CELL - 0.5));
  return { left: first(x), right: end(x + width, columns), top: first(y), bottom: end(y + height, rows) };
}

/** Adds pixels of the cells that a box owns, the rim of its rectangle left out; large boxes are read more thinly. */
export function addOwnPixels(ownership: Ownership, index: number, rect: Rect, pixels: Shot, tally: Tally): void {
  const { owner, columns, rows } = ownership;
  const { left, right, top, bottom } = cellsOf(rect, columns, rows);
  const step = Math.max(1, Math.floor(Math.sqrt(((right - left) * (bottom - top)) / MOST_CELLS)));
  for (let row = top; row < bottom; row += step) {
    for (let column = left; column < right; column += step) {
      if (owner[row * columns + column] !== index) continue;
      for (const [dx, dy] of PROBES) {
        const x = column * CELL + dx;
        const y = row * CELL + dy;
        if (x > rect[0] + 1 && x < rect[0] + rect[2] - 1 && y > rect[1] + 1 && y < rect[1] + rect[3] - 1)
          count(tally, codeAt(pixels, x, y));
      }
    }
  }
}

/** Cells that are looked at in a large box: enough for the colour of most of it. */
const MOST_CELLS = 5000;

/** Two points of each cell. */
const PROBES = [
  [0.6, 2.6],
  [2.6, 0.6],
] as const;

/** Index of the box that is seen at a point; -1: none. @param x CSS px @param y CSS px */
export function ownerAt({ owner, columns, rows }: Ownership, x: number, y: number): number {
  const column = Math.min(columns - 1, Math.max(0, Math.floor(x / CELL)));
  const row = Math.min(rows - 1, Math.max(0, Math.floor(y / CELL)));
  return owner[row * columns + column] ?? -1;
}
