// Does a step keep to the course of its ramp? Measured in OKLab against a curve through its neighbours, after Ottosson's space (CSS Color 4 §9).
import type { Color } from '../../colour/color.ts';
import { deltaEOk, fromOklch, toOklch } from '../../colour/lightness.ts';
import { LEAST_OFF } from '../../tokens/faults/ramp-course.ts';
import type { TableIndex } from './table-index.ts';

export interface StepCourse {
  /** Where the neighbours say the step should be. */
  readonly expected: Color;
  /** ΔE OK from there. */
  readonly off: number;
  /** It leaves the course, and the course is smooth without it. */
  readonly odd: boolean;
}

export interface RampTrend {
  /** Null for what is no step, and for ramps too short to have a course. */
  courseOf(theme: number, step: number): StepCourse | null;
}

/** The bends of the ramp must fall at least this far when the step is put on its course; a fault makes nearly all of them (ours, on planted ramps). */
const LEAST_SMOOTHING = 0.5;
const SHORTEST_RAMP = 5;
/** With more wrong than this share of a ramp, and some, there is no course left to judge by (ours: three of eleven were told on planted ramps). */
const MOST_FAULTY = 0.28;

type Vector = readonly [l: number, a: number, b: number];

export function openRampTrend(index: TableIndex): RampTrend {
  const courses = new Map<string, ReadonlyMap<number, StepCourse>>();
  return {
    courseOf: (theme, step) => {
      const place = index.stepOf(step);
      if (place === null) return null;
      const key = `${theme} ${place.ramp}`;
      let course = courses.get(key);
      if (course === undefined) courses.set(key, (course = rampCourse(index, theme, place.ramp)));
      return course.get(step) ?? null;
    },
  };
}

function rampCourse(index: TableIndex, theme: number, ramp: number): ReadonlyMap<number, StepCourse> {
  const steps = index.stepsOf(ramp).flatMap((step) => {
    const color = index.colorOf(theme, step);
    return color === null ? [] : [{ step, color, at: toVector(color) }];
  });
  if (steps.length < SHORTEST_RAMP) return new Map();
  const points = steps.map(({ at }) => at);
  const culprits = culpritsOf(points);
  return new Map(
    steps.map(({ step, color }, at) => {
      // The others that are wrong bear no witness.
      const expected = toColor(expectedAt(points, at, culprits));
      const off = deltaEOk(color, expected);
      return [step, { expected, off, odd: culprits.includes(at) && off >= LEAST_OFF }];
    }),
  );
}

/** The fewest steps without which the ramp is smooth; none where nothing makes it so. */
function culpritsOf(points: readonly Vector[]): readonly number[] {
  const before = bends(points);
  const most = Math.max(1, Math.floor(points.length * MOST_FAULTY));
  let best: Smoothed = { without: [], bends: before };
  for (let count = 1; count <= most && best.bends > 0; count += 1) {
    // Nothing bears witness beyond an end: several are only looked for between them.
    const isInside = (at: number): boolean => at > 0 && at < points.length - 1;
    const more = smoothest(
      points,
      choices(points.length, count).filter((each) => count === 1 || each.every(isInside)),
    );
    const limit = (1 - LEAST_SMOOTHING) * Math.min(before, best.bends);
    // Each more must be wrong itself, and make the ramp smoother by as much again.
    const isClear =
      count === 1 || more.without.every((at) => distance(points[at], expectedAt(points, at, more.without)) >= LEAST_OFF);
    if (more.bends <= limit && isClear) best = more;
  }
  return best.without;
}

/** All ways to take so many of n, ascending. */
function choices(n: number, count: number, from = 0): readonly (readonly number[])[] {
  if (count === 0) return [[]];
  return Array.from({ length: Math.max(0, n - from) }, (_, at) => from + at).flatMap((first) =>
    choices(n, count - 1, first + 1).map((rest) => [first, ...rest]),
  );
}

/** What is left of the bends when these steps are put on their course. */
interface Smoothed {
  readonly without: readonly number[];
  readonly bends: number;
}

function smoothest(points: readonly Vector[], tried: readonly (readonly number[])[]): Smoothed {
  let best: Smoothed = { without: [], bends: Infinity };
  for (const without of tried) {
    const smooth = points.map((point, at) => (without.includes(at) ? expectedAt(points, at, without) : point));
    const left = bends(smooth);
    if (left < best.bends) best = { without, bends: left };
  }
  return best;
}

/** From the neighbours on both sides: a cubic through four where there are four, else a line through two; at the ends a straight line on. */
function expectedAt(points: readonly Vector[], at: number, without: readonly number[]): Vector {
  const known = points.map((_, place) => place).filter((place) => place !== at && !without.includes(place));
  const [before, after] = [known.filter((place) => place < at).slice(-2), known.filter((place) => place > at).slice(0, 2)];
  if (before.length === 2 && after.length === 2) return through(points, at, [...before, ...after]);
  if (before.length > 0 && after.length > 0) return through(points, at, [...before.slice(-1), ...after.slice(0, 1)]);
  return through(points, at, before.length > 0 ? before : after);
}

/** Lagrange’s polynomial through these points. */
function through(points: readonly Vector[], at: number, places: readonly number[]): Vector {
  const terms = places.map((place): readonly [Vector, number] => {
    const factor = places.reduce((product, other) => (other === place ? product : (product * (at - other)) / (place - other)), 1);
    return [points[place] ?? [0, 0, 0], factor];
  });
  return combine(...terms);
}

function distance(one: Vector | undefined, other: Vector): number {
  return one === undefined ? 0 : Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
}

/** Sum of the squared second differences. */
function bends(points: readonly Vector[]): number {
  let sum = 0;
  for (let at = 1; at + 1 < points.length; at += 1) {
    const [one, two, three] = [points[at - 1], points[at], points[at + 1]];
    if (one === undefined || two === undefined || three === undefined) continue;
    const bend = combine([one, 1], [two, -2], [three, 1]);
    sum += bend[0] ** 2 + bend[1] ** 2 + bend[2] ** 2;
  }
  return sum;
}

function combine(...parts: readonly (readonly [Vector, number])[]): Vector {
  const sum = (channel: 0 | 1 | 2): number => parts.reduce((total, [vector, factor]) => total + vector[channel] * factor, 0);
  return [sum(0), sum(1), sum(2)];
}

function toVector(color: Color): Vector {
  const { okLightness, chroma, hueDeg } = toOklch(color);
  const hue = (hueDeg * Math.PI) / 180;
  return [okLightness, chroma * Math.cos(hue), chroma * Math.sin(hue)];
}

function toColor([l, a, b]: Vector): Color {
  return fromOklch({ okLightness: l, chroma: Math.hypot(a, b), hueDeg: ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360 });
}
