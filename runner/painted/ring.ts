// What surrounds a box: the prevailing colour of a ring around it, near pixels counting more.
import type { Rect } from '../../src/samples/view.ts';
import type { Tally } from './dominant-colors.ts';
import { count, groupsOf, modeOf } from './dominant-colors.ts';
import type { Code, Shot } from './pixels.ts';
import { codeAt, distance } from './pixels.ts';

/** CSS px. */
export const RING = 16;
/** An exact colour that fills less of the ring than this is noise of a picture or gradient; then its family speaks. */
const LEAST_MODE = 0.1;

export interface Ring {
  readonly code: Code;
  /** Share of the ring that has about this colour, 0–1; where neighbours of the same kind take most of the ring, of all of it. */
  readonly share: number;
  /** Share that has exactly this colour. */
  readonly exact: number;
}

export interface RingWishes {
  /** Distance of the ring's inner edge from the box, CSS px. */
  readonly from?: number;
  /** CSS px. */
  readonly width?: number;
  /** Points that do not count: neighbours of the same kind. */
  readonly skip?: (x: number, y: number) => boolean;
  /** What counts at a point in place of the pixel there. */
  readonly read?: (x: number, y: number, code: Code) => Code;
}

/** Codes: pixels this close to the prevailing colour count as it. */
const SAME = 4;

/** @returns null when the box leaves no ring on the page */
export function ringAround(shot: Shot, rect: Rect, { from = 1, width = RING, skip, read }: RingWishes = {}): Ring | null {
  const [x, y, w, h] = rect;
  const [pageWidth, pageHeight] = [shot.widthPx / shot.scale, shot.heightPx / shot.scale];
  const tally: Tally = new Map();
  let [skipped, counted] = [0, 0];
  const step = width > 8 ? 3 : 1;
  for (let out = from; out < from + width; out += step) {
    const weight = 1 / (1 + out / 4);
    const add = (px: number, py: number): void => {
      if (px < 0 || py < 0 || px >= pageWidth || py >= pageHeight) return;
      if (skip?.(px, py) === true) skipped += weight;
      else {
        counted += weight;
        const code = codeAt(shot, px, py);
        count(tally, read === undefined ? code : read(px, py, code), weight);
      }
    };
    for (let along = -out; along < w + out; along += step) {
      add(x + along + 0.5, y - out);
      add(x + along + 0.5, y + h + out - 0.5);
    }
    for (let along = 0; along < h; along += step) {
      add(x - out, y + along + 0.5);
      add(x + w + out - 0.5, y + along + 0.5);
    }
  }
  const mode = modeOf(tally);
  if (mode === null) return null;
  const code = mode.share >= LEAST_MODE ? mode.code : (groupsOf(tally, 1)[0]?.code ?? mode.code);
  // Between two rows like it, a row has nothing around it but the line that parts them.
  const seen = skipped > counted ? counted / (skipped + counted) : 1;
  return { code, share: shareOf(tally, code) * seen, exact: mode.code === code ? mode.share : 0 };
}

function shareOf(tally: Tally, code: Code): number {
  let same = 0;
  let total = 0;
  for (const [other, weight] of tally) {
    total += weight;
    if (distance(code, other) <= SAME) same += weight;
  }
  return same / total;
}
