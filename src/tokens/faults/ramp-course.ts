// Which steps leave the smooth course of their own ramp: measured in OKLab (CSS Color 4, section 9) against a curve through their
// neighbours. A step is only named when the ramp is smooth without it.
import type { Opaque } from '../../colour/color.ts';
import { deltaEOk, fromOklch, toOklch } from '../../colour/lightness.ts';

export interface OffCourse {
  readonly at: number;
  /** Where the neighbours say the step should be. */
  readonly expected: Opaque;
  /** ΔE OK from there. */
  readonly off: number;
}

/** Fewer steps have no course. */
const SHORTEST = 5;
/** Twice the just noticeable difference (ΔE OK .02, CSS Color 4, section 13.2): less may be taste. */
export const LEAST_OFF = 0.04;
/** Share of the ramp's bends that must go when the step is put on its course. Ours: a planted fault makes nearly all of them. */
const LEAST_SMOOTHING = 0.5;
/** More faulty steps than this share of a ramp leave no course to judge by. */
const MOST_FAULTY = 0.25;

type Point = readonly [l: number, a: number, b: number];

/** @param colors of one ramp in order */
export function offCourse(colors: readonly Opaque[], leastOff = LEAST_OFF): readonly OffCourse[] {
  if (colors.length < SHORTEST) return [];
  const found: OffCourse[] = [];
  let points = colors.map(toPoint);
  while (found.length < Math.max(1, Math.floor(colors.length * MOST_FAULTY))) {
    const before = bends(points);
    const gains = points.map((_, at) => before - bends(points.with(at, expectedAt(points, at))));
    const at = gains.indexOf(Math.max(...gains));
    const gain = gains[at] ?? 0;
    const color = colors[at];
    if (color === undefined || before === 0 || gain < LEAST_SMOOTHING * before) break;
    const expected = toColor(expectedAt(points, at));
    const off = deltaEOk(color, expected);
    if (off < leastOff) break;
    found.push({ at, expected, off });
    points = points.with(at, expectedAt(points, at));
  }
  return found.sort((a, b) => a.at - b.at);
}

function toPoint(color: Opaque): Point {
  const { okLightness, chroma, hueDeg } = toOklch(color);
  const hue = (hueDeg * Math.PI) / 180;
  return [okLightness, chroma * Math.cos(hue), chroma * Math.sin(hue)];
}

function toColor([okLightness, a, b]: Point): Opaque {
  return fromOklch({ okLightness, chroma: Math.hypot(a, b), hueDeg: ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360 });
}

/** Cubic through two neighbours on each side; near an end the middle of the two; at an end the point itself. */
function expectedAt(points: readonly Point[], at: number): Point {
  const own = points[at] ?? [0, 0, 0];
  const [before, after] = [points[at - 1], points[at + 1]];
  if (before === undefined || after === undefined) return own;
  const [far, beyond] = [points[at - 2], points[at + 2]];
  return combine((i) => {
    const [p, q] = [before[i] ?? 0, after[i] ?? 0];
    return far === undefined || beyond === undefined ? (p + q) / 2 : (4 * (p + q) - (far[i] ?? 0) - (beyond[i] ?? 0)) / 6;
  });
}

function combine(at: (i: number) => number): Point {
  return [at(0), at(1), at(2)];
}

/** Sum of squared second differences. */
function bends(points: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < points.length - 1; i += 1) {
    const [a, b, c] = [points[i - 1], points[i], points[i + 1]];
    if (a === undefined || b === undefined || c === undefined) continue;
    for (let axis = 0; axis < 3; axis += 1) sum += ((a[axis] ?? 0) - 2 * (b[axis] ?? 0) + (c[axis] ?? 0)) ** 2;
  }
  return sum;
}
