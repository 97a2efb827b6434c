// Answers as hooks: asked once, kept, and asked again when the store changed or the reader tries again. Lists come part by part through
// the one loader here, so that none of them goes stale.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Answer, AskedQuery, EndpointName, Params } from '../api/endpoints.ts';
import { addressOf, ask } from './client.ts';

export type Asking<T> =
  | { readonly state: 'waiting'; readonly value?: undefined }
  | { readonly state: 'ready'; readonly value: T }
  | { readonly state: 'failed'; readonly error: Error; readonly value?: undefined };

/** How many answers are kept; the oldest go first. */
const KEPT = 300;
const kept = new Map<string, Promise<unknown>>();
const listeners = new Set<() => void>();

/** Drops every kept answer; screens ask again. */
export function forgetAnswers(): void {
  kept.clear();
  for (const listener of listeners) listener();
}

/** Grows each time that answers were forgotten. */
function useForgotten(): number {
  const [version, setVersion] = useState(0);
  useEffect(() => {
    const listener = (): void => {
      setVersion((n) => n + 1);
    };
    listeners.add(listener);
    return () => void listeners.delete(listener);
  }, []);
  return version;
}

export function askOnce<N extends EndpointName>(name: N, params: Params<N>, query: AskedQuery<N>): Promise<Answer<N>> {
  const address = addressOf(name, params, query);
  const known = kept.get(address);
  // What was put under an address is the answer to it; the map cannot say so.
  if (known !== undefined) return known as Promise<Answer<N>>;
  const promise = ask(name, params, query);
  kept.set(address, promise);
  promise.catch(() => kept.delete(address));
  const [oldest] = kept.keys();
  if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
  return promise;
}

/** `null` asks nothing yet. The last answer stays while a repeated question is under way. */
export function useAnswer<N extends EndpointName>(
  name: N,
  asked: { readonly params: Params<N>; readonly query: AskedQuery<N> } | null,
): Asking<Answer<N>> {
  const address = asked === null ? '' : addressOf(name, asked.params, asked.query);
  const version = useForgotten();
  const [answer, setAnswer] = useState<{ readonly address: string; readonly asking: Asking<Answer<N>> }>();
  useEffect(() => {
    if (asked === null) return undefined;
    let current = true;
    askOnce(name, asked.params, asked.query).then(
      (value) => {
        if (current) setAnswer({ address, asking: { state: 'ready', value } });
      },
      (error: unknown) => {
        if (current) setAnswer({ address, asking: { state: 'failed', error: errorOf(error) } });
      },
    );
    return () => {
      current = false;
    };
    // The address says all of the question.
  }, [address, version]);
  return answer?.address === address ? answer.asking : { state: 'waiting' };
}

export interface Listed<T> {
  readonly items: readonly T[];
  /** Every part has come. */
  readonly complete: boolean;
  readonly error: Error | null;
}

/** A whole list, part after part; what was there stays in sight while it is read anew. @param pick the items of one part */
export function useList<N extends EndpointName, T>(
  name: N,
  params: Params<N>,
  query: AskedQuery<N>,
  pick: (answer: Answer<N>) => { readonly items: readonly T[]; readonly next: string | null },
): Listed<T> {
  const address = addressOf(name, params, query);
  const version = useForgotten();
  const [found, setFound] = useState<Listed<T> & { readonly address: string }>({ address, ...NOTHING });
  const picking = useRef(pick);
  picking.current = pick;
  useEffect(() => {
    let current = true;
    const read = async (): Promise<void> => {
      let items: readonly T[] = [];
      let after: string | undefined;
      do {
        const part = picking.current(await askOnce(name, params, after === undefined ? query : { ...query, after }));
        if (!current) return;
        items = [...items, ...part.items];
        const complete = part.next === null;
        // A list that is read again changes at once, not row by row.
        setFound((old) => (complete || old.address !== address || !old.complete ? { address, items, complete, error: null } : old));
        after = part.next ?? undefined;
      } while (after !== undefined);
    };
    read().catch((error: unknown) => {
      if (current)
        setFound((old) => ({
          address,
          items: old.address === address ? old.items : [],
          complete: true,
          error: errorOf(error),
        }));
    });
    return () => {
      current = false;
    };
  }, [address, version]);
  return found.address === address ? found : NOTHING;
}

const NOTHING = { items: [], complete: false, error: null } as const;

function errorOf(error: unknown): Error {
  return error instanceof Error ? error : new Error(String(error));
}
