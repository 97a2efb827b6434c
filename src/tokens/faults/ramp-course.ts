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

/** Longer rows of colours are no ramp that somebody chose by eye (ours); the work grows with the third power of the length. */
const LONGEST = 100;

/** Fewer steps have no course. */
const SHORTEST = 5;
/** Twice the just noticeable difference (ΔE OK .02, CSS Color 4, section 13.2): less may be taste. */
export const LEAST_OFF = 0.04;
/** Share of the ramp's bends that must go when the step is put on its course. Ours: a planted fault makes nearly all of them. */
const LEAST_SMOOTHING = 0.5;
/** More faulty steps than this share of a ramp leave no course to judge by. */
const MOST_FAULTY = 0.25;

/** In usual distances between steps. Ours: less than the spacing of a fault, since two such gaps lie side by side. */
const JUMP = 1.8;

type Point = readonly [l: number, a: number, b: number];

/** @param colors of one ramp in order */
export function offCourse(colors: readonly Opaque[], leastOff = LEAST_OFF): readonly OffCourse[] {
  if (colors.length < SHORTEST || colors.length > LONGEST) return [];
  const found: OffCourse[] = [];
  let points = colors.map(toPoint);
  for (let rounds = Math.max(1, Math.floor(colors.length * MOST_FAULTY)); rounds > 0; rounds -= 1) {
    const before = bends(points);
    const gains = points.map((_, at) => before - bends(points.with(at, expectedAt(points, at))));
    const at = gains.indexOf(Math.max(...gains));
    const color = colors[at];
    const expected = expectedAt(points, at);
    if (color === undefined || before === 0 || (gains[at] ?? 0) < LEAST_SMOOTHING * before) break;
    points = points.with(at, expected);
    // Beyond an end there is nothing to judge it by; it only must not be laid at its neighbour's door.
    if (at === 0 || at === colors.length - 1) continue;
    const off = deltaEOk(color, toColor(expected));
    // A neighbour of a faulty step looks faulty too; and at a jump in spacing either side does.
    if (off < leastOff || found.some((other) => Math.abs(other.at - at) <= 2) || isJump(points, at)) break;
    found.push({ at, expected: toColor(expected), off });
  }
  return found.sort((a, b) => a.at - b.at);
}

/** Even on its course the step is far from both neighbours: a step is missing there, rather than this one wrong. */
function isJump(points: readonly Point[], at: number): boolean {
  const gaps = points.slice(1).map((point, i) => distance(points[i] ?? point, point));
  const usual = gaps.toSorted((a, b) => a - b)[Math.floor(gaps.length / 2)] ?? 0;
  return Math.min(gaps[at - 1] ?? 0, gaps[at] ?? 0) > JUMP * usual;
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

function toPoint(color: Opaque): Point {
  const { okLightness, chroma, hueDeg } = toOklch(color);
  const hue = (hueDeg * Math.PI) / 180;
  return [okLightness, chroma * Math.cos(hue), chroma * Math.sin(hue)];
}

function toColor([okLightness, a, b]: Point): Opaque {
  return fromOklch({ okLightness, chroma: Math.hypot(a, b), hueDeg: ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360 });
}

/** Cubic through two neighbours on each side; near an end the middle of the two; at an end the straight line through the next two. */
function expectedAt(points: readonly Point[], at: number): Point {
  const [before, after] = [points[at - 1], points[at + 1]];
  const [far, beyond] = [points[at - 2], points[at + 2]];
  if (before !== undefined && after !== undefined) {
    return combine((i) => {
      const [p, q] = [before[i] ?? 0, after[i] ?? 0];
      return far === undefined || beyond === undefined ? (p + q) / 2 : (4 * (p + q) - (far[i] ?? 0) - (beyond[i] ?? 0)) / 6;
    });
  }
  const [near, next] = before === undefined ? [after, beyond] : [before, far];
  return combine((i) => 2 * (near?.[i] ?? 0) - (next?.[i] ?? 0));
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
