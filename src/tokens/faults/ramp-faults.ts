// Faults inside one ramp: order of lightness, spacing, course, hue, gamut, twins, missing steps. Thresholds are ours unless a
// source is named; all are design opinions, not accessibility failures.
import { inSrgbGamut } from '../../colour/color.ts';
import { toCssText } from '../../colour/format-color.ts';
import { intoSrgb } from '../../colour/into-gamut.ts';
import { deltaE2000, deltaEOk } from '../../colour/lightness.ts';
import type { Ramp, TokenGraph } from '../graph.ts';
import { pathMatcher } from '../path-glob.ts';
import { hueDistance } from '../ramps.ts';
import type { OffCourse } from './ramp-course.ts';
import { LEAST_OFF, offCourse } from './ramp-course.ts';
import type { RampView, StepView } from './ramp-view.ts';
import { median, medianHue, rampViews } from './ramp-view.ts';
import type { FaultFacts } from './token-fault.ts';
import { withoutDesigns } from './ramp-designs.ts';
import { listed, mergeThemes, shown } from './token-fault.ts';

export interface RampOptions {
  /** Two steps closer than this in CIEDE2000 and … About 1 is just noticeable, 2 to 3 in casual viewing (from memory, common practice). */
  readonly twinDeltaE?: number;
  /** … than this in ΔE OK are twins; .02 is just noticeable (CSS Color 4, section 13.2). */
  readonly twinDeltaEOk?: number;
  /** Largest step of lightness, in medians of the ramp. */
  readonly spacingFactor?: number;
  /** OKLCH degrees off the median hue. */
  readonly hueDriftDeg?: number;
  /** Below this OKLCH chroma a hue says nothing. */
  readonly hueLeastChroma?: number;
  /** ΔE OK off the curve through the neighbours. */
  readonly courseDeltaEOk?: number;
  /** Ramp family (glob) → lightness L* of each step in order, where a team follows a stated curve. */
  readonly curves?: Readonly<Record<string, readonly number[]>>;
  /** L* by which a step may miss its stated curve. */
  readonly curveTolerance?: number;
}

export const RAMP_DEFAULTS = {
  twinDeltaE: 2,
  twinDeltaEOk: 0.02,
  spacingFactor: 2.5,
  hueDriftDeg: 15,
  hueLeastChroma: 0.03,
  courseDeltaEOk: LEAST_OFF,
  curves: {},
  curveTolerance: 2,
} as const satisfies Required<RampOptions>;

export function rampFaults(graph: TokenGraph, options: RampOptions = {}): readonly FaultFacts[] {
  const settings: Required<RampOptions> = { ...RAMP_DEFAULTS, ...options };
  const inThemes = rampViews(graph).flatMap((view) => {
    const colors = view.steps.map(({ color }) => color);
    const courses = offCourse(colors, settings.courseDeltaEOk);
    return [
      ...reversals(view, courses),
      ...spacing(view, settings),
      ...course(view, courses, settings),
      ...hueDrift(view, settings),
      ...gamut(view),
      ...twins(view, settings),
    ];
  });
  return [...mergeThemes(withoutDesigns(graph.ramps, inThemes)), ...graph.ramps.flatMap((ramp) => missingSteps(graph, ramp))];
}

/** Neighbours, in order. */
function pairs(steps: readonly StepView[]): readonly (readonly [StepView, StepView])[] {
  return steps.flatMap((step, i) => {
    const next = steps[i + 1];
    return next === undefined ? [] : [[step, next] as const];
  });
}

/** Lightness goes one way from the first step to the last. */
function reversals({ theme, steps }: RampView, courses: readonly OffCourse[]): readonly FaultFacts[] {
  const direction = Math.sign((steps.at(-1)?.lightness ?? 0) - (steps[0]?.lightness ?? 0));
  if (direction === 0) return [];
  const way = direction < 0 ? 'darker' : 'lighter';
  return pairs(steps).flatMap(([a, b], i): readonly FaultFacts[] => {
    const gain = (b.lightness - a.lightness) * direction;
    if (gain >= 0) return [];
    const named = courses.find(({ at }) => at === i || at === i + 1)?.at;
    const at = named ?? (culprit(steps, i, direction) === 'first' ? i : i + 1);
    const [odd, other] = at === i ? [a, b] : [b, a];
    return [
      {
        code: 'ramp-reversal',
        token: odd.path,
        others: [other.path],
        themes: [theme],
        measured: { from: a.lightness, to: b.lightness },
        expected: { direction: way },
        message: `${b.path} is ${direction < 0 ? 'lighter' : 'darker'} than ${a.path} (L* ${shown(b.lightness)} after ${shown(a.lightness)}), but the ramp gets ${way}; ${odd.path} is out of order.`,
      },
    ];
  });
}

/** Of the two neighbours at i and i + 1: the one without which the order around them is right, or else the one farther from where the others say. */
function culprit(steps: readonly StepView[], i: number, direction: number): 'first' | 'second' {
  const at = (index: number): number | undefined => {
    const step = steps[index];
    return step === undefined ? undefined : step.lightness * direction;
  };
  const [before, first, second, after] = [at(i - 1), at(i) ?? 0, at(i + 1) ?? 0, at(i + 2)];
  const fitsWithoutFirst = before === undefined || before <= second;
  const fitsWithoutSecond = after === undefined || first <= after;
  if (fitsWithoutFirst !== fitsWithoutSecond) return fitsWithoutFirst ? 'first' : 'second';
  // Each is measured against its outer neighbour and the other one; at an end, against the line through the next two.
  const wantedFirst = before === undefined ? 2 * second - (after ?? second) : (before + second) / 2;
  const wantedSecond = after === undefined ? 2 * first - (before ?? first) : (first + after) / 2;
  return Math.abs(first - wantedFirst) > Math.abs(second - wantedSecond) ? 'first' : 'second';
}

function spacing({ ramp, theme, steps }: RampView, settings: Required<RampOptions>): readonly FaultFacts[] {
  const curve = Object.entries(settings.curves).find(([glob]) => pathMatcher(glob)(ramp.family))?.[1];
  if (curve !== undefined) return steps.flatMap((step, i) => offCurve(step, curve[i], theme, settings.curveTolerance));
  const gaps = pairs(steps).map(([a, b]) => Math.abs(b.lightness - a.lightness));
  if (gaps.length < 3) return [];
  const middle = median(gaps);
  const limit = settings.spacingFactor * middle;
  const others = gaps.filter((gap) => gap <= limit);
  // Where many steps jump, there is no distance that is usual in this ramp.
  if ((gaps.length - others.length) * MOST_JUMPS_OF > gaps.length) return [];
  const usual = rangeOf(others);
  return pairs(steps).flatMap(([a, b], i): readonly FaultFacts[] => {
    const gap = gaps[i] ?? 0;
    if (gap <= limit) return [];
    return [
      {
        code: 'ramp-spacing',
        token: b.path,
        others: [a.path],
        themes: [theme],
        measured: { lightnessGap: gap },
        expected: { lightnessGapAtMost: limit, median: middle },
        message: `From ${a.path} to ${b.path} lightness jumps by ${shown(gap)}; the other neighbours in the ramp are ${usual} apart.`,
      },
    ];
  });
}

/** Ours: one jump in four is no slip any more. */
const MOST_JUMPS_OF = 4;

/** `about 4.1`, or `1.2 to 5` where they differ for people. */
function rangeOf(gaps: readonly number[]): string {
  const [least, most] = [shown(Math.min(...gaps)), shown(Math.max(...gaps))];
  return least === most ? `about ${least}` : `${least} to ${most}`;
}

function offCurve(step: StepView, wanted: number | undefined, theme: string, tolerance: number): readonly FaultFacts[] {
  if (wanted === undefined || Math.abs(step.lightness - wanted) <= tolerance) return [];
  return [
    {
      code: 'ramp-off-curve',
      token: step.path,
      others: [],
      themes: [theme],
      measured: { lightness: step.lightness },
      expected: { lightness: wanted, tolerance },
      message: `${step.path} has lightness ${shown(step.lightness)}; the stated curve says ${shown(wanted)}.`,
    },
  ];
}

function course({ theme, steps }: RampView, courses: readonly OffCourse[], settings: Required<RampOptions>): readonly FaultFacts[] {
  return courses.flatMap(({ at, expected, off }): readonly FaultFacts[] => {
    const step = steps[at];
    if (step === undefined) return [];
    const beside = [steps[at - 1], steps[at + 1]].filter((each) => each !== undefined);
    const neighbours = beside.map((each) => each.path);
    // The curve through neighbours may leave what a screen can paint though they do not.
    const wanted = toCssText(beside.every(({ color }) => inSrgbGamut(color)) ? intoSrgb(expected) : expected);
    return [
      {
        code: 'ramp-off-course',
        token: step.path,
        others: neighbours,
        themes: [theme],
        measured: { color: toCssText(step.color), deltaEOk: off },
        expected: { color: wanted, deltaEOkAtMost: settings.courseDeltaEOk },
        message: `${step.path} (${toCssText(step.color)}) leaves the course of its ramp; between ${listed(neighbours)} one would expect about ${wanted}.`,
      },
    ];
  });
}

function hueDrift({ ramp, theme, steps }: RampView, settings: Required<RampOptions>): readonly FaultFacts[] {
  const colourful = steps.filter(({ oklch }) => oklch.chroma >= settings.hueLeastChroma);
  const middle = medianHue(
    colourful.map(({ oklch }) => oklch.hueDeg),
    hueDistance,
  );
  if (middle === null || colourful.length < 3) return [];
  return colourful.flatMap((step): readonly FaultFacts[] => {
    const off = hueDistance(step.oklch.hueDeg, middle);
    if (off <= settings.hueDriftDeg) return [];
    return [
      {
        code: 'ramp-hue-drift',
        token: step.path,
        others: [],
        themes: [theme],
        measured: { hueOffDeg: off, hueDeg: step.oklch.hueDeg },
        expected: { hueOffDegAtMost: settings.hueDriftDeg, medianHueDeg: middle },
        message: `The hue of ${step.path} is ${shown(off)}° away from the middle hue of ${ramp.family}.`,
      },
    ];
  });
}

function gamut({ theme, steps }: RampView): readonly FaultFacts[] {
  return steps
    .filter(({ color }) => !inSrgbGamut(color))
    .map((step) => ({
      code: 'ramp-out-of-gamut',
      token: step.path,
      others: [],
      themes: [theme],
      measured: { color: toCssText(step.color) },
      expected: { gamut: 'sRGB' },
      message: `${step.path} (${toCssText(step.color)}) lies outside sRGB: ordinary screens show the nearest colour they can.`,
    }));
}

function twins({ theme, steps }: RampView, settings: Required<RampOptions>): readonly FaultFacts[] {
  return pairs(steps).flatMap(([a, b]): readonly FaultFacts[] => {
    const deltaE = deltaE2000(a.color, b.color);
    const deltaOk = deltaEOk(a.color, b.color);
    if (deltaE >= settings.twinDeltaE || deltaOk >= settings.twinDeltaEOk) return [];
    return [
      {
        code: 'ramp-twins',
        token: b.path,
        others: [a.path],
        themes: [theme],
        measured: { deltaE, deltaEOk: deltaOk },
        expected: { deltaEAtLeast: settings.twinDeltaE, deltaEOkAtLeast: settings.twinDeltaEOk },
        message: `${a.path} and ${b.path} can hardly be told apart (CIEDE2000 ${shown(deltaE)}).`,
      },
    ];
  });
}

function missingSteps(graph: TokenGraph, ramp: Ramp): readonly FaultFacts[] {
  const themesOf = (path: string): readonly string[] => graph.themes.filter((theme) => graph.colorOf(path, theme) !== null);
  const withRamp = new Set(ramp.steps.flatMap(themesOf));
  return ramp.steps.flatMap((path): readonly FaultFacts[] => {
    const has = themesOf(path);
    const lacks = [...withRamp].filter((theme) => !has.includes(theme));
    if (lacks.length === 0) return [];
    const others = ramp.steps.filter((step) => step !== path);
    return [
      {
        code: 'ramp-step-missing',
        token: path,
        others: [],
        themes: lacks,
        measured: { themes: has.join(', ') },
        expected: { themes: [...withRamp].join(', ') },
        message: `${path} exists in ${listed(has)} only; in ${listed(lacks)} ${ramp.family} has ${listed(others)} but not this step.`,
      },
    ];
  });
}
