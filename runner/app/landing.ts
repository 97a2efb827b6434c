// Whether the page that came is the page that was asked for: where the address ended, and with what status. Pure.
import { pageHttpError, pageLandedElsewhere } from '../../src/errors/capture-errors.ts';
import type { LetInBy } from '../../src/errors/sign-in-errors.ts';
import type { GloamError } from '../../src/errors/gloam-error.ts';
import type { Page } from '../../src/plan/configuration.ts';
import { pagePath } from '../../src/plan/page-path.ts';
import type { WireLanded } from '../page/wire/wire.ts';

/** What was asked for, and what of it the configuration expects to come out otherwise. */
export interface Asked {
  /** Absolute, without what a theme adds. */
  readonly url: string;
  /** Absolute; where the page is said to end. */
  readonly lands?: string;
  /** Status its document is said to answer with. */
  readonly status?: number;
  /** How the run is let in; absent for a stranger. */
  readonly by?: LetInBy;
}

/** @param url the page's address in the app that runs: what stands before its path is where the app answers */
export function askedOf({ path, lands, status }: Pick<Page, 'path' | 'lands' | 'status'>, url: string): Asked {
  const origin = url.slice(0, url.length - path.length);
  return {
    url,
    ...(lands === undefined ? {} : { lands: lands.startsWith('/') ? origin + lands : lands }),
    ...(status === undefined ? {} : { status }),
  };
}

/** @returns what is wrong with it; null where it is the page asked for */
export function landingFault(asked: Asked, landed: WireLanded): GloamError | null {
  const expected = asked.lands ?? asked.url;
  // The status first: an error page may stand at any address.
  const { status } = landed;
  // 0: the browser does not tell. 304: what it had is still so.
  const isFine =
    asked.status === undefined ? status === 0 || status === 304 || (status >= 200 && status < 300) : status === asked.status;
  if (isPlace(expected, landed)) return isFine ? null : pageHttpError(asked.url, status, asked.status);
  return pageLandedElsewhere(asked.url, {
    ...landed,
    landed: landed.href,
    ...(asked.lands === undefined ? {} : { lands: asked.lands }),
    ...(asked.by === undefined ? {} : { by: asked.by }),
  });
}

/** Whether the address is that of the page, or one by which servers and routers also call it. */
export function isPlace(expected: string, { href, loadedFrom }: Pick<WireLanded, 'href' | 'loadedFrom'>): boolean {
  if (!URL.canParse(href) || !URL.canParse(expected)) return false;
  const [to, at] = [new URL(expected), new URL(href)];
  if (!isSameHost(to, at) || pagePath(to.pathname) !== pagePath(at.pathname)) return false;
  // A hash is a place within the page, except where it is written as a path: then it is the page.
  const route = routeOf(to);
  if (route !== null && route !== routeOf(at)) return false;
  return keepsQuery(to, at, URL.canParse(loadedFrom) ? new URL(loadedFrom) : at);
}

/** `http` may have become `https`, and one name of this machine another. */
function isSameHost(to: URL, at: URL): boolean {
  if (to.host === at.host && at.protocol.startsWith('http')) return true;
  if (isLoopback(to) && isLoopback(at)) return to.port === at.port;
  return to.hostname === at.hostname && to.port === '' && at.port === '' && to.protocol === 'http:' && at.protocol === 'https:';
}

function isLoopback({ hostname }: URL): boolean {
  return hostname === 'localhost' || hostname === '[::1]' || /^127\./u.test(hostname);
}

/** `#/tides` and `#!/tides`, without their own query. */
function routeOf({ hash }: URL): string | null {
  const route = /^#!?(\/[^?]*)/u.exec(hash)?.[1];
  return route === undefined ? null : pagePath(route);
}

/** What was asked in the query must have reached the document; a script that has read it may take it out of the address, but not change it. */
function keepsQuery(to: URL, at: URL, from: URL): boolean {
  return [...new Set(to.searchParams.keys())].every((name) => {
    const asked = to.searchParams.getAll(name).join('\n');
    const isSame = (url: URL): boolean => url.searchParams.getAll(name).join('\n') === asked;
    return isSame(at) || (isSame(from) && !at.searchParams.has(name));
  });
}
