// Plots by the plotting library, each with the same numbers as a table. Series are told apart by line pattern and point shape too.
import * as Plot from '@observablehq/plot';
import type { JSX } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';

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

/** By place in the list; a ninth series starts over. */
const DASHES = ['', '7 3', '2 3', '10 3 2 3', '4 2', '1 4', '12 4', '6 2 1 2 1 2'] as const;
const SYMBOLS = ['circle', 'square', 'triangle', 'diamond', 'cross', 'star', 'wye', 'asterisk'] as const;
const ONLY = { dash: '', symbol: 'circle' } as const;

function lookOf(index: number): { readonly color: string; readonly dash: string; readonly symbol: (typeof SYMBOLS)[number] } {
  const at = index % SYMBOLS.length;
  return { color: `var(--plot-${at + 1})`, dash: DASHES[at] ?? ONLY.dash, symbol: SYMBOLS[at] ?? ONLY.symbol };
}

export function Lines(props: LinesProps): JSX.Element {
  const { title, series, xs, xName, yName, domain, heightPx = 240, bare = false } = props;
  const nameOf = props.nameOf ?? ((x: string): string => x);
  const textOf = props.textOf ?? ((y: number): string => y.toLocaleString('en'));
  const place = useRef<HTMLDivElement>(null);
  const width = useWidth(place);
  const marks = series.flatMap(({ points, name }, index) => {
    const { color, dash, symbol } = lookOf(index);
    const shown = points.filter((point) => point.y !== null);
    return [
      Plot.line(shown, { x: 'x', y: 'y', stroke: color, strokeWidth: 1.75, ...(dash === '' ? {} : { strokeDasharray: dash }) }),
      Plot.dot(shown, {
        x: 'x',
        y: 'y',
        symbol,
        stroke: color,
        fill: 'var(--ground-raised)',
        r: 3.5,
        title: (point: { x: string; y: number }) => `${name}, ${nameOf(point.x)}: ${textOf(point.y)}`,
      }),
      Plot.dot(
        shown.filter((point) => point.faulty === true),
        { x: 'x', y: 'y', symbol: 'circle', stroke: 'var(--level-error)', strokeWidth: 2, r: 8 },
      ),
    ];
  });
  const key = JSON.stringify([series, xs, width, domain, heightPx]);
  useLayoutEffect(() => {
    const target = place.current;
    if (target === null || width === 0) return undefined;
    // Names along the axis only as many as have room.
    const namePx = 14 + 6.5 * Math.max(...xs.map((x) => nameOf(x).length), 0);
    const every = Math.max(1, Math.ceil((xs.length * Math.max(70, namePx)) / width));
    const plot = Plot.plot({
      className: 'plot',
      width,
      height: heightPx,
      marginLeft: 48,
      marginRight: 16,
      marginBottom: 34,
      x: { type: 'point', domain: xs, ticks: xs.filter((_, index) => index % every === 0), tickFormat: nameOf, label: null },
      y: yAxis(series, yName, domain),
      marks,
    });
    plot.setAttribute('aria-hidden', 'true');
    target.replaceChildren(plot);
    return () => {
      plot.remove();
    };
  }, [key]);
  return (
    <figure class="plot-figure">
      <figcaption>{title}</figcaption>
      {!bare && <SeriesLegend names={series.map(({ name }) => name)} />}
      <div ref={place} class="plot-place" style={{ minHeight: `${heightPx}px` }} />
      {!bare && (
        <details>
          <summary>{title} as a table</summary>
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
        </details>
      )}
    </figure>
  );
}

/** Counts of which one is this many times another would lie flat on a plain axis. */
const WIDE = 30;

function yAxis(series: readonly Series[], label: string, domain: LinesProps['domain']): Plot.ScaleOptions {
  if (domain !== undefined) return { label, grid: true, ticks: 5, domain };
  const tops = series.map(({ points }) => Math.max(0, ...points.map(({ y }) => y ?? 0))).filter((top) => top > 0);
  const most = Math.max(0, ...tops);
  if (most < WIDE * Math.min(...tops)) return { label, grid: true, ticks: 5, zero: true, nice: true };
  const decades = Array.from({ length: Math.ceil(Math.log10(most)) + 1 }, (_, power) => 10 ** power);
  const tickFormat = (y: number): string => y.toLocaleString('en');
  return {
    label: `${label}, each line ten times the one below`,
    grid: true,
    type: 'symlog',
    domain: [0, most * 1.2],
    ticks: [0, ...decades],
    tickFormat,
  };
}

export function SeriesLegend({ names }: { readonly names: readonly string[] }): JSX.Element | null {
  if (names.length < 2) return null;
  return (
    <ul class="series">
      {names.map((name, index) => {
        const { color, dash, symbol } = lookOf(index);
        return (
          <li key={name}>
            <svg viewBox="0 0 34 12" width="34" height="12" aria-hidden="true">
              <path d="M1 6h32" fill="none" stroke={color} stroke-width="2" stroke-dasharray={dash} />
              <SymbolShape symbol={symbol} color={color} />
            </svg>
            {name}
          </li>
        );
      })}
    </ul>
  );
}

/** The library's point shapes, drawn small for the legend. */
function SymbolShape({ symbol, color }: { readonly symbol: (typeof SYMBOLS)[number]; readonly color: string }): JSX.Element {
  const line = { fill: 'var(--ground-raised)', stroke: color, 'stroke-width': 1.6 };
  switch (symbol) {
    case 'circle':
      return <circle cx="17" cy="6" r="3.5" {...line} />;
    case 'square':
      return <path d="M14 3h6v6h-6z" {...line} />;
    case 'triangle':
      return <path d="M17 2l4 7h-8z" {...line} />;
    case 'diamond':
      return <path d="M17 1.5l3.5 4.5-3.5 4.5-3.5-4.5z" {...line} />;
    case 'cross':
      return <path d="M15.6 2h2.8v2.6H21v2.8h-2.6V10h-2.8V7.4H13V4.6h2.6z" {...line} />;
    case 'star':
      return <path d="M17 1.5l1.3 3.1 3.4.3-2.6 2.2.8 3.3-2.9-1.8-2.9 1.8.8-3.3-2.6-2.2 3.4-.3z" {...line} />;
    case 'wye':
      return <path d="M15.7 6.7 13 5l1.3-2.3L17 4.3l2.7-1.6L21 5l-2.7 1.7V10h-2.6z" {...line} />;
    case 'asterisk':
      return <path d="M17 2v8M13.6 4l6.8 4M20.4 4l-6.8 4" {...line} />;
  }
}

export function useWidth(element: { readonly current: HTMLElement | null }): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const target = element.current;
    if (target === null) return undefined;
    const observer = new ResizeObserver(() => {
      setWidth(Math.floor(target.clientWidth));
    });
    observer.observe(target);
    return () => {
      observer.disconnect();
    };
  }, []);
  return width;
}
