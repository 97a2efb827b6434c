// Answers as hooks: asked once, kept, and asked again when the store changed.
import { useEffect, useState } from 'preact/hooks';
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
  const [version, setVersion] = useState(0);
  const [answer, setAnswer] = useState<{ readonly address: string; readonly asking: Asking<Answer<N>> }>();
  useEffect(() => {
    const listener = (): void => {
      setVersion((n) => n + 1);
    };
    listeners.add(listener);
    return () => void listeners.delete(listener);
  }, []);
  useEffect(() => {
    if (asked === null) return undefined;
    let current = true;
    askOnce(name, asked.params, asked.query).then(
      (value) => {
        if (current) setAnswer({ address, asking: { state: 'ready', value } });
      },
      (error: unknown) => {
        if (current)
          setAnswer({ address, asking: { state: 'failed', error: error instanceof Error ? error : new Error(String(error)) } });
      },
    );
    return () => {
      current = false;
    };
    // The address says all of the question.
  }, [address, version]);
  return answer?.address === address ? answer.asking : { state: 'waiting' };
}

/** Every page of a list, one after the other; `onMore` gets what has come so far. */
export async function askAll<N extends EndpointName>(
  name: N,
  params: Params<N>,
  query: AskedQuery<N>,
  onMore: (answer: Answer<N>) => string | null,
): Promise<void> {
  let after: string | undefined;
  do {
    const asked = after === undefined ? query : { ...query, after };
    after = onMore(await askOnce(name, params, asked)) ?? undefined;
  } while (after !== undefined);
}
