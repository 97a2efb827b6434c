// Does a step keep to the course of its ramp? Measured in OKLab against a curve through its neighbours, after Ottosson's space (CSS Color 4 §9).
import type { Color } from '../colour/color.ts';
import { deltaEOk, fromOklch, toOklch } from '../colour/lightness.ts';
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

/** Twice the just noticeable difference (ΔE OK .02, CSS Color 4 §13.2): less may be taste. */
const LEAST_OFF = 0.04;
/** The bends of the ramp must fall at least this far when the step is put on its course; a fault makes nearly all of them (ours, on planted ramps). */
const LEAST_SMOOTHING = 0.5;
const SHORTEST_RAMP = 5;

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
  const before = bends(points);
  const gains = points.map((_, at) => before - bends(points.with(at, expectedAt(points, at))));
  const most = Math.max(...gains);
  return new Map(
    steps.map(({ step, color }, at) => {
      const expected = toColor(expectedAt(points, at));
      const off = deltaEOk(color, expected);
      const culprit = gains[at] === most && most >= LEAST_SMOOTHING * before && before > 0;
      return [step, { expected, off, odd: culprit && off >= LEAST_OFF }];
    }),
  );
}

/** From the neighbours on both sides: a cubic through four where there are four, else the middle of two; at the ends a straight line on. */
function expectedAt(points: readonly Vector[], at: number): Vector {
  const near = (offset: number): Vector | undefined => points[at + offset];
  const [b2, b1, a1, a2] = [near(-2), near(-1), near(1), near(2)];
  if (b2 !== undefined && b1 !== undefined && a1 !== undefined && a2 !== undefined) {
    return combine([b2, -1 / 6], [b1, 4 / 6], [a1, 4 / 6], [a2, -1 / 6]);
  }
  if (b1 !== undefined && a1 !== undefined) return combine([b1, 0.5], [a1, 0.5]);
  if (a1 !== undefined && a2 !== undefined) return combine([a1, 2], [a2, -1]);
  if (b1 !== undefined && b2 !== undefined) return combine([b1, 2], [b2, -1]);
  return points[at] ?? [0, 0, 0];
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
