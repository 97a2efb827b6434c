// Pages × themes: how much is wrong, by the length of a waterline and by number. Rows out of sight are not in the document.
import type { JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Run } from '../../api/runs.ts';
import type { GridCell, GridRow } from '../../api/tonight.ts';
import { Failed } from '../parts/bits.tsx';
import { Choice } from '../parts/choice.tsx';
import { useVirtual } from '../parts/use-virtual.ts';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { useList } from '../use-answer.ts';
import { countText, numberText } from '../words.ts';

const ROW_PX = 34;
const HEAD_PX = 38;

/** How much is wrong, in errors: a warning weighs a third of one, a note a ninth. */
function weightOf([errors, warnings, notes]: GridCell): number {
  return errors + warnings / 3 + notes / 9;
}

/** Length of a cell's waterline, 0–1, by the logarithm: 2 and 200 can both be told from their neighbours. @param most of the whole grid */
export function waterline(cell: GridCell, most: number): number {
  const weight = weightOf(cell);
  return weight === 0 ? 0 : Math.max(0.06, Math.log1p(weight) / Math.log1p(Math.max(most, 1)));
}

type Order = 'plan' | 'most' | 'new';
const ORDERS: readonly { readonly value: Order; readonly label: string }[] = [
  { value: 'plan', label: 'as planned' },
  { value: 'most', label: 'most findings first' },
  { value: 'new', label: 'most new first' },
];

export function GridPart({ run, query }: { readonly run: Run; readonly query: Query }): JSX.Element {
  const {
    items: rows,
    complete,
    error,
  } = useList('grid', { run: run.id }, {}, (answer) => ({ items: answer.rows, next: answer.next }));
  const wanted = query['find'] ?? '';
  const order = ORDERS.find(({ value }) => value === query['order'])?.value ?? 'plan';
  const most = useMemo(() => Math.max(1, ...rows.flatMap(({ cells }) => cells.map(weightOf))), [rows]);
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
        <Legend most={most} />
      </div>
      {error !== null && <Failed error={error} what="the pages" />}
      {complete && shown.length === 0 ? (
        <p class="quiet">No page matches.</p>
      ) : (
        <Grid rows={shown} themes={run.themes.map(({ name }) => name)} run={run.id} most={most} />
      )}
    </section>
  );
}

function arrange(rows: readonly GridRow[], wanted: string, order: Order): readonly GridRow[] {
  const text = wanted.toLowerCase();
  const found = text === '' ? rows : rows.filter(({ page, owner = '' }) => `${page}\n${owner}`.toLowerCase().includes(text));
  if (order === 'plan') return found;
  const sum = (row: GridRow): number => row.cells.reduce((total, cell) => total + (order === 'new' ? cell[3] : weightOf(cell)), 0);
  return [...found].sort((a, b) => sum(b) - sum(a));
}

function Legend({ most }: { readonly most: number }): JSX.Element {
  const steps = [1, Math.round(Math.sqrt(most)), Math.round(most)].filter((step, index, all) => all.indexOf(step) === index);
  return (
    <p class="legend">
      {steps.map((step) => (
        <span key={step} class="legend-step">
          <Waterline cell={[step, 0, 0, 0, 1, 0]} most={most} />
          {numberText(step)}
        </span>
      ))}
      <span>
        longer: more wrong. <b>7</b> errors, +3 warnings and notes, <span class="tick">2</span> of them new; exempt ones are left
        out
      </span>
    </p>
  );
}

/** Errors firm, the rest pale; one element, since a grid has thousands. */
function Waterline({ cell, most }: { readonly cell: GridCell; readonly most: number }): JSX.Element {
  const length = waterline(cell, most);
  const firm = length === 0 ? 0 : (length * cell[0]) / weightOf(cell);
  return <span class="waterline" aria-hidden="true" style={{ '--firm': `${100 * firm}%`, '--all': `${100 * length}%` }} />;
}

/** One tab stop; the arrow keys go from cell to cell. */
function Grid({
  rows,
  themes,
  run,
  most,
}: {
  readonly rows: readonly GridRow[];
  readonly themes: readonly string[];
  readonly run: string;
  readonly most: number;
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
        style={{ height: `${sizePx + HEAD_PX}px`, minWidth: `calc(clamp(8rem, 26vw, 22rem) + ${themes.length} * 6.5rem)` }}
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
                  most={most}
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
  most,
  page,
  theme,
  ...link
}: {
  readonly cell: GridCell;
  readonly most: number;
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
      <a {...link} class={failed > 0 ? 'cell-failed' : ''} aria-label={words} title={words}>
        {captured === 0 && failed === 0 ? (
          <span class="cell-none">–</span>
        ) : (
          <>
            {failed > 0 && <span class="cell-fail">failed {captured > 0 ? failed : ''}</span>}
            {errors > 0 && <b>{numberText(errors)}</b>}
            {light > 0 && <span class="cell-light">+{numberText(light)}</span>}
            {errors + light === 0 && failed === 0 && <span class="cell-clean">·</span>}
            {fresh > 0 && <span class="tick">{numberText(fresh)}</span>}
            {errors + light > 0 && <Waterline cell={cell} most={most} />}
          </>
        )}
      </a>
    </span>
  );
}

function columnsOf(themes: number): string {
  // No name may push the themes out of sight: the first column has a width of its own, whatever stands in it.
  return `clamp(8rem, 26vw, 22rem) repeat(${themes}, minmax(6.5rem, 1fr))`;
}

function clamp(value: number, count: number): number {
  return Math.max(0, Math.min(count - 1, value));
}
