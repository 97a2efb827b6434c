// How strongly a shadow is painted somewhere in a region of the picture: the largest share of its colour mixed into the ground.
import type { Color, Opaque } from '../../src/colour/color.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { Code, Shot } from './pixels.ts';
import { codeAt } from './pixels.ts';

export interface HaloQuestion {
  readonly pixels: Shot;
  readonly region: Rect;
  /** Left out: what casts the shadow, where that is a box. */
  readonly hole: Rect | null;
  /** Colours of what casts it, where that is letters or strokes. */
  readonly inks: readonly Color[];
  readonly ground: Opaque;
  readonly color: Color;
}

/** Codes, 0–255: how far a pixel may lie off the line between ground and shadow colour. */
const OFF_LINE = 8;
/** CSS px: anti-aliased edges of letters reach this far. */
const EDGE = 1.5;
/** The strongest pixels up to this share are taken for strays. */
const STRAY = 0.002;

/** @returns 0–1, as a share of the shadow's own alpha */
export function paintedShare(question: HaloQuestion): number {
  if (question.color.alpha === 0) return 0;
  const shares: number[] = [];
  forEachShare(question, (share) => {
    shares.push(share);
  });
  shares.sort((one, other) => other - one);
  return Math.min(1, Math.max(0, shares[Math.floor(shares.length * STRAY)] ?? 0));
}

/** A blur passes through at least as many colours, a flat neighbour has one, its soft edge two or three (ours). */
const LEAST_STEPS = 5;
/** Share of what lies around a box: half of one of its short sides (ours). */
const LEAST_FREE = 0.04;

/**
 * Whether somewhere around a box its shadow fades into the ground, whatever touches the box elsewhere.
 * @param expected share of the shadow's alpha at its peak, 0–1
 */
export function fadesSomewhere(question: HaloQuestion, expected: number): boolean {
  if (question.color.alpha === 0) return false;
  const codes = new Set<Code>();
  let [found, all] = [0, 0];
  forEachShare(
    question,
    (share, code) => {
      if (share < expected / 4 || share > expected * 1.15) return;
      found += 1;
      codes.add(code);
    },
    () => {
      all += 1;
    },
  );
  return codes.size >= LEAST_STEPS && found >= all * LEAST_FREE;
}

/** @param found gets the share of the shadow's own alpha at each pixel that lies between ground and shadow; @param seen each pixel */
function forEachShare(question: HaloQuestion, found: (share: number, code: Code) => void, seen?: () => void): void {
  const { pixels, region, hole, ground, color } = question;
  const step = 1 / pixels.scale;
  const columns = Math.max(1, Math.round(region[2] / step));
  const rows = Math.max(1, Math.round(region[3] / step));
  const from = channels(ground);
  const to = channels(color);
  const inked = inkMask(question, columns, rows, step);
  for (let row = 0; row < rows; row += 1) {
    const y = region[1] + (row + 0.5) * step;
    const crosses = hole !== null && y >= hole[1] && y <= hole[1] + hole[3];
    for (let column = 0; column < columns; column += 1) {
      if (inked[row * columns + column] === 1) continue;
      const x = region[0] + (column + 0.5) * step;
      if (crosses && x >= hole[0] && x <= hole[0] + hole[2]) {
        column = Math.ceil((hole[0] + hole[2] - region[0]) / step - 0.5);
        continue;
      }
      const code = codeAt(pixels, x, y);
      const share = shareAt(code, from, to);
      seen?.();
      if (share !== null) found(share / color.alpha, code);
    }
  }
}

type Triple = readonly [number, number, number];

function channels(color: Color): Triple {
  return [color.r * 255, color.g * 255, color.b * 255];
}

function channelsOf(code: number): Triple {
  return [code >> 16, (code >> 8) & 255, code & 255];
}

/** Where between two colours a third lies; null when it lies elsewhere. Written out in numbers: it runs for every pixel. */
function shareAt(code: Code, from: Triple, to: Triple): number | null {
  const [dr, dg, db] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const along = dr * dr + dg * dg + db * db;
  if (along < 1) return null;
  const r = (code >> 16) - from[0];
  const g = ((code >> 8) & 255) - from[1];
  const b = (code & 255) - from[2];
  const share = (r * dr + g * dg + b * db) / along;
  if (share < 0 || share > 1.02) return null;
  const near = Math.abs(r - share * dr) <= OFF_LINE && Math.abs(g - share * dg) <= OFF_LINE && Math.abs(b - share * db) <= OFF_LINE;
  return near ? share : null;
}

/** 1 where a letter or stroke is drawn, or near it. */
function inkMask({ pixels, region, inks, ground }: HaloQuestion, columns: number, rows: number, step: number): Uint8Array {
  const mask = new Uint8Array(columns * rows);
  if (inks.length === 0) return mask;
  const from = channels(ground);
  const reach = Math.ceil(EDGE / step);
  const colors = inks.map(channels);
  const apart = (a: Triple, b: Triple): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const pixel = channelsOf(codeAt(pixels, region[0] + (column + 0.5) * step, region[1] + (row + 0.5) * step));
      if (!colors.some((ink) => apart(pixel, ink) < apart(from, ink) / 3)) continue;
      for (let y = Math.max(0, row - reach); y <= Math.min(rows - 1, row + reach); y += 1) {
        mask.fill(1, y * columns + Math.max(0, column - reach), y * columns + Math.min(columns, column + reach + 1));
      }
    }
  }
  return mask;
}
