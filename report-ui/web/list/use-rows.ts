// Rows of the list, asked for when they come into sight and kept as long as the question stays the same.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { ListRow } from '../../api/list.ts';
import { askOnce } from '../use-answer.ts';
import type { ListAsked } from './list-asked.ts';

/** @param from @param to part of the list that is in sight; `to` is exclusive @param version grows when the list was read anew */
export function useRows(run: string, asked: ListAsked, from: number, to: number, version: unknown): ReadonlyMap<number, ListRow> {
  const key = JSON.stringify([run, asked]);
  const kept = useRef<{ key: string; version: unknown; rows: Map<number, ListRow>; asking: boolean }>({
    key: '',
    version,
    rows: new Map(),
    asking: false,
  });
  const [, redraw] = useState(0);
  if (kept.current.key !== key || kept.current.version !== version) kept.current = { key, version, rows: new Map(), asking: false };
  const now = kept.current;
  useEffect(() => {
    if (now.asking) return;
    let missing = from;
    while (missing < to && now.rows.has(missing)) missing += 1;
    if (missing >= to) return;
    now.asking = true;
    askOnce('rows', { run }, { ...asked, from: String(missing) }).then(
      (answer) => {
        for (const [at, row] of answer.rows.entries()) now.rows.set(answer.from + at, row);
        now.asking = false;
        redraw((n) => n + 1);
      },
      () => {
        now.asking = false; // rows stay empty; scrolling asks again
      },
    );
  });
  return now.rows;
}
