// A first look at an app nobody configured: its pages, and the ways its themes are switched, each tried in the browser. What is
// reported as a theme was seen to repaint the page.
import { existsSync } from 'node:fs';
import path from 'node:path';
import type { Browser } from 'playwright';
import type { AppSource, ThemeApply } from '../../src/plan/configuration.ts';
import type { ObservedApp } from '../../src/plan/observed-app.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { Access, Entry } from '../app/access.ts';
import { openEntries } from '../app/session.ts';
import { mediaCandidates, switchCandidates } from './candidates.ts';
import type { Candidate, InUse } from './candidates.ts';
import { MOST_CONTROLS, tryControls } from './controls.ts';
import { difference, look } from './look.ts';
import { NO_ROUTES, clientRoutes } from './client-routes.ts';
import { explorePages } from './pages.ts';
import type { FoundPages } from './pages.ts';
import { storedCandidates } from './stored.ts';
import { ExploringTab } from './tab.ts';
import { toThemes } from './themes.ts';
import type { Base, Tried } from './themes.ts';
import { proposeViewports } from './viewports.ts';
import { findBrowser } from '../browser/find-browser.ts';
import { launchBrowser } from '../browser/launch-browser.ts';
import { openApp } from '../app/open-app.ts';
import type { WireRule, WireTraces } from '../page/wire/explore.ts';

export interface ExploreRequest {
  readonly app: AppSource;
  /** Path of the page to begin with. */
  readonly start: string;
  /** How the app that answers here is come by; absent: as a stranger. */
  readonly accessAt?: (origin: string) => Access | undefined;
  /** Pages at most. */
  readonly limit: number;
  /** How long themes are looked for; what was found by then is reported. */
  readonly withinMs: number;
  readonly signal: AbortSignal;
  /** Told what is being done. */
  readonly onStep: (what: string) => void;
}

/** Style sheets are read on this many pages (ours: themes are defined once, in what all pages share). */
const STYLED_PAGES = 3;

/** @throws GloamError `app-unreachable`, `app-folder-missing`, `session-failed`, `pages-not-found`, `browser-not-found`, `browser-failed` */
export async function exploreApp(request: ExploreRequest): Promise<ObservedApp> {
  const { app, start, limit, signal, onStep } = request;
  onStep('opening the app');
  const fallback = app.kind === 'serve' ? path.join(app.folder, 'index.html') : null;
  const served = fallback !== null && app.kind === 'serve' && existsSync(fallback) ? { ...app, fallback } : app;
  const opened = await openApp(served, signal);
  try {
    const browser = await launchBrowser(await findBrowser(process.env));
    try {
      const access = request.accessAt?.(opened.origin);
      if (access?.signIn != null) onStep('signing in');
      const [entry] = await openEntries(browser, access, { workers: 1, signal });
      onStep('looking for pages');
      const folder = app.kind === 'serve' ? app.folder : undefined;
      const all = await explorePages({ origin: opened.origin, start, folder, limit, browser, signal, entry });
      const { routes, dead } =
        folder === undefined ? NO_ROUTES : await clientRoutes({ browser, origin: opened.origin, folder, start, pages: all.pages });
      const found = { ...all, pages: all.pages.filter((page) => !dead.has(page.path)) };
      const themes = await exploreThemes({ browser, origin: opened.origin, entry }, found, request);
      const queries = new Set(themes.themes.flatMap((theme) => Object.keys(theme.apply.query ?? {})));
      const { pagesFrom, morePages, signIn } = found;
      const pages = found.pages.filter((page) => !isThemed(page.path, queries));
      return {
        pages,
        pagesFrom,
        morePages,
        ...(signIn === undefined ? {} : { signIn }),
        ...(routes.size === 0 ? {} : { fallback: 'index.html' }),
        ...themes,
      };
    } finally {
      await browser.close();
    }
  } finally {
    await opened.close();
  }
}

/** A page that is another one in a theme. */
function isThemed(path: string, queries: ReadonlySet<string>): boolean {
  return [...new URL(path, 'http://loopback').searchParams.keys()].some((name) => queries.has(name));
}

async function exploreThemes(
  { browser, origin, entry }: { readonly browser: Browser; readonly origin: string; readonly entry: Entry | undefined },
  found: FoundPages,
  { withinMs, signal, onStep }: ExploreRequest,
): Promise<Pick<ObservedApp, 'themes' | 'viewports' | 'properties' | 'notes'>> {
  const deadline = performance.now() + withinMs;
  const goOn = (): boolean => {
    signal.throwIfAborted();
    return performance.now() < deadline;
  };
  const notes: string[] = [];
  const exploring = await ExploringTab.open(browser, signal, entry);
  try {
    onStep('reading style sheets');
    const paths = found.pages.map((page) => page.path);
    const [first = '/'] = paths;
    const url = origin + first;
    const styles = await readStyles(exploring, origin, { ...found, paths: paths.slice(0, STYLED_PAGES) }, notes);

    await exploring.load(url);
    const atFirst = await look(exploring.tab);
    const traces = await exploring.tab.call('exploreTraces', null);
    await exploring.load(url);
    const base: Base = {
      look: await look(exploring.tab),
      noise: { elements: 0, pixels: 0 },
      valueOf: (on, name) => attributeOf(traces, on, name),
    };
    const steady: Base = { ...base, noise: difference(atFirst, base.look) };
    const scripts = await exploring.scriptTexts();
    const reads = await exploring.reads();
    const links = themedLinks(await exploring.tab.call('links', null), url);
    const controls = await exploring.tab.call('exploreControls', { most: MOST_CONTROLS });

    const tried: Tried[] = [];
    onStep('trying attributes, classes and media features');
    const switches = switchCandidates(styles.rules, styles.inUse).filter((candidate) => !isEmptied(candidate, traces));
    for (const candidate of [...switches, ...mediaCandidates(styles.rules, scripts.join('\n'))]) {
      if (!goOn()) break;
      tried.push(...(await tryInPlace(exploring, candidate, steady, traces, switches)));
    }
    onStep('using controls that look like theme switches');
    if (goOn()) {
      const used = await tryControls({ exploring, url, base: steady.look, controls, goOn });
      tried.push(...used.tried);
      notes.push(...used.notes);
    }
    onStep('trying stored settings, cookies and queries');
    const values = switches
      .filter((candidate) => candidate.strong)
      .flatMap(({ applies: [apply] }) => apply?.attributes?.map(({ value }) => value) ?? apply?.class?.add ?? []);
    for (const candidate of storedCandidates({ scripts, reads, cookies: exploring.cookieNames(), values, links })) {
      if (!goOn()) break;
      tried.push(...(await tryLoaded(exploring, candidate, url)));
    }
    if (!goOn())
      notes.push(
        `themes were looked for during ${String(Math.round(withinMs / 1000))} s; some ways were not tried (--within gives more time)`,
      );
    return {
      themes: toThemes(steady, tried),
      viewports: proposeViewports(styles.widths, styles.fitsSmall),
      properties: [...new Set(styles.rules.flatMap((rule) => rule.properties.map((name) => name.slice(2))))].sort(),
      notes,
    };
  } finally {
    await exploring.close();
  }
}

interface Styles {
  readonly rules: readonly WireRule[];
  readonly widths: readonly string[];
  readonly fitsSmall: boolean;
  readonly inUse: InUse;
}

async function readStyles(
  exploring: ExploringTab,
  origin: string,
  { paths, classes: written }: { readonly paths: readonly string[]; readonly classes: ReadonlySet<string> },
  notes: string[],
): Promise<Styles> {
  const rules = new Map<string, WireRule>();
  const widths = new Set<string>();
  const classes = new Set(written);
  const attributes = new Set<string>();
  let fitsSmall = false;
  for (const path of paths) {
    try {
      await exploring.load(origin + path);
      const styles = await exploring.tab.call('exploreStyles', { texts: exploring.styleTexts() });
      for (const rule of styles.rules) rules.set(JSON.stringify(rule), rule);
      for (const width of styles.widths) widths.add(width);
      for (const name of styles.classes) classes.add(name);
      for (const pair of styles.attributes) attributes.add(pair);
      for (const sheet of styles.unread) notes.push(`${sheet}: the style sheet could not be read`);
      fitsSmall ||= styles.fitsSmall;
    } catch (error) {
      if (!(error instanceof GloamError) || path === paths[0]) throw error;
      notes.push(`${path}: ${error.message}`);
    }
  }
  return { rules: [...rules.values()], widths: [...widths], fitsSmall, inUse: { classes, attributes } };
}

function attributeOf(traces: WireTraces, on: string, name: string): string | undefined {
  return traces.elements.find((element) => element.on === on)?.attributes[name];
}

function themedLinks(links: readonly string[], url: string): readonly { readonly name: string; readonly value: string }[] {
  const here = new URL(url);
  return links.flatMap((link) => {
    const there = URL.canParse(link) ? new URL(link) : here;
    if (there.origin !== here.origin || there.pathname !== here.pathname) return [];
    return [...there.searchParams]
      .filter(([name, value]) => here.searchParams.get(name) !== value)
      .map(([name, value]) => ({ name, value }));
  });
}

/** `[data-tone]` asks whether a value is there: emptied where the page wears one, it is the page without a palette. */
function isEmptied({ applies }: Candidate, traces: WireTraces): boolean {
  return applies.some(({ attributes: [attribute] = [] }) => {
    return attribute?.value === '' && (attributeOf(traces, attribute.on, attribute.name) ?? '') !== '';
  });
}

/** The first alternative that changes the page; where it may only show once other switches of its carrier are gone, whichever changes more. */
async function tryInPlace(
  exploring: ExploringTab,
  candidate: Candidate,
  base: Base,
  traces: WireTraces,
  switches: readonly Candidate[],
): Promise<readonly Tried[]> {
  const { name, evidence, strong } = candidate;
  let best: Tried | undefined;
  let change = -1;
  for (const written of candidate.applies) {
    // Put on elsewhere, a theme may reach but half of the page.
    if (change > 0.01 && !strong) break;
    const carrier = carrierOf(written);
    if (!(await exploring.isLarge(carrier))) continue;
    const alternative = carriedBy(written, await exploring.rootOf(carrier));
    for (const apply of [alternative, ...withoutOthers(alternative, traces, switches)]) {
      try {
        await exploring.putOn(apply);
      } catch (error) {
        // Nothing here carries it: another alternative may.
        if (error instanceof GloamError && error.code === 'place-not-found') continue;
        throw error;
      }
      const tried: Tried = { apply, look: await look(exploring.tab), name, evidence, strong };
      const { elements, pixels } = difference(base.look, tried.look);
      const larger = Math.max(elements - base.noise.elements, pixels - base.noise.pixels);
      // Ours: without the others it must change clearly more, or it is the same theme said at greater length.
      if (larger <= change + 0.01 && best !== undefined) continue;
      best = tried;
      change = larger;
    }
  }
  await exploring.putOn({});
  return best === undefined ? [] : [best];
}

function carrierOf({ attributes: [attribute] = [], class: classes }: ThemeApply): string {
  return (attribute ?? classes)?.on ?? 'html';
}

function carriedBy({ attributes, class: classes, ...rest }: ThemeApply, on: string): ThemeApply {
  return {
    ...rest,
    ...(attributes === undefined ? {} : { attributes: attributes.map((each) => ({ ...each, on })) }),
    ...(classes === undefined ? {} : { class: { ...classes, on } }),
  };
}

/** `html.noon` as loaded: `dusk` may only show once `noon` is gone. */
function withoutOthers({ class: classes }: ThemeApply, traces: WireTraces, switches: readonly Candidate[]): readonly ThemeApply[] {
  if (classes === undefined) return [];
  const worn = attributeOf(traces, classes.on, 'class')?.split(/\s+/) ?? [];
  const known = new Set(switches.flatMap(({ applies: [apply] }) => apply?.class?.add ?? []));
  const remove = worn.filter((name) => known.has(name) && !classes.add.includes(name));
  return remove.length === 0 ? [] : [{ class: { ...classes, remove } }];
}

async function tryLoaded(exploring: ExploringTab, candidate: Candidate, url: string): Promise<readonly Tried[]> {
  const { name, evidence, strong } = candidate;
  const tried: Tried[] = [];
  for (const apply of candidate.applies) {
    try {
      await exploring.load(url, apply);
      tried.push({ apply, look: await look(exploring.tab), name, evidence, strong });
    } catch (error) {
      // A page that breaks with a made-up value is no theme.
      if (!(error instanceof GloamError)) throw error;
    }
  }
  return tried;
}
