// Pages of the app: as listed, from a sitemap (sitemaps.org 0.9), or found by following links in the browser.
import type { Browser } from 'playwright';
import { pagesNotFound } from '../../src/errors/capture-errors.ts';
import type { Page, PageSource } from '../../src/plan/configuration.ts';
import { cookiesOf } from './access.ts';
import type { Access, Entry } from './access.ts';
import { findBrowser } from '../browser/find-browser.ts';
import { launchBrowser } from '../browser/launch-browser.ts';
import { isPlace } from './landing.ts';
import { LIMITS } from '../tab/limits.ts';
import type { WireLanded } from '../page/wire/wire.ts';
import { openEntries } from './session.ts';
import { settleAfterLoad } from '../theme/settle.ts';
import { Tab } from '../tab/tab.ts';

/** A sitemap may list sitemaps; deeper nesting is refused (sitemaps.org allows one level). */
const SITEMAP_DEPTH = 2;

/**
 * @param origin where the app answers, without a slash at the end
 * @param access how the app is come by, where it asks for more than an address
 * @param running a browser to follow links in, which stays open; one of its own otherwise
 * @param onLanded told where each page ended that was opened to follow its links
 * @returns in the order listed or found; names are the paths, `home` for the root
 * @throws GloamError `pages-not-found`
 */
export async function discoverPages(
  source: PageSource,
  origin: string,
  signal: AbortSignal,
  access?: Access,
  running?: Browser,
  onLanded?: OnLanded,
): Promise<readonly Page[]> {
  switch (source.kind) {
    case 'list':
      return source.pages;
    case 'sitemap':
      return toPages(await readSitemap(new URL(origin + source.path).href, { origin, access }, SITEMAP_DEPTH, signal), origin);
    case 'follow':
      return toPages(await followLinks({ origin, access, onLanded }, source, signal, running), origin);
  }
}

export type OnLanded = (url: string, landed: WireLanded) => void;

function toPages(urls: readonly string[], origin: string): readonly Page[] {
  const paths = [...new Set(urls.map((url) => url.slice(origin.length)).map((path) => (path === '' ? '/' : path)))];
  return paths.map((path) => ({ name: path === '/' ? 'home' : path.replace(/^\/|\/$/gu, ''), path, states: [] }));
}

interface App {
  readonly origin: string;
  readonly access: Access | undefined;
  readonly onLanded?: OnLanded | undefined;
}

async function readSitemap(url: string, app: App, depth: number, signal: AbortSignal): Promise<readonly string[]> {
  const { origin, access } = app;
  const answer = await fetch(url, {
    signal,
    ...askedWith(url, origin, access === undefined ? undefined : { access, state: null }),
  }).catch((error: unknown) => {
    signal.throwIfAborted();
    throw pagesNotFound(url, `cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  });
  if (!answer.ok) throw pagesNotFound(url, `answered with HTTP ${answer.status}; expected a sitemap`);
  const text = await answer.text();
  const places = [...text.matchAll(/<loc>\s*([^<]+?)\s*<\/loc>/gu)].map((match) => unescapeXml(match[1] ?? ''));
  if (places.length === 0) throw pagesNotFound(url, 'holds no <loc>; expected a sitemap');
  if (/<sitemapindex[\s>]/u.test(text)) {
    if (depth <= 1) throw pagesNotFound(url, 'is nested too deep; expected a list of pages');
    const lists = await Promise.all(places.map((place) => readSitemap(moved(place, origin), app, depth - 1, signal)));
    return lists.flat();
  }
  return places.map((place) => moved(place, origin));
}

/** Redirects are not followed with secrets in hand. */
export function askedWith(url: string, origin: string, entry: Entry | undefined): RequestInit {
  const { hostname } = new URL(origin);
  if (entry === undefined || new URL(url).origin !== new URL(origin).origin) return {};
  const { access } = entry;
  const own = cookiesOf(entry).filter(({ domain }) => domain === undefined || isDomain(domain, hostname));
  const cookies = own.map(({ name, value }) => `${name}=${value}`);
  return { redirect: 'manual', headers: { ...access.headers, ...(cookies.length === 0 ? {} : { cookie: cookies.join('; ') }) } };
}

/** A leading dot holds for all that is below (RFC 6265 §5.1.3). */
function isDomain(domain: string, hostname: string): boolean {
  return domain.startsWith('.') ? `.${hostname}`.endsWith(domain) : domain === hostname;
}

/** A sitemap names the public host; the app under test answers elsewhere. */
function moved(place: string, origin: string): string {
  const url = new URL(place, origin);
  const base = new URL(origin);
  const path = url.pathname.startsWith(base.pathname === '/' ? '/' : `${base.pathname}/`)
    ? url.pathname.slice(base.pathname === '/' ? 0 : base.pathname.length)
    : url.pathname;
  return origin + path + url.search;
}

function unescapeXml(text: string): string {
  return text
    .replace(/&lt;/gu, '<')
    .replace(/&gt;/gu, '>')
    .replace(/&quot;/gu, '"')
    .replace(/&apos;/gu, "'")
    .replace(/&amp;/gu, '&');
}

interface Links {
  readonly path: string;
  readonly limit: number;
}

async function followLinks(app: App, source: Links, signal: AbortSignal, running?: Browser): Promise<readonly string[]> {
  if (running !== undefined) return followIn(running, app, source, signal);
  const browser = await launchBrowser(await findBrowser(process.env));
  const stop = (): void => {
    browser.close().catch(() => undefined);
  };
  signal.addEventListener('abort', stop, { once: true });
  try {
    return await followIn(browser, app, source, signal);
  } finally {
    signal.removeEventListener('abort', stop);
    await browser.close().catch(() => undefined);
  }
}

async function followIn(
  browser: Browser,
  { origin, access, onLanded }: App,
  source: Links,
  signal: AbortSignal,
): Promise<readonly string[]> {
  const [entry] = await openEntries(browser, access, { workers: 1, signal });
  const start = origin + source.path;
  const found = [start];
  const known = new Set(found);
  const good: string[] = [];
  const find = (link: string): void => {
    const next = sameApp(link, origin);
    if (next === null || known.has(next)) return;
    known.add(next);
    found.push(next);
  };
  let tab: Tab | null = null;
  try {
    for (let index = 0; index < found.length && good.length < source.limit; index += 1) {
      const url = found[index] ?? start;
      signal.throwIfAborted();
      tab ??= await Tab.open(browser, {
        limits: { ...LIMITS, settleMs: 3_000 },
        signal,
        ...(entry === undefined ? {} : { entry }),
      });
      try {
        await tab.goto(url);
        await settleAfterLoad(tab);
        const landed = await tab.call('landed', null);
        onLanded?.(url, landed);
        // A link that leads on stands for the page it ends at. One that ends at a sign-in stays: it is a page that nobody has seen.
        const leadsOn = !isPlace(url, landed) && !landed.asksPassword && sameApp(landed.href, origin) !== null;
        if (leadsOn) find(landed.href);
        else good.push(url);
        for (const link of await tab.call('links', null)) find(link);
      } catch (error) {
        signal.throwIfAborted();
        if (index === 0) throw pagesNotFound(url, error instanceof Error ? error.message : String(error));
        // Dead links are the app's matter; a page that fails to load shows nothing to capture.
        await tab.close();
        tab = null;
      }
    }
    return good;
  } finally {
    await tab?.close();
  }
}

const FILE = /\.(?:pdf|zip|gz|png|jpe?g|gif|svg|webp|avif|mp4|webm|mp3|csv|xlsx?|docx?|json|xml|txt|css|js|mjs|ico|woff2?)$/iu;

/** @returns the address, without a fragment unless that is a route (`#/alarms`), or null for what is no page of the app */
function sameApp(link: string, origin: string): string | null {
  let url: URL;
  try {
    url = new URL(link);
  } catch {
    return null;
  }
  if (!/^#!?\//.test(url.hash)) url.hash = '';
  if (!url.href.startsWith(`${origin}/`) || FILE.test(url.pathname)) return null;
  return url.href;
}
