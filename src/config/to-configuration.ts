// A configuration file whose shape is right → Configuration: names resolved, paths absolute; collects what does not fit together.
import path from 'node:path';
import type { FileFault } from '../errors/command-errors.ts';
import type {
  AppSource,
  CheckOptions,
  Configuration,
  Given,
  Page,
  PageSource,
  State,
  Theme,
  ThemeApply,
  TokenNaming,
  TokenSource,
  Viewport,
} from '../plan/configuration.ts';
import type { CheckId } from '../samples/finding.ts';
import { REST_STATE } from '../samples/view.ts';
import { defined } from './defined.ts';
import { millisecondsOf } from '../plan/duration.ts';
import { isBucketAddress, readBucketAddress } from '../plan/bucket-address.ts';
import { isStoreAddress } from '../plan/store-address.ts';
import { expectedName } from './nearest-name.ts';
import type { Report } from './report.ts';
import type { ParsedConfiguration } from './schema.ts';
import { show } from './schema-faults.ts';
import { optionFaults } from '../checks/option-faults.ts';
import { DRIFT_PARAMETERS } from '../pictures/drift-parameters.ts';
import type { Drawn } from '../tokens/faults/needed-contrast.ts';
import { neededContrast } from '../tokens/faults/needed-contrast.ts';
import { toCriteria } from './to-criteria.ts';

export function toConfiguration(
  file: string,
  parsed: ParsedConfiguration,
): { readonly configuration: Configuration; readonly faults: readonly FileFault[] } {
  const folder = path.dirname(file);
  const inFolder = (name: string): string => path.resolve(folder, name);
  const faults: FileFault[] = [];
  const report: Report = (at, found, expected) => faults.push({ at: show(at), found, expected });

  const themes = Object.entries(parsed.themes).map(([name, theme]): Theme => {
    const { attribute, script, media, ...rest } = theme.apply;
    const apply: ThemeApply = defined({
      ...rest,
      attributes: attribute === undefined ? undefined : [attribute].flat(),
      media: media === undefined ? undefined : defined(media),
      script: script === undefined ? undefined : inFolder(script),
    });
    return { name, tone: theme.tone, apply, tokens: theme.tokens, ...(theme.alike === true ? { alike: true } : {}) };
  });
  if (themes.length === 0) report(['themes'], 'no theme', 'at least one');
  const themeNames = themes.map((theme) => theme.name);
  const reference = parsed.reference ?? themeNames[0] ?? '';
  if (parsed.reference !== undefined && !themeNames.includes(reference)) {
    report(['reference'], JSON.stringify(reference), expectedName(reference, themeNames));
  }

  const viewports = Object.entries(parsed.viewports).map(([name, v]): Viewport => ({
    name,
    widthCssPx: v.width,
    heightCssPx: v.height,
    scale: v.scale,
  }));
  const states = Object.entries(parsed.states).flatMap(([name, state]) => toState(name, state, inFolder, report));
  const pages = toPages(parsed.pages, { states: states.map((s) => s.name), viewports: viewports.map((v) => v.name) }, report);
  for (const name of Object.keys(parsed.gate)) {
    if (name !== '*' && !themeNames.includes(name))
      report(['gate', name], 'a theme nobody configured', expectedName(name, themeNames));
  }
  const checks = definedEntries(parsed.checks);
  faults.push(...optionFaults(checks, { drift: DRIFT_PARAMETERS }));

  const textContrast = checks['text-contrast'];
  const level = typeof textContrast === 'object' && textContrast['level'] === 'AAA' ? 'AAA' : 'AA';
  const tokens =
    parsed.tokens === undefined
      ? undefined
      : toTokens(parsed.tokens, { themeNames, inFolder, contrastOf: (drawn) => neededContrast(drawn, level) }, report);
  const configuration: Configuration = {
    file,
    folder,
    app: toApp(parsed.app, folder, report),
    pages,
    themes,
    reference,
    viewports,
    states,
    ...defined({
      tokens,
      ramps: parsed.ramps,
      clock: parsed.clock,
      cookies: givenOf(parsed.cookies),
      headers: givenOf(parsed.headers),
    }),
    ...defined({ session: toSession(parsed.session, inFolder), night: toNight(parsed.night, inFolder), retries: parsed.retries }),
    ...(parsed.limits === undefined ? {} : { limits: { viewMs: parsed.limits.view * 1000 } }),
    stay: parsed.stay,
    exempt: parsed.exempt.map((rule) => defined(rule)),
    mask: parsed.mask,
    checks,
    owners: parsed.owners.map((rule) => defined(rule)),
    ...defined({
      store: toStore(parsed.store, folder, report),
      blobs: toBlobs(parsed.blobs, folder, report),
    }),
    gate: Object.fromEntries(Object.entries(parsed.gate).map(([theme, rows]) => [theme, toCriteria(theme, rows, report)])),
  };
  return { configuration, faults };
}

/** The file is committed and read by many: a password has no place in it. */
function toStore(store: string | undefined, folder: string, report: Report): string | undefined {
  if (store === undefined) return undefined;
  if (!isStoreAddress(store)) return path.resolve(folder, store);
  if (URL.canParse(store) && new URL(store).password !== '')
    report(
      ['store'],
      'an address with a password',
      'the address without it; the whole one goes into the environment as GLOAM_STORE',
    );
  return store;
}

/** As above, for keys; what is found is not repeated, since it may be one. */
function toBlobs(blobs: string | undefined, folder: string, report: Report): string | undefined {
  if (blobs === undefined) return undefined;
  if (!isBucketAddress(blobs)) return path.resolve(folder, blobs);
  if (readBucketAddress(blobs) === null)
    report(
      ['blobs'],
      'an address of a bucket with more than names in it, or fewer',
      's3://BUCKET/PREFIX; keys, region and endpoint come from the environment, e.g. AWS_ACCESS_KEY_ID',
    );
  return blobs;
}

function toApp(app: ParsedConfiguration['app'], folder: string, report: Report): AppSource {
  if (app.serve !== undefined) {
    if (app.url !== undefined || app.start !== undefined)
      report(['app'], 'serve together with url or start', 'either serve, or url, or start with url');
    const served = path.resolve(folder, app.serve);
    return {
      kind: 'serve',
      folder: served,
      ...(app.fallback === undefined ? {} : { fallback: path.resolve(served, app.fallback) }),
    };
  }
  if (app.fallback !== undefined)
    report(['app', 'fallback'], 'fallback without serve', 'fallback only where gloam serves the folder');
  if (app.url === undefined) {
    const found = app.start === undefined ? 'neither serve nor url' : 'start without url';
    report(
      ['app'],
      found,
      app.start === undefined ? 'serve (a folder), or url, or start with url' : 'the url that answers once the app runs',
    );
    return { kind: 'url', url: '' };
  }
  return app.start === undefined ? { kind: 'url', url: app.url } : { kind: 'start', command: app.start, url: app.url, cwd: folder };
}

function givenOf(values: ParsedConfiguration['headers']): Configuration['headers'] {
  if (values === undefined) return undefined;
  return Object.fromEntries(
    Object.entries(values).map(([name, value]): [string, Given] => [name, typeof value === 'string' ? value : defined(value)]),
  );
}

function toSession(session: ParsedConfiguration['session'], inFolder: (name: string) => string): Configuration['session'] {
  if (session === undefined) return undefined;
  return { script: inFolder(session.script), env: session.env, withinMs: session.within * 1000 };
}

function toNight(night: ParsedConfiguration['night'], inFolder: (name: string) => string): Configuration['night'] {
  if (night === undefined) return undefined;
  const { within, since, forms, keep } = night;
  return defined({
    withinMs: within === undefined ? undefined : millisecondsOf(within),
    since,
    forms: forms === undefined ? undefined : inFolder(forms),
    keep,
  });
}

function toState(
  name: string,
  state: ParsedConfiguration['states'][string],
  inFolder: (name: string) => string,
  report: Report,
): readonly State[] {
  const given = Object.entries(state).filter((entry): entry is [keyof typeof state, string] => entry[1] !== undefined);
  const [first] = given;
  if (name === REST_STATE) {
    report(['states', name], 'a state called rest', `another name: ${REST_STATE} is the page nobody touched`);
    return [];
  }
  if (first === undefined || given.length > 1) {
    const found = first === undefined ? 'nothing' : given.map(([kind]) => kind).join(' and ');
    report(['states', name], found, 'exactly one of hover, focus, active, click, script');
    return [];
  }
  const [kind, value] = first;
  return [kind === 'script' ? { name, kind, file: inFolder(value) } : { name, kind, selector: value }];
}

/** The page's name where none is given: its path without the slash and the ending. */
export function nameOfPath(pagePath: string): string {
  const [plain = ''] = pagePath.split(/[?#]/);
  const name = plain
    .replace(/^\/+/, '')
    .replace(/\/$/, '')
    .replace(/\.html?$/, '');
  const query = pagePath.slice(plain.length);
  return `${name === '' ? 'index' : name}${query}`;
}

function toPages(
  source: ParsedConfiguration['pages'],
  known: { readonly states: readonly string[]; readonly viewports: readonly string[] },
  report: Report,
): PageSource {
  if (!Array.isArray(source)) {
    return 'sitemap' in source
      ? { kind: 'sitemap', path: source.sitemap }
      : { kind: 'follow', path: source.follow, limit: source.limit };
  }
  const seen = new Map<string, number>();
  const pages = source.map((page, i): Page => {
    const name = page.name ?? nameOfPath(page.path);
    const earlier = seen.get(name);
    if (earlier !== undefined) report(['pages', i, 'name'], `"${name}", the name of pages[${earlier}] too`, 'a name of its own');
    seen.set(name, i);
    page.states.forEach((state, j) => {
      if (!known.states.includes(state))
        report(['pages', i, 'states', j], JSON.stringify(state), expectedName(state, known.states));
    });
    page.viewports?.forEach((viewport, j) => {
      if (!known.viewports.includes(viewport))
        report(['pages', i, 'viewports', j], JSON.stringify(viewport), expectedName(viewport, known.viewports));
    });
    return defined({ ...page, name, drift: page.drift === undefined ? undefined : defined(page.drift) });
  });
  return { kind: 'list', pages };
}

function toTokens(
  tokens: NonNullable<ParsedConfiguration['tokens']>,
  known: {
    readonly themeNames: readonly string[];
    readonly inFolder: (name: string) => string;
    readonly contrastOf: (drawn: Drawn) => number;
  },
  report: Report,
): TokenSource {
  const { themeNames, inFolder, contrastOf } = known;
  const css = tokens.css.map((naming): TokenNaming => defined(naming));
  const pairs = tokens.pairs.map(({ ink, on, as, contrast }) => ({
    ink: [ink].flat(),
    on: [on].flat(),
    required: contrast ?? contrastOf(as),
  }));
  if (tokens.resolver !== undefined) {
    if (tokens.base !== undefined || tokens.themes !== undefined)
      report(['tokens'], 'resolver together with base or themes', 'either resolver, or base and themes');
    return { kind: 'resolver', file: inFolder(tokens.resolver), css, pairs };
  }
  if (tokens.base === undefined)
    report(['tokens'], 'neither resolver nor base', 'resolver (a file), or base (a list of files) with themes');
  for (const name of Object.keys(tokens.themes ?? {})) {
    if (!themeNames.includes(name)) report(['tokens', 'themes', name], 'a theme nobody configured', expectedName(name, themeNames));
  }
  const themes = Object.fromEntries(Object.entries(tokens.themes ?? {}).map(([name, files]) => [name, files.map(inFolder)]));
  return { kind: 'files', base: (tokens.base ?? []).map(inFolder), themes, css, pairs };
}

function definedEntries(checks: ParsedConfiguration['checks']): Record<CheckId, 'off' | CheckOptions> {
  return Object.fromEntries(Object.entries(checks).flatMap(([id, given]) => (given === undefined ? [] : [[id, given] as const])));
}
