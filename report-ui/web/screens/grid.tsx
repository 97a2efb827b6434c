// Pages × themes: how much is wrong, by depth of colour and by number. Rows out of sight are not in the document.
import type { JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Run } from '../../api/runs.ts';
import type { GridCell, GridRow } from '../../api/tonight.ts';
import { Choice } from '../parts/choice.tsx';
import { useVirtual } from '../parts/use-virtual.ts';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { askAll } from '../use-answer.ts';
import { countText, numberText } from '../words.ts';

const ROW_PX = 34;
const HEAD_PX = 38;

/** Depth 1–7 from a count; doubling about each step, so that both 2 and 200 can be told from their neighbours. */
const DEPTHS = [1, 3, 6, 12, 25, 60] as const;

export function depthOf([errors, warnings, notes]: GridCell): number {
  const weight = errors + warnings / 3 + notes / 9;
  if (weight === 0) return 0;
  const index = DEPTHS.findIndex((limit) => weight <= limit);
  return index < 0 ? DEPTHS.length + 1 : index + 1;
}

type Order = 'plan' | 'most' | 'new';
const ORDERS: readonly { readonly value: Order; readonly label: string }[] = [
  { value: 'plan', label: 'as planned' },
  { value: 'most', label: 'most findings first' },
  { value: 'new', label: 'most new first' },
];

function useGrid(run: string): { readonly rows: readonly GridRow[]; readonly complete: boolean; readonly error: string | null } {
  const [grid, setGrid] = useState<{
    readonly rows: readonly GridRow[];
    readonly complete: boolean;
    readonly error: string | null;
  }>({
    rows: [],
    complete: false,
    error: null,
  });
  useEffect(() => {
    let current = true;
    let rows: readonly GridRow[] = [];
    askAll('grid', { run }, {}, (answer) => {
      rows = [...rows, ...answer.rows];
      if (current) setGrid({ rows, complete: answer.next === null, error: null });
      return current ? answer.next : null;
    }).catch((error: unknown) => {
      if (current) setGrid({ rows, complete: true, error: error instanceof Error ? error.message : String(error) });
    });
    return () => {
      current = false;
    };
  }, [run]);
  return grid;
}

export function GridPart({ run, query }: { readonly run: Run; readonly query: Query }): JSX.Element {
  const { rows, complete, error } = useGrid(run.id);
  const wanted = query['find'] ?? '';
  const order = ORDERS.find(({ value }) => value === query['order'])?.value ?? 'plan';
  const shown = useMemo(() => arrange(rows, wanted, order), [rows, wanted, order]);
  return (
    <section class="grid-part" aria-labelledby="grid-title">
      <div class="grid-head">
        <h2 id="grid-title">Pages and themes</h2>
        <span class="choice">
          <label for="grid-find">Find</label>
          <input
            id="grid-find"
            type="search"
            value={wanted}
            placeholder="page or owner"
            onInput={(event) => {
              amend({ find: event.currentTarget.value });
            }}
          />
        </span>
        <Choice
          label="Order"
          value={order}
          options={ORDERS}
          onChange={(value) => {
            amend({ order: value === 'plan' ? undefined : value });
          }}
        />
        <Legend />
      </div>
      {error !== null && <p role="alert">{error}</p>}
      {complete && shown.length === 0 ? (
        <p class="quiet">No page matches.</p>
      ) : (
        <Grid rows={shown} themes={run.themes.map(({ name }) => name)} run={query['run']} />
      )}
    </section>
  );
}

function arrange(rows: readonly GridRow[], wanted: string, order: Order): readonly GridRow[] {
  const text = wanted.toLowerCase();
  const found = text === '' ? rows : rows.filter(({ page, owner = '' }) => `${page}\n${owner}`.toLowerCase().includes(text));
  if (order === 'plan') return found;
  const sum = (row: GridRow): number =>
    row.cells.reduce(
      (total, [errors, warnings, notes, fresh]) => total + (order === 'new' ? fresh : errors + warnings / 3 + notes / 9),
      0,
    );
  return [...found].sort((a, b) => sum(b) - sum(a));
}

function Legend(): JSX.Element {
  return (
    <p class="legend">
      <span aria-hidden="true" class="legend-steps">
        {[1, 2, 3, 4, 5, 6, 7].map((depth) => (
          <span key={depth} class={`legend-step depth-${depth}`} />
        ))}
      </span>
      deeper: more wrong. <b>7</b> errors, <span class="legend-light">+3</span> warnings and notes, <span class="tick">2</span> of
      them new
    </p>
  );
}

/** One tab stop; the arrow keys go from cell to cell. */
function Grid({
  rows,
  themes,
  run,
}: {
  readonly rows: readonly GridRow[];
  readonly themes: readonly string[];
  readonly run: string | undefined;
}): JSX.Element {
  const scroller = useRef<HTMLDivElement>(null);
  const { items, sizePx, show } = useVirtual(scroller, rows.length, ROW_PX, HEAD_PX);
  const [at, setAt] = useState({ row: 0, column: 0 });
  // The cell the keys are heading for until it has the focus: keys may come quicker than the page is drawn.
  const heading = useRef<{ readonly row: number; readonly column: number } | null>(null);
  const columns = themes.length + 1;

  useEffect(() => {
    if (heading.current === null) return;
    const { row, column } = heading.current;
    const cell = scroller.current?.querySelector<HTMLElement>(`[data-at='${row},${column}']`);
    if (cell === null || cell === undefined) return;
    cell.focus({ preventScroll: true });
    heading.current = null;
  });

  const move = (event: KeyboardEvent): void => {
    const step = {
      ArrowUp: [-1, 0],
      ArrowDown: [1, 0],
      ArrowLeft: [0, -1],
      ArrowRight: [0, 1],
      PageUp: [-10, 0],
      PageDown: [10, 0],
      Home: [-Infinity, 0],
      End: [Infinity, 0],
    }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    const from = heading.current ?? at;
    const row = clamp(from.row + (step[0] ?? 0), rows.length);
    const column = clamp(from.column + (step[1] ?? 0), columns);
    heading.current = { row, column };
    setAt({ row, column });
    show(row);
  };
  const cellProps = (
    row: number,
    column: number,
  ): { readonly tabIndex: number; readonly 'data-at': string; readonly onFocus: () => void } => ({
    tabIndex: row === clamp(at.row, rows.length) && column === at.column ? 0 : -1,
    'data-at': `${row},${column}`,
    onFocus: () => {
      if (heading.current === null) setAt({ row, column });
    },
  });

  return (
    <div class="grid" ref={scroller} style={{ maxHeight: `max(20rem, calc(100vh - 9rem))` }}>
      <div
        role="grid"
        aria-label="Findings by page and theme"
        aria-rowcount={rows.length + 1}
        aria-colcount={columns}
        onKeyDown={move}
        style={{ height: `${sizePx + HEAD_PX}px`, gridTemplateColumns: columnsOf(themes.length) }}
      >
        <div role="row" aria-rowindex={1} class="grid-row grid-names" style={{ gridTemplateColumns: columnsOf(themes.length) }}>
          <span role="columnheader">Page</span>
          {themes.map((theme) => (
            <span role="columnheader" key={theme} title={theme}>
              {theme}
            </span>
          ))}
        </div>
        {items.map(({ index, start }) => {
          const row = rows[index];
          if (row === undefined) return null;
          return (
            <div
              role="row"
              key={row.page}
              aria-rowindex={index + 2}
              class="grid-row"
              style={{ transform: `translateY(${start}px)`, height: `${ROW_PX}px`, gridTemplateColumns: columnsOf(themes.length) }}
            >
              <span role="rowheader" class="grid-page">
                <a {...cellProps(index, 0)} href={href('page', { run, page: row.page })} title={row.page}>
                  {row.page}
                </a>
                {row.owner !== undefined && <span class="grid-owner">{row.owner}</span>}
              </span>
              {row.cells.map((cell, column) => (
                <Cell
                  key={column}
                  cell={cell}
                  page={row.page}
                  theme={themes[column] ?? ''}
                  href={href('page', { run, page: row.page, theme: themes[column] })}
                  {...cellProps(index, column + 1)}
                />
              ))}
            </div>
          );
        })}
      </div>
    </div>
  );
}

function Cell({
  cell,
  page,
  theme,
  ...link
}: {
  readonly cell: GridCell;
  readonly page: string;
  readonly theme: string;
  readonly href: string;
  readonly tabIndex: number;
  readonly onFocus: () => void;
}): JSX.Element {
  const [errors, warnings, notes, fresh, captured, failed] = cell;
  const words = [
    `${page}, ${theme}:`,
    captured === 0 && failed === 0
      ? 'not rendered'
      : `${countText(errors, 'error')}, ${countText(warnings, 'warning')}, ${countText(notes, 'note')}`,
    fresh > 0 ? `, ${fresh} new` : '',
    failed > 0 ? `, ${countText(failed, 'view')} failed` : '',
  ].join(' ');
  const light = warnings + notes;
  return (
    <span role="gridcell" class="grid-cell">
      <a {...link} class={`depth-${depthOf(cell)}${failed > 0 ? ' cell-failed' : ''}`} aria-label={words} title={words}>
        {captured === 0 && failed === 0 ? (
          <span class="cell-none">–</span>
        ) : (
          <>
            {failed > 0 && <span class="cell-fail">failed {captured > 0 ? failed : ''}</span>}
            {errors > 0 && <b>{numberText(errors)}</b>}
            {light > 0 && <span class="cell-light">+{numberText(light)}</span>}
            {errors + light === 0 && failed === 0 && <span class="cell-clean">·</span>}
            {fresh > 0 && <span class="tick">{numberText(fresh)}</span>}
          </>
        )}
      </a>
    </span>
  );
}

function columnsOf(themes: number): string {
  return `minmax(12rem, 1.6fr) repeat(${themes}, minmax(6.5rem, 1fr))`;
}

function clamp(value: number, count: number): number {
  return Math.max(0, Math.min(count - 1, value));
}
