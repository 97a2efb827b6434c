// Groups and rows of the list, of which those in sight are in the document. One tab stop; arrows, Page and Home/End go from row to row,
// Left and Right fold and unfold the group, Enter opens the finding on its page.
import type { JSX } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { List, ListGroup } from '../../api/list.ts';
import type { Run, Session } from '../../api/runs.ts';
import { Fresh } from '../parts/bits.tsx';
import { href } from '../route.ts';
import { numberText } from '../words.ts';
import { FindingRow } from './finding-row.tsx';
import { HEAD_PX, ROW_PX, blockAt, blocksOf, heightOf, inSight, rowFrom, rowTop } from '../../api/list-layout.ts';
import type { Block } from '../../api/list-layout.ts';
import type { ListAsked } from './list-asked.ts';
import { useRows } from './use-rows.ts';

interface BodyProps {
  readonly session: Session;
  readonly run: Run;
  readonly asked: ListAsked;
  readonly list: List;
}

export function ListBody({ session, run, asked, list }: BodyProps): JSX.Element {
  const scroller = useRef<HTMLDivElement>(null);
  const [seen, setSeen] = useState({ top: 0, height: 800 });
  const [folded, setFolded] = useState<ReadonlySet<string>>(new Set());
  const [at, setAt] = useState(0);
  const heading = useRef<number | null>(null);
  const question = JSON.stringify(asked);
  const blocks = useMemo(() => blocksOf(list.groups, folded), [list, folded]);
  const { heads, rows } = inSight(blocks, seen.top, seen.height);
  const kept = useRows(run.id, asked, rows[0]?.index ?? 0, (rows.at(-1)?.index ?? -1) + 1, list);

  useLayoutEffect(() => {
    const target = scroller.current;
    if (target === null) return undefined;
    const look = (): void => {
      setSeen({ top: target.scrollTop, height: target.clientHeight });
    };
    const observer = new ResizeObserver(look);
    observer.observe(target);
    target.addEventListener('scroll', look, { passive: true });
    return () => {
      observer.disconnect();
      target.removeEventListener('scroll', look);
    };
  }, []);
  useEffect(() => {
    setAt(0);
    scroller.current?.scrollTo({ top: 0 });
  }, [question]);
  useLayoutEffect(() => {
    if (heading.current === null) return;
    const row = scroller.current?.querySelector<HTMLElement>(`[data-row='${String(heading.current)}']`);
    if (row === null || row === undefined) return;
    row.focus({ preventScroll: true });
    heading.current = null;
  });

  const goTo = (index: number): void => {
    const target = scroller.current;
    if (index < 0 || target === null) return;
    heading.current = index;
    setAt(index);
    // The row that has the focus may leave the document before the next one is there: keys are heard meanwhile.
    if (target.querySelector(`[data-row='${String(index)}']`) === null) target.focus({ preventScroll: true });
    const top = rowTop(blocks, index);
    if (top - HEAD_PX < target.scrollTop) target.scrollTop = top - HEAD_PX;
    else if (top + ROW_PX > target.scrollTop + target.clientHeight) target.scrollTop = top + ROW_PX - target.clientHeight;
  };
  const fold = (block: Block, isFolded: boolean): void => {
    const key = list.groups[block.group]?.key;
    if (key === undefined) return;
    const next = new Set(folded);
    if (isFolded) next.add(key);
    else next.delete(key);
    setFolded(next);
  };
  const press = (event: KeyboardEvent): void => {
    const page = Math.max(1, Math.floor(seen.height / ROW_PX) - 1);
    const by = { ArrowDown: 1, ArrowUp: -1, PageDown: page, PageUp: -page, Home: -list.total, End: list.total }[event.key];
    const onRow =
      event.target instanceof Element && (event.target === scroller.current || event.target.closest('[data-row]') !== null);
    if (by !== undefined && onRow) {
      event.preventDefault();
      goTo(rowFrom(blocks, heading.current ?? at, by));
      return;
    }
    const block = blockAt(blocks, at);
    if (event.key === 'ArrowLeft' && onRow && block !== undefined) {
      fold(block, true);
      scroller.current?.querySelector<HTMLElement>(`[data-group='${String(block.group)}']`)?.focus();
    }
  };
  const cut = list.groupsTotal - list.groups.length;
  return (
    <div class="findings" ref={scroller} tabIndex={-1} onKeyDown={press}>
      <div role="list" aria-label="Findings" style={{ height: `${heightOf(blocks) + (cut > 0 ? HEAD_PX : 0)}px` }}>
        {heads.map((block) => {
          const group = list.groups[block.group];
          return (
            group !== undefined && (
              <GroupHead key={`g${group.key}`} run={run} asked={asked} group={group} block={block} onFold={fold} />
            )
          );
        })}
        {rows.map(({ index, topPx }) => (
          <FindingRow
            key={index}
            index={index}
            topPx={topPx}
            total={list.total}
            tabIndex={index === at ? 0 : -1}
            row={kept.get(index)}
            run={run.id}
            cut={session.sharp}
            grouped={asked.group ?? 'cause'}
            onFocus={() => {
              if (heading.current === null) setAt(index);
            }}
          />
        ))}
        {cut > 0 && (
          <p class="findings-cut" style={{ transform: `translateY(${heightOf(blocks)}px)` }}>
            {numberText(cut)} smaller groups are not listed here; narrow the list or group it otherwise.
          </p>
        )}
      </div>
    </div>
  );
}

interface HeadProps {
  readonly run: Run;
  readonly asked: ListAsked;
  readonly group: ListGroup;
  readonly block: Block;
  readonly onFold: (block: Block, folded: boolean) => void;
}

function GroupHead({ run, asked, group, block, onFold }: HeadProps): JSX.Element {
  const { key, title, count, fresh, errors } = group;
  const sheet = sheetOf(run.id, asked, key);
  return (
    <div role="listitem" class="findings-head" style={{ transform: `translateY(${block.topPx}px)`, height: `${HEAD_PX}px` }}>
      <button
        type="button"
        class="button button-quiet"
        data-group={block.group}
        aria-expanded={!block.folded}
        aria-label={`${block.folded ? 'Unfold' : 'Fold'} ${title}`}
        onClick={() => {
          onFold(block, !block.folded);
        }}
      >
        {block.folded ? '▸' : '▾'}
      </button>
      <h2>{sheet === null ? title : <a href={sheet}>{title}</a>}</h2>
      <span class="findings-count">
        <b class="num">{numberText(count)}</b>
        {errors > 0 && errors < count && <span class="quiet num">{numberText(errors)} errors</span>}
        <Fresh count={fresh} />
      </span>
    </div>
  );
}

/** Where a group has a sheet of its own. */
function sheetOf(run: string, asked: ListAsked, key: string): string | null {
  if (key === '-' || key === '') return null;
  switch (asked.group ?? 'cause') {
    case 'cause':
      return href('causes', { run, cause: key });
    case 'page':
      return key.startsWith('(') ? null : href('page', { run, page: key, theme: asked.theme });
    case 'token':
      return href('token', { run, token: key });
    default:
      return null;
  }
}
