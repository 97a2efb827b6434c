// Line plots, drawn here, each with the same numbers as a table. Lines are told apart by colour, pattern and the shape of their points.
import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import { axisFor } from './plot-scale.ts';
import { useWidth } from './use-width.ts';

export interface Series {
  readonly name: string;
  readonly points: readonly { readonly x: string; readonly y: number | null; readonly faulty?: boolean }[];
}

interface LinesProps {
  readonly title: string;
  readonly series: readonly Series[];
  /** All positions along the axis, in order, and how they are called. */
  readonly xs: readonly string[];
  readonly xName: string;
  readonly nameOf?: (x: string) => string;
  readonly yName: string;
  readonly textOf?: (y: number) => string;
  readonly domain?: readonly [number, number];
  readonly heightPx?: number;
  /** Legend and table stand elsewhere, once for several plots. */
  readonly bare?: boolean;
}

const DASHES = ['', '7 3', '2 3', '10 3 2 3', '4 2', '1 4', '12 4', '6 2 1 2 1 2'] as const;
/** Shapes in a box of 8 × 8 around 0, 0. */
const SHAPES = [
  null,
  'M-3-3h6v6h-6z',
  'M0-4 4 3.4h-8z',
  'M0-4.5 3.5 0 0 4.5-3.5 0z',
  'M-1.4-4h2.8v2.6H4v2.8H1.4V4h-2.8V1.4H-4v-2.8h2.6z',
  'M0-4.5l1.3 3.1 3.4.3-2.6 2.2.8 3.3L0 2.6-2.9 4.4l.8-3.3-2.6-2.2 3.4-.3z',
  'M-4-2.4 0-.6l4-1.8v3L0 3.2l-4-2.6z',
  'M0-4v8M-3.4-2l6.8 4M3.4-2l-6.8 4',
] as const;

interface Look {
  readonly color: string;
  readonly dash: string;
  readonly shape: string | null;
}

/** By place in the list. From the ninth on colours come again with other patterns and shapes. */
function lookOf(index: number): Look {
  const at = index % SHAPES.length;
  const other = (index + 3 * Math.floor(index / SHAPES.length)) % SHAPES.length;
  return { color: `var(--plot-${at + 1})`, dash: DASHES[other] ?? '', shape: SHAPES[other] ?? null };
}

const RIGHT = 16;
const TOP = 26;
const BOTTOM = 28;
/** Width of a digit of the plot's text, px; measured in the face used, 12 px. */
const DIGIT = 7.2;

export function Lines(props: LinesProps): JSX.Element {
  const { title, series, heightPx = 240, bare = false } = props;
  const place = useRef<HTMLDivElement>(null);
  const width = useWidth(place);
  return (
    <figure class="plot-figure">
      <figcaption>{title}</figcaption>
      {!bare && <SeriesLegend names={series.map(({ name }) => name)} />}
      <div ref={place} class="plot-place" style={{ minHeight: `${heightPx}px` }}>
        {width > 0 && <Drawn {...props} width={width} heightPx={heightPx} />}
      </div>
      {!bare && <Numbers {...props} />}
    </figure>
  );
}

function Drawn(props: LinesProps & { readonly width: number; readonly heightPx: number }): JSX.Element {
  const { series, xs, yName, width, heightPx } = props;
  const nameOf = props.nameOf ?? ((x: string): string => x);
  const textOf = props.textOf ?? ((y: number): string => y.toLocaleString('en'));
  const axis = axisFor(
    series.map(({ points }) => Math.max(0, ...points.map(({ y }) => y ?? 0))),
    props.domain,
  );
  const labels = axis.ticks.map((tick) => tick.toLocaleString('en', { maximumFractionDigits: 4 }));
  const left = 12 + DIGIT * Math.max(...labels.map(({ length }) => length));
  const yOf = (y: number): number => heightPx - BOTTOM - axis.at(y) * (heightPx - TOP - BOTTOM);
  const room = width - left - RIGHT;
  const at = new Map(xs.map((x, index) => [x, left + (xs.length === 1 ? room / 2 : (room * index) / (xs.length - 1))]));
  // Names along the axis only as many as have room.
  const namePx = 14 + 6.5 * Math.max(...xs.map((x) => nameOf(x).length), 0);
  const every = Math.max(1, Math.ceil((xs.length * Math.max(70, namePx)) / width));
  return (
    <svg width={width} height={heightPx} viewBox={`0 0 ${width} ${heightPx}`} aria-hidden="true">
      <text x={2} y={12} class="plot-name">
        {yName}
        {axis.note}
      </text>
      {axis.ticks.map((tick, index) => (
        <g key={tick}>
          <path class="plot-line" d={`M${left} ${yOf(tick)}H${width - RIGHT}`} />
          <text x={left - 6} y={yOf(tick) + 4} text-anchor="end" class="plot-tick">
            {labels[index]}
          </text>
        </g>
      ))}
      {xs.map(
        (x, index) =>
          index % every === 0 && (
            <text key={x} x={at.get(x)} y={heightPx - 8} text-anchor={anchorOf(at.get(x) ?? 0, namePx, width)}>
              {nameOf(x)}
            </text>
          ),
      )}
      {series.map(({ name, points }, index) => (
        <SeriesLine
          key={name}
          look={lookOf(index)}
          points={points.flatMap(({ x, y, faulty }) =>
            y === null
              ? []
              : [{ x: at.get(x) ?? 0, y: yOf(y), faulty: faulty === true, title: `${name}, ${nameOf(x)}: ${textOf(y)}` }],
          )}
        />
      ))}
    </svg>
  );
}

/** A name at an end stays inside. */
function anchorOf(x: number, namePx: number, width: number): 'start' | 'middle' | 'end' {
  if (x - namePx / 2 < 0) return 'start';
  return x + namePx / 2 > width ? 'end' : 'middle';
}

interface Point {
  readonly x: number;
  readonly y: number;
  readonly faulty: boolean;
  readonly title: string;
}

function SeriesLine({ look, points }: { readonly look: Look; readonly points: readonly Point[] }): JSX.Element {
  return (
    <g>
      <path
        d={points.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('')}
        fill="none"
        stroke={look.color}
        stroke-width="1.75"
        stroke-dasharray={look.dash}
      />
      {points.map(({ x, y, faulty, title }) => (
        <g key={x} transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}>
          <PointShape look={look} title={title} />
          {faulty && <path class="plot-ring" d="M-8-8h16v16h-16z" />}
        </g>
      ))}
    </g>
  );
}

function PointShape({ look: { shape, color }, title }: { readonly look: Look; readonly title?: string }): JSX.Element {
  const line = { fill: 'var(--ground-raised)', stroke: color, 'stroke-width': 1.6 };
  const told = title === undefined ? null : <title>{title}</title>;
  return shape === null ? (
    <circle r="3.5" {...line}>
      {told}
    </circle>
  ) : (
    <path d={shape} {...line}>
      {told}
    </path>
  );
}

function Numbers({ title, xName, series, xs, ...rest }: LinesProps): JSX.Element {
  const nameOf = rest.nameOf ?? ((x: string): string => x);
  const textOf = rest.textOf ?? ((y: number): string => y.toLocaleString('en'));
  return (
    <details>
      <summary>{title} as a table</summary>
      <div class="scroll-x" tabIndex={0} role="group" aria-label={`${title} as a table`}>
        <table class="table">
          <thead>
            <tr>
              <th scope="col">{xName}</th>
              {series.map(({ name }) => (
                <th scope="col" class="num" key={name}>
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {xs.map((x) => (
              <tr key={x}>
                <th scope="row">{nameOf(x)}</th>
                {series.map(({ name, points }) => {
                  const y = points.find((point) => point.x === x)?.y ?? null;
                  return (
                    <td class="num" key={name}>
                      {y === null ? '–' : textOf(y)}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

export function SeriesLegend({ names }: { readonly names: readonly string[] }): JSX.Element | null {
  if (names.length < 2) return null;
  return (
    <ul class="series">
      {names.map((name, index) => {
        const look = lookOf(index);
        return (
          <li key={name}>
            <svg viewBox="0 0 34 12" width="34" height="12" aria-hidden="true">
              <path d="M1 6h32" fill="none" stroke={look.color} stroke-width="2" stroke-dasharray={look.dash} />
              <g transform="translate(17 6)">
                <PointShape look={look} />
              </g>
            </svg>
            {name}
          </li>
        );
      })}
    </ul>
  );
}
