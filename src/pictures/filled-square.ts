// How much of a box can be seen in one piece, where something covers part of it.
import type { Area, Pixels } from './pixels.ts';
import { cutTo, isEmpty } from './pixels.ts';
import { colorAt } from './under-glyphs.ts';

/**
 * @param pictures the place as it is without text, and with the box filled
 * @param box whole device px
 * @returns side of the largest square of the box in which the fill shows, device px; 0: nowhere
 */
export function largestFilledSquare({ bare, filled }: { readonly bare: Pixels; readonly filled: Pixels }, box: Area): number {
  const area = cutTo(cutTo(box, bare), filled);
  if (isEmpty(area)) return 0;
  let most = 0;
  // Side of the largest square that ends at each pixel of the row above.
  const above = new Uint16Array(area.right - area.left);
  for (let y = area.top; y < area.bottom; y += 1) {
    let corner = 0;
    let left = 0;
    for (let column = 0; column < above.length; column += 1) {
      const x = area.left + column;
      const over = above[column] ?? 0;
      left = colorAt(bare, x, y) === colorAt(filled, x, y) ? 0 : Math.min(left, over, corner) + 1;
      corner = over;
      above[column] = left;
      if (left > most) most = left;
    }
  }
  return most;
}

/** @returns width and height of all that differs between two pictures of a box, device px; 0 where nothing does */
export function drawnSize(
  { bare, drawn }: { readonly bare: Pixels; readonly drawn: Pixels },
  box: Area,
): { readonly width: number; readonly height: number } {
  const area = cutTo(cutTo(box, bare), drawn);
  let [left, right, top, bottom] = [area.right, area.left, area.bottom, area.top];
  for (let y = area.top; y < area.bottom; y += 1) {
    for (let x = area.left; x < area.right; x += 1) {
      if (colorAt(bare, x, y) === colorAt(drawn, x, y)) continue;
      left = Math.min(left, x);
      right = Math.max(right, x + 1);
      top = Math.min(top, y);
      bottom = y + 1;
    }
  }
  return { width: Math.max(0, right - left), height: Math.max(0, bottom - top) };
}

/** Whether something is drawn where the fill does not show: then its colour is that of what lies behind, and nothing covers it. */
export function drawsUnfilled(
  { bare, filled, drawn }: { readonly bare: Pixels; readonly filled: Pixels; readonly drawn: Pixels },
  box: Area,
): boolean {
  const area = cutTo(cutTo(cutTo(box, bare), filled), drawn);
  for (let y = area.top; y < area.bottom; y += 1) {
    for (let x = area.left; x < area.right; x += 1) {
      const ground = colorAt(bare, x, y);
      if (colorAt(filled, x, y) === ground && colorAt(drawn, x, y) !== ground) return true;
    }
  }
  return false;
}
