// Addresses of the report: `#/SCREEN?name=value`. In the hash, so that the same addresses work from a server and from a folder on disk.
import { useEffect, useState } from 'preact/hooks';

export const SCREENS = [
  'tonight',
  'queue',
  'findings',
  'page',
  'causes',
  'ramps',
  'bench',
  'token',
  'changes',
  'launch',
  'owners',
  'history',
  'api',
] as const;
export type Screen = (typeof SCREENS)[number];
export type Query = Readonly<Record<string, string>>;

export interface Address {
  /** Null where the address names no screen there is. */
  readonly screen: Screen | null;
  readonly query: Query;
}

export function readAddress(hash: string): Address {
  const [path = '', query = ''] = hash.replace(/^#\/?/, '').split('?', 2);
  const screen = path === '' ? 'tonight' : (SCREENS.find((name) => name === path) ?? null);
  return { screen, query: Object.fromEntries(new URLSearchParams(query)) };
}

/** Members that are absent or empty are left out. */
export function href(screen: Screen, query: Readonly<Record<string, string | undefined>> = {}): string {
  const text = Object.entries(query)
    .flatMap(([key, value]) => (value === undefined || value === '' ? [] : [`${key}=${encodeURIComponent(value)}`]))
    .join('&');
  return `#/${screen}${text === '' ? '' : `?${text}`}`;
}

export function useAddress(): Address {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const listen = (): void => {
      setHash(location.hash);
    };
    addEventListener('hashchange', listen);
    return () => {
      removeEventListener('hashchange', listen);
    };
  }, []);
  return readAddress(hash);
}

/** Changes members of the query and keeps the rest. `replace`: no new entry in the browser's history. */
export function amend(changes: Readonly<Record<string, string | undefined>>, { replace = true } = {}): void {
  const { screen, query } = readAddress(location.hash);
  const target = href(screen ?? 'tonight', { ...query, ...changes });
  if (target === location.hash) return;
  if (replace) {
    history.replaceState(null, '', target);
    dispatchEvent(new HashChangeEvent('hashchange'));
  } else {
    location.hash = target;
  }
}
