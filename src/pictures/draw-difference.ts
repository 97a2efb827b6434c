// The difference as a picture for people: what is as it was, faint; what changed, in one strong colour; rows that came in or went,
// tinted at their place.
import type { MergedRows } from './merged-rows.ts';
import type { RgbaPicture } from './rgba-picture.ts';

type Codes = readonly [red: number, green: number, blue: number];

/** Told apart by lightness too, not by hue alone. */
const CHANGED: Codes = [122, 24, 140];
const INSERTED: Codes = [20, 120, 120];
const REMOVED: Codes = [190, 120, 20];
/** Share of the page that is left of what did not change; of the tint on rows that came in or went. */
const FAINT = 0.18;
const TINT = 0.45;

/** @returns as wide and high as both pictures together: removed rows are shown where they were */
export function drawDifference(accepted: RgbaPicture, current: RgbaPicture, merged: MergedRows): RgbaPicture {
  const { widthPx, heightPx, mask, bands } = merged;
  const data = new Uint8Array(widthPx * heightPx * 4).fill(255);
  for (const band of bands) {
    const source = band.kind === 'removed' ? accepted : current;
    const first = band.kind === 'removed' ? band.acceptedTop : band.currentTop;
    for (let row = 0; row < band.rows; row += 1) {
      for (let x = 0; x < widthPx; x += 1) {
        const at = (band.top + row) * widthPx + x;
        const from = x < source.widthPx ? ((first + row) * source.widthPx + x) * 4 : -1;
        paint(data, at * 4, band.kind === 'equal' || band.kind === 'changed' ? mask[at] === 1 : band.kind, source.data, from);
      }
    }
  }
  return { widthPx, heightPx, data };
}

function paint(to: Uint8Array, at: number, what: boolean | 'inserted' | 'removed', from: Uint8Array, index: number): void {
  for (let channel = 0; channel < 3; channel += 1) {
    const code = index < 0 ? 255 : (from[index + channel] ?? 255);
    if (what === true) to[at + channel] = CHANGED[channel] ?? 0;
    else if (what === false) to[at + channel] = 255 - (255 - code) * FAINT;
    else to[at + channel] = code * (1 - TINT) + ((what === 'inserted' ? INSERTED : REMOVED)[channel] ?? 0) * TINT;
  }
}
