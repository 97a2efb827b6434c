// Lightness, chroma and hue of the steps in one theme, to be moved: by dragging a point, or by arrow keys on it.
import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Polar } from '../../../src/forecast/steer-lightness.ts';
import type { LightnessBand } from '../../../src/forecast/weigh-proposal.ts';

export interface CurveStep {
  readonly token: string;
  readonly name: string;
  readonly before: Polar;
  readonly after: Polar;
}

interface CurvesProps {
  readonly theme: string;
  readonly steps: readonly CurveStep[];
  readonly chosen: string;
  readonly band: LightnessBand | null;
  readonly onChoose: (token: string) => void;
  /** @param isDone the hand let go */
  readonly onMove: (token: string, polar: Polar, isDone: boolean) => void;
}

const AXES = [
  { axis: 'lightness', title: 'Lightness, CIE L*', most: 100, step: 1, digits: 1 },
  { axis: 'chroma', title: 'Chroma, OKLCH', most: 0.34, step: 0.005, digits: 3 },
  { axis: 'hueDeg', title: 'Hue, OKLCH, degrees', most: 360, step: 1, digits: 0 },
] as const;

type Axis = (typeof AXES)[number];

/** Of the drawing, in its own units. */
const WIDTH = 360;
const HEIGHT = 200;
const EDGE = 14;

export function Curves(props: CurvesProps): JSX.Element {
  return (
    <div class="bench-curves">
      {AXES.map((axis) => (
        <Curve key={axis.axis} axis={axis} {...props} />
      ))}
    </div>
  );
}

function Curve({ axis, theme, steps, chosen, band, onChoose, onMove }: CurvesProps & { readonly axis: Axis }): JSX.Element {
  const drawing = useRef<SVGSVGElement>(null);
  const dragged = useRef<CurveStep | null>(null);
  const xAt = (place: number): number => EDGE + ((WIDTH - 2 * EDGE) * (place + 0.5)) / Math.max(1, steps.length);
  const yAt = (value: number): number => HEIGHT - EDGE - ((HEIGHT - 2 * EDGE) * Math.min(value, axis.most)) / axis.most;
  const line = (of: 'before' | 'after'): string => steps.map((step, at) => `${xAt(at)},${yAt(step[of][axis.axis])}`).join(' ');
  const moved = (step: CurveStep, value: number, isDone: boolean): void => {
    const within = Math.min(axis.most, Math.max(0, value));
    onMove(step.token, { ...step.after, [axis.axis]: within }, isDone);
  };
  const valueAt = (event: PointerEvent): number => {
    const box = drawing.current?.getBoundingClientRect();
    if (box === undefined) return 0;
    const y = ((event.clientY - box.top) / box.height) * HEIGHT;
    return ((HEIGHT - EDGE - y) / (HEIGHT - 2 * EDGE)) * axis.most;
  };
  const place = steps.findIndex(({ token }) => token === chosen);
  return (
    <figure class="bench-curve">
      <figcaption>{axis.title}</figcaption>
      <svg
        ref={drawing}
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="group"
        aria-label={`${axis.title} in ${theme}`}
        onPointerMove={(event) => {
          if (dragged.current !== null) moved(dragged.current, valueAt(event), false);
        }}
        onPointerUp={(event) => {
          if (dragged.current !== null) moved(dragged.current, valueAt(event), true);
          dragged.current = null;
        }}
      >
        <line class="bench-axis" x1={EDGE} x2={WIDTH - EDGE} y1={yAt(0)} y2={yAt(0)} />
        <line class="bench-axis" x1={EDGE} x2={WIDTH - EDGE} y1={yAt(axis.most)} y2={yAt(axis.most)} />
        {axis.axis === 'lightness' &&
          place >= 0 &&
          band?.theme === theme &&
          band.passes.map(([from, to]) => (
            <rect
              key={from}
              class="bench-band"
              x={xAt(place) - 10}
              width={20}
              y={yAt(to)}
              height={Math.max(3, yAt(from) - yAt(to))}
            />
          ))}
        <polyline class="bench-before" points={line('before')} />
        <polyline class="bench-after" points={line('after')} />
        {steps.map((step, at) => (
          <circle
            key={step.token}
            class={step.token === chosen ? 'bench-point bench-chosen' : 'bench-point'}
            cx={xAt(at)}
            cy={yAt(step.after[axis.axis])}
            r={step.token === chosen ? 8 : 6}
            role="slider"
            tabIndex={0}
            aria-label={`${step.name}, ${axis.title}`}
            aria-valuemin={0}
            aria-valuemax={axis.most}
            aria-valuenow={Number(step.after[axis.axis].toFixed(axis.digits))}
            onFocus={() => {
              onChoose(step.token);
            }}
            onPointerDown={(event) => {
              drawing.current?.setPointerCapture(event.pointerId);
              dragged.current = step;
              onChoose(step.token);
            }}
            onKeyDown={(event) => {
              const by = stepOf(event.key, axis.step);
              if (by === null) return;
              event.preventDefault();
              moved(step, step.after[axis.axis] + by, true);
            }}
          />
        ))}
      </svg>
    </figure>
  );
}

function stepOf(key: string, step: number): number | null {
  switch (key) {
    case 'ArrowUp':
    case 'ArrowRight':
      return step;
    case 'ArrowDown':
    case 'ArrowLeft':
      return -step;
    case 'PageUp':
      return 5 * step;
    case 'PageDown':
      return -5 * step;
    default:
      return null;
  }
}
