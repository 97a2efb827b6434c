// The bench's worker as a hook: opened with a run's cases, asked one thing at a time; what is overtaken is never asked.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import type { LightnessBand, Weighed } from '../../../src/forecast/weigh-proposal.ts';
import type { ViewRef } from '../../../src/samples/view.ts';
import type { TokenTable } from '../../../src/triage/tokens/token-table.ts';
import type { FromWorker, ToWorker } from './bench-messages.ts';
import { openWorker } from './open-worker.ts';

export interface Bench {
  /** Null until the cases are open. */
  readonly opened: {
    readonly table: TokenTable;
    readonly samples: number;
    readonly cases: number;
    readonly views: readonly ViewRef[];
  } | null;
  readonly weighed: Weighed | null;
  /** Of the proposal it is compared with. */
  readonly other: Weighed | null;
  readonly tookMs: number;
  readonly band: LightnessBand | null;
}

/** `next`: by kind, so that of each only the last is asked. */
interface Turn {
  busy: boolean;
  readonly next: Map<ToWorker['kind'], ToWorker>;
  id: number;
}

const NOTHING: Bench = { opened: null, weighed: null, other: null, tookMs: 0, band: null };

export function useBench(
  packed: string | null,
  changes: readonly ProposedChange[],
  at: { readonly token: string; readonly theme: string } | null,
  other: readonly ProposedChange[] | null,
): Bench {
  const [bench, setBench] = useState<Bench>(NOTHING);
  const worker = useRef<Worker | null>(null);
  const turn = useRef<Turn>({ busy: false, next: new Map(), id: 0 });

  const ask = (message: ToWorker): void => {
    const { current } = turn;
    if (worker.current === null) return;
    if (current.busy) {
      current.next.set(message.kind, message);
      return;
    }
    current.busy = true;
    worker.current.postMessage(message);
  };

  useEffect(() => {
    if (packed === null) return undefined;
    const made = openWorker();
    worker.current = made;
    turn.current = { busy: true, next: new Map(), id: 0 };
    made.addEventListener('message', ({ data }: MessageEvent<FromWorker>) => {
      const { current } = turn;
      current.busy = false;
      const [next] = current.next.values();
      if (next !== undefined) {
        current.next.delete(next.kind);
        ask(next);
      }
      setBench((before) => taken(before, data));
    });
    const message: ToWorker = { kind: 'open', packed };
    made.postMessage(message);
    return () => {
      made.terminate();
      worker.current = null;
      setBench(NOTHING);
    };
  }, [packed]);

  const isOpen = bench.opened !== null;
  const key = JSON.stringify(changes);
  useEffect(() => {
    if (!isOpen) return;
    turn.current.id += 1;
    ask({ kind: 'weigh', id: turn.current.id, changes });
  }, [isOpen, key]);

  const otherKey = other === null ? '' : JSON.stringify(other);
  useEffect(() => {
    if (!isOpen) return;
    if (other === null) setBench((before) => ({ ...before, other: null }));
    else ask({ kind: 'other', id: turn.current.id, changes: other });
  }, [isOpen, otherKey]);

  const token = at?.token ?? '';
  const theme = at?.theme ?? '';
  useEffect(() => {
    if (!isOpen || token === '') return undefined;
    // Many colours are tried for it: only once the hand rests.
    const wait = setTimeout(() => {
      ask({ kind: 'band', id: turn.current.id, changes, at: { token, theme } });
    }, 150);
    return () => {
      clearTimeout(wait);
    };
  }, [isOpen, key, token, theme]);

  return bench;
}

function taken(before: Bench, data: FromWorker): Bench {
  switch (data.kind) {
    case 'opened':
      return { ...before, opened: { table: data.table, samples: data.samples, cases: data.cases, views: data.views } };
    case 'weighed':
      return { ...before, weighed: data.weighed, tookMs: data.tookMs };
    case 'other':
      return { ...before, other: data.weighed };
    case 'band':
      return { ...before, band: data.band };
  }
}
