// The rows of two aligned pictures laid into one sheet: rows that both have once, rows that only one has at their place. Regions, claims
// and the difference picture are all told in its coordinates.
import { matchPixels } from './match-pixels.ts';
import type { RowBand } from './align-rows.ts';
import type { RgbaPicture } from './rgba-picture.ts';

export interface MergedRows {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bands: readonly (RowBand & { readonly top: number })[];
  /** One byte a pixel: 1 where the pictures differ; whole rows that only one picture has. */
  readonly mask: Uint8Array;
}

/** Rows and columns around a changed block that pixelmatch may look at: a pixel's neighbours, and theirs. */
const MARGIN = 2;

export function mergeRows(
  accepted: RgbaPicture,
  current: RgbaPicture,
  bands: readonly RowBand[],
  options: { readonly threshold: number },
): MergedRows {
  const widthPx = Math.max(accepted.widthPx, current.widthPx);
  const both = Math.min(accepted.widthPx, current.widthPx);
  const heightPx = bands.reduce((sum, band) => sum + band.rows, 0);
  const mask = new Uint8Array(widthPx * heightPx);
  const placed = [];
  let top = 0;
  for (const band of bands) {
    placed.push({ ...band, top });
    if (band.kind === 'inserted' || band.kind === 'removed') mask.fill(1, top * widthPx, (top + band.rows) * widthPx);
    // Columns that only the wider picture has.
    else if (both < widthPx) for (let y = top; y < top + band.rows; y += 1) mask.fill(1, y * widthPx + both, (y + 1) * widthPx);
    if (band.kind === 'changed') markChanged({ mask, widthPx, both, top }, accepted, current, band, options);
    top += band.rows;
  }
  return { widthPx, heightPx, bands: placed, mask };
}

interface Sheet {
  readonly mask: Uint8Array;
  readonly widthPx: number;
  /** Columns that both pictures have. */
  readonly both: number;
  readonly top: number;
}

function markChanged(
  { mask, widthPx, both, top }: Sheet,
  accepted: RgbaPicture,
  current: RgbaPicture,
  band: RowBand,
  options: { readonly threshold: number },
): void {
  const columns = changedColumns(accepted, current, band, both);
  if (columns === null) return;
  const left = Math.max(0, columns.left - MARGIN);
  const right = Math.min(both, columns.right + MARGIN);
  // The margin above and below must lie in both pictures.
  const above = Math.min(MARGIN, band.acceptedTop, band.currentTop);
  const below = Math.min(MARGIN, accepted.heightPx - band.acceptedTop - band.rows, current.heightPx - band.currentTop - band.rows);
  const rows = above + band.rows + below;
  const found = matchPixels(
    cut(accepted, { left, right, top: band.acceptedTop - above, rows }),
    cut(current, { left, right, top: band.currentTop - above, rows }),
    options,
  );
  const wide = right - left;
  for (let row = 0; row < band.rows; row += 1) {
    const from = (row + above) * wide;
    mask.set(found.subarray(from, from + wide), (top + row) * widthPx + left);
  }
}

/** The columns outside of which the band's rows are equal; null when they are equal all over. */
function changedColumns(
  accepted: RgbaPicture,
  current: RgbaPicture,
  band: RowBand,
  both: number,
): { readonly left: number; readonly right: number } | null {
  let left = both;
  let right = 0;
  for (let row = 0; row < band.rows; row += 1) {
    const a = (band.acceptedTop + row) * accepted.widthPx;
    const b = (band.currentTop + row) * current.widthPx;
    const same = (x: number): boolean => {
      const [i, j] = [(a + x) * 4, (b + x) * 4];
      const [before, now] = [accepted.data, current.data];
      return before[i] === now[j] && before[i + 1] === now[j + 1] && before[i + 2] === now[j + 2] && before[i + 3] === now[j + 3];
    };
    let x = 0;
    while (x < left && same(x)) x += 1;
    left = Math.min(left, x);
    let end = both;
    while (end > right && same(end - 1)) end -= 1;
    right = Math.max(right, end);
  }
  return left < right ? { left, right } : null;
}

function cut(
  picture: RgbaPicture,
  { left, right, top, rows }: { readonly left: number; readonly right: number; readonly top: number; readonly rows: number },
): RgbaPicture {
  const wide = right - left;
  const data = new Uint8Array(wide * rows * 4);
  for (let row = 0; row < rows; row += 1) {
    const from = ((top + row) * picture.widthPx + left) * 4;
    data.set(picture.data.subarray(from, from + wide * 4), row * wide * 4);
  }
  return { widthPx: wide, heightPx: rows, data };
}

/** Row of the sheet → row of one picture; the next row below where the picture has none there. */
export function rowIn(side: 'accepted' | 'current', merged: MergedRows, y: number): number {
  let below = 0;
  for (const band of merged.bands) {
    const start = side === 'accepted' ? band.acceptedTop : band.currentTop;
    const has = band.kind !== (side === 'accepted' ? 'inserted' : 'removed');
    if (y < band.top + band.rows) return has ? start + y - band.top : start;
    below = start + (has ? band.rows : 0);
  }
  return below;
}

/** Row of one picture → row of the sheet. */
export function sheetRow(side: 'accepted' | 'current', merged: MergedRows, y: number): number {
  for (const band of merged.bands) {
    if (band.kind === (side === 'accepted' ? 'inserted' : 'removed')) continue;
    const start = side === 'accepted' ? band.acceptedTop : band.currentTop;
    if (y < start + band.rows) return band.top + y - start;
  }
  return merged.heightPx;
}
