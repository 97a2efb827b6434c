// The pages of an app for a first look: a sitemap where there is one, links followed from the start, HTML files of a served folder.
import { readdir } from 'node:fs/promises';
import path from 'node:path';
import type { Browser } from 'playwright';
import type { ObservedApp, ObservedPage } from '../../src/plan/observed-app.ts';
import type { Entry } from '../app/access.ts';
import { askedWith, discoverPages } from '../app/discover-pages.ts';
import type { OnLanded } from '../app/discover-pages.ts';
import { isPlace } from '../app/landing.ts';

export interface PagesWish {
  /** Where the app answers, without a slash at the end. */
  readonly origin: string;
  /** Path to start from. */
  readonly start: string;
  /** Served folder; undefined for an app that runs elsewhere. */
  readonly folder: string | undefined;
  readonly limit: number;
  readonly browser: Browser;
  readonly signal: AbortSignal;
  /** How the app is come by, signed in already where it has a sign-in; undefined: as a stranger. */
  readonly entry: Entry | undefined;
}

export interface FoundPages extends Pick<ObservedApp, 'pages' | 'pagesFrom' | 'morePages' | 'signIn'> {
  /** Written in the documents of all pages, scripts not run. */
  readonly classes: ReadonlySet<string>;
}

/** @throws GloamError `pages-not-found` when there is neither a page to start from nor a file */
export async function explorePages(wish: PagesWish): Promise<FoundPages> {
  const files = wish.folder === undefined ? [] : await htmlFiles(wish.folder, wish.limit + 1);
  const mapped = await fromSitemap(wish);
  const signIn = openSignIn(wish.origin);
  const linked = await fromLinks(wish, files.length > 0 || mapped.length > 0, signIn.onLanded);
  const sources = { links: linked, sitemap: mapped, files } as const;
  const pages = new Map<string, string>();
  const used = new Set<keyof typeof sources>();
  for (const from of ['links', 'sitemap', 'files'] as const) {
    for (const found of sources[from]) {
      if (pages.has(samePage(found))) continue;
      pages.set(samePage(found), found.replace(/(^|\/)index\.html?$/, '$1'));
      used.add(from);
    }
  }
  const all = [...pages.values()];
  const read = (await Promise.all(all.slice(0, wish.limit).map((found) => readPage(found, wish)))).filter((page) => page !== null);
  for (const page of read) if (page.signIn !== null) signIn.note(page.path, page.signIn);
  return {
    ...signIn.found(),
    pages: read.map(({ path: found, title }) => ({ path: found, title })),
    pagesFrom: [...used],
    morePages: all.length > wish.limit,
    classes: new Set(read.flatMap((page) => page.classes)),
  };
}

/** `/quay`, `/quay.html` and `/quay/index.html` are one page. */
function samePage(found: string): string {
  return found
    .replace(/\/index\.html?$/, '/')
    .replace(/\.html?(?=$|\?)/, '')
    .replace(/(.)\/$/, '$1');
}

async function fromSitemap({ origin, signal, entry }: PagesWish): Promise<readonly string[]> {
  const answer = await fetch(`${origin}/sitemap.xml`, { signal, ...askedWith(origin, origin, entry) }).catch(() => null);
  if (answer?.ok !== true || !(await answer.text()).includes('<loc>')) return [];
  const pages = await discoverPages({ kind: 'sitemap', path: '/sitemap.xml' }, origin, signal, entry?.access);
  return pages.map((page) => page.path);
}

/** Links that only change the query are kept: whether they switch a theme is seen later. */
async function fromLinks(
  { origin, start, limit, browser, signal, entry }: PagesWish,
  optional: boolean,
  onLanded: OnLanded,
): Promise<readonly string[]> {
  try {
    const pages = await discoverPages({ kind: 'follow', path: start, limit }, origin, signal, entry?.access, browser, onLanded);
    return pages.map((page) => page.path);
  } catch (error) {
    signal.throwIfAborted();
    if (!optional) throw error;
    return [];
  }
}

async function htmlFiles(folder: string, most: number): Promise<readonly string[]> {
  const found: string[] = [];
  const visit = async (inside: string): Promise<void> => {
    const entries = await readdir(path.join(folder, inside), { withFileTypes: true }).catch(() => []);
    for (const entry of entries.sort((a, b) => a.name.localeCompare(b.name))) {
      if (found.length >= most) return;
      if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
      const name = `${inside}/${entry.name}`;
      if (entry.isDirectory()) await visit(name);
      else if (/\.html?$/i.test(entry.name)) found.push(name.split('/').map(encodeURIComponent).join('/'));
    }
  };
  await visit('');
  return found;
}

/** A field for a password is the sign of a sign-in, wherever it is met. */
function openSignIn(origin: string): {
  readonly onLanded: OnLanded;
  /** @param at path of the page with the field */
  note(path: string, at: string): void;
  found(): Pick<ObservedApp, 'signIn'>;
} {
  const leads = new Set<string>();
  let place: string | null = null;
  const note = (path: string, at: string): void => {
    place ??= at;
    if (!isPlace(origin + path, { href: new URL(at, origin).href, loadedFrom: origin + path })) leads.add(path);
  };
  return {
    note,
    onLanded: (url, { href, asksPassword }) => {
      if (asksPassword) note(url.slice(origin.length), addressOf(href, origin));
    },
    found: () => (place === null ? {} : { signIn: { at: place, leads: [...leads] } }),
  };
}

/** Without what a sign-in is told about the page that led to it. */
function addressOf(href: string, origin: string): string {
  const { pathname, origin: host } = new URL(href);
  return href.startsWith(`${origin}/`) ? href.slice(origin.length).replace(/[?#].*$/u, '') : host + pathname;
}

/** Null for what does not answer with HTML. */
async function readPage(
  found: string,
  { origin, signal, entry }: PagesWish,
): Promise<(ObservedPage & { readonly classes: readonly string[]; readonly signIn: string | null }) | null> {
  const answer = await fetch(origin + found, { signal, ...askedWith(origin + found, origin, entry) }).catch(() => null);
  // Secrets are not taken elsewhere: where a page leads is seen in the browser.
  if (entry !== undefined && answer !== null && answer.status >= 300 && answer.status < 400)
    return { path: found, title: '', classes: [], signIn: null };
  if (answer?.ok !== true || answer.headers.get('content-type')?.includes('html') !== true) return null;
  const text = await answer.text();
  const title = /<title[^>]*>([^<]*)</i.exec(text)?.[1] ?? '';
  // The root and the body may wear the theme itself.
  const inside = text.replace(/<(html|body)\b[^>]*>/gi, '');
  const classes = [...inside.matchAll(/\sclass\s*=\s*(?:"([^"]*)"|'([^']*)')/gi)].flatMap(([, a, b]) =>
    (a ?? b ?? '').split(/\s+/),
  );
  const signIn = /<input\b[^>]*\btype\s*=\s*["']?password\b/iu.test(text) ? addressOf(answer.url, origin) : null;
  return { path: found, signIn, title: title.replace(/\s+/g, ' ').trim().slice(0, 80), classes };
}
