// One row of the list, by what a person recognises: a crop, the element's text, what was measured and needed, the cause.
import type { JSX } from 'preact';
import type { Grouping, ListRow } from '../../api/list.ts';
import { LevelMark, StatusMark } from '../parts/bits.tsx';
import { PlaceCrop } from '../parts/crop.tsx';
import { Sign, useCheck } from '../parts/glyph.tsx';
import { cropBox } from '../../api/crop.ts';
import { findingHref } from '../parts/finding-href.ts';
import { firstMeasure } from '../parts/first-measure.ts';
import { ROW_PX } from '../../api/list-layout.ts';

interface RowProps extends Shown {
  readonly index: number;
  readonly topPx: number;
  readonly total: number;
  readonly tabIndex: number;
  readonly onFocus: () => void;
}

interface Shown {
  /** Undefined until the server has answered. */
  readonly row: ListRow | undefined;
  readonly run: string;
  readonly cut: boolean;
  readonly grouped: Grouping;
}

/** Room for the crop, CSS px. */
const ROOM = { width: 184, height: 76 } as const;

/** One element from the first moment on: a row that is waited for may have the focus already, and keeps it. */
export function FindingRow({ index, topPx, total, tabIndex, onFocus, ...shown }: RowProps): JSX.Element {
  const { row, run } = shown;
  const link = row === undefined ? {} : { href: findingHref(run, row.finding), title: row.finding.message };
  return (
    <div
      role="listitem"
      class="findings-row"
      aria-posinset={index + 1}
      aria-setsize={total}
      style={{ transform: `translateY(${topPx}px)`, height: `${ROW_PX}px` }}
    >
      <a {...link} tabIndex={tabIndex} data-row={index} onFocus={onFocus}>
        {row === undefined ? <span class="findings-wait quiet">…</span> : <Contents {...shown} row={row} />}
      </a>
    </div>
  );
}

function Contents({ row, cut, grouped }: Shown & { readonly row: ListRow }): JSX.Element {
  const { finding, cause, shot } = row;
  const { check, level, page, theme, state, selector, message, status, owner } = finding;
  const { title } = useCheck(check);
  return (
    <>
      <span class="findings-crop" aria-hidden="true">
        {shot === null ? (
          <span class="quiet">{check === 'token-fault' ? 'token file' : 'no picture'}</span>
        ) : (
          <Fitted row={row} cut={cut} />
        )}
      </span>
      <span class="findings-main">
        <span class="findings-text">{quoted(message) ?? selector}</span>
        <span class="findings-line">
          <Sign check={check} /> {title} · {page} · {theme}
          {state !== '' && state !== 'rest' && ` · ${state}`}
        </span>
        <span class="findings-line quiet">
          {grouped !== 'cause' && cause !== null && <span>{cause} · </span>}
          {grouped !== 'owner' && owner !== undefined && <span>{owner} · </span>}
          <code>{selector}</code>
        </span>
      </span>
      <span class="findings-numbers">
        <span class="num">{firstMeasure(finding)}</span>
        <LevelMark level={level} />
        <StatusMark status={status} />
      </span>
    </>
  );
}

/** A crop as large as there is room for. */
function Fitted({ row, cut }: { readonly row: ListRow; readonly cut: boolean }): JSX.Element {
  const { width, height } = cropBox(row);
  const scale = Math.min(1, ROOM.width / width, ROOM.height / height);
  return (
    <span class="findings-fitted" style={{ transform: `scale(${scale})`, width: `${width}px`, height: `${height}px` }}>
      <PlaceCrop place={row} cut={cut} />
    </span>
  );
}

/** Messages about a text begin with it. */
function quoted(message: string): string | null {
  const text = /^“([^”]+)”/.exec(message)?.[1];
  return text === undefined ? null : `“${text}”`;
}
