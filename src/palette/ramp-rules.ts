// A ramp stays a ramp: inequalities on the lightness of its steps, linear near where they are now. They allow what is there already and
// nothing worse; the token checks (src/tokens/faults/ramp-faults.ts) judge the outcome once more.
import { isOpaque } from '../colour/color.ts';
import type { TableIndex } from '../triage/tokens/table-index.ts';
import { median } from '../triage/counting.ts';
import type { Assignment } from './assignment.ts';
import { lightnessOfLog, logLuminance } from './log-luminance.ts';
import type { Movable } from './movable.ts';

export interface RampRule {
  /** What would be broken, for people: `silt.300 and silt.400 in dusk`. */
  readonly name: string;
  /** Places in the list of steps, with what each logarithm counts for. */
  readonly terms: readonly { readonly step: number; readonly factor: number }[];
  readonly lower: number;
  readonly upper: number;
}

/** A gap may shrink to this share of the ramp's usual one … (ours: half a step is still told apart). */
const LEAST_GAP = 0.5;
/** … and grow to this multiple; the check of spacing speaks from 2.5 (src/tokens/faults/ramp-faults.ts). */
const MOST_GAP = 2.2;
/** L* by which a step may leave the middle of its neighbours; 4 L* is about the ΔE OK .04 of the check of courses. */
const MOST_BEND = 3;

interface Point {
  readonly step: number;
  readonly path: string;
  /** L* in the files, and now. */
  readonly before: number;
  readonly log: number;
  readonly lightness: number;
  /** L* per unit of the logarithm, here. */
  readonly slope: number;
}

export function rampRules(of: {
  readonly index: TableIndex;
  readonly movable: Movable;
  readonly assignment: Assignment;
}): readonly RampRule[] {
  const { index } = of;
  const rules = new Map<string, RampRule>();
  index.table.ramps.forEach((_, ramp) => {
    index.table.themes.forEach(({ name }, theme) => {
      const points = pointsOf(of, ramp, theme);
      if (points.length < 2) return;
      for (const rule of [...gaps(points, name), ...bends(points, name)]) {
        // One declaration governs several themes: the same rule once.
        const key = rule.terms.map(({ step, factor }) => `${step} ${factor.toFixed(4)}`).join('|');
        if (!rules.has(key)) rules.set(key, rule);
      }
    });
  });
  return [...rules.values()];
}

function pointsOf(
  { index, movable, assignment }: { readonly index: TableIndex; readonly movable: Movable; readonly assignment: Assignment },
  ramp: number,
  theme: number,
): readonly Point[] {
  return index.stepsOf(ramp).flatMap((token): Point[] => {
    const step = movable.stepAt(theme, token);
    const declaration = movable.steps[step];
    if (declaration === undefined || !isOpaque(declaration.start)) return [];
    const log = logLuminance(assignment.steps.get(step) ?? declaration.start);
    const before = lightnessOfLog(logLuminance(declaration.start));
    const lightness = lightnessOfLog(log);
    return [{ step, path: index.pathOf(token), before, log, lightness, slope: slopeAt(log) }];
  });
}

/** L* gained per unit of the logarithm, by a central difference. */
function slopeAt(log: number): number {
  const h = 1e-4;
  return (lightnessOfLog(log + h) - lightnessOfLog(log - h)) / (2 * h);
}

function gaps(points: readonly Point[], theme: string): readonly RampRule[] {
  const way = Math.sign((points.at(-1)?.before ?? 0) - (points[0]?.before ?? 0)) || 1;
  const before = neighbours(points).map(([a, b]) => (b.before - a.before) * way);
  const usual = median(before.map(Math.abs));
  return neighbours(points).map(([a, b], i): RampRule => {
    const own = before[i] ?? 0;
    return linear(
      `${a.path} and ${b.path} in ${theme}`,
      [
        { point: a, factor: -way },
        { point: b, factor: way },
      ],
      { lower: Math.min(own, LEAST_GAP * usual), upper: Math.max(own, MOST_GAP * usual) },
    );
  });
}

function bends(points: readonly Point[], theme: string): readonly RampRule[] {
  return points.flatMap((point, i): RampRule[] => {
    const [left, right] = [points[i - 1], points[i + 1]];
    if (left === undefined || right === undefined) return [];
    const own = Math.abs(point.before - (left.before + right.before) / 2);
    const most = Math.max(own, MOST_BEND);
    return [
      linear(
        `the course of ${point.path} in ${theme}`,
        [
          { point: left, factor: -0.5 },
          { point, factor: 1 },
          { point: right, factor: -0.5 },
        ],
        { lower: -most, upper: most },
      ),
    ];
  });
}

/** Σ factor · L*(step), with L* by its tangent here. */
function linear(
  name: string,
  parts: readonly { readonly point: Point; readonly factor: number }[],
  bounds: { readonly lower: number; readonly upper: number },
): RampRule {
  const constant = parts.reduce((sum, { point, factor }) => sum + factor * (point.lightness - point.slope * point.log), 0);
  return {
    name,
    terms: parts.map(({ point, factor }) => ({ step: point.step, factor: factor * point.slope })),
    lower: bounds.lower - constant,
    upper: bounds.upper - constant,
  };
}

function neighbours(points: readonly Point[]): readonly (readonly [Point, Point])[] {
  return points.flatMap((point, i) => {
    const next = points[i + 1];
    return next === undefined ? [] : [[point, next] as const];
  });
}
