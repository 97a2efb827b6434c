// Tokens of every theme → the graph, with what is asked of it worked out on demand and kept.
import type { Color } from '../colour/color.ts';
import type { GraphEntry, Hop, Ramp, Resolution, ThemeEntries, TokenGraph, TokenInfo } from './graph.ts';
import { groupBy } from './group-by.ts';
import type { TokenProblem } from './problem.ts';
import { findRamps } from './ramps.ts';
import type { ColorValue } from './values/token-value.ts';
import { colorOfValue } from './values/color-of-value.ts';

export interface GraphSettings {
  /** Globs of token paths that are ramps; by default told from the aliases. `*` stands for a part of one name, `**` for any. */
  readonly ramps?: readonly string[];
}

const NOBODY: readonly string[] = [];

export function createGraph(
  themes: readonly ThemeEntries[],
  problems: readonly TokenProblem[],
  settings: GraphSettings = {},
): TokenGraph {
  const byTheme = new Map(themes.map((each) => [each.theme, each]));
  const colours = new Map<ColorValue, Color>();
  const usersByTheme = new Map<string, ReadonlyMap<string, readonly string[]>>();
  const endsByTheme = new Map<string, Map<string, string>>();
  const usersAnywhere = new Map<string, readonly string[]>();
  let ramps: readonly Ramp[] | null = null;
  let problemsOf: ReadonlyMap<string, readonly TokenProblem[]> | null = null;

  const entryOf = (path: string, theme: string): GraphEntry | undefined => byTheme.get(theme)?.find(path);

  function chainOf(entry: GraphEntry, theme: string): readonly Hop[] {
    const chain: Hop[] = [];
    const seen = new Set<string>();
    for (let here: GraphEntry | undefined = entry; here !== undefined && !seen.has(here.path); here = nextOf(here, theme)) {
      seen.add(here.path);
      const place = here.declarations().at(-1);
      if (place === undefined) break;
      const { file, line, column, pointer } = place;
      chain.push({ token: here.path, file, line, column, pointer, how: here.how, copyOf: here.copyOf });
    }
    return chain;
  }

  function nextOf(entry: GraphEntry, theme: string): GraphEntry | undefined {
    return entry.next === null ? undefined : entryOf(entry.next, theme);
  }

  function resolve(path: string, theme: string): Resolution {
    const entry = entryOf(path, theme);
    if (entry === undefined) return { kind: 'absent', path, theme };
    const { value, typeFrom, deprecated, description } = entry;
    const facts = {
      path,
      theme,
      deprecated,
      description,
      extensions: entry.extensions(),
      declarations: entry.declarations(),
      chain: chainOf(entry, theme),
    };
    if (value !== null && typeFrom !== null) return { kind: 'value', ...facts, value, typeFrom };
    problemsOf ??= groupBy(
      problems.filter(({ level }) => level === 'error'),
      ({ token }) => token,
    );
    const own = (problemsOf.get(path) ?? []).filter((p) => p.themes.length === 0 || p.themes.includes(theme));
    return { kind: 'invalid', ...facts, problems: own };
  }

  function colorOf(path: string, theme: string): Color | null {
    const value = entryOf(path, theme)?.value;
    if (value?.type !== 'color') return null;
    const known = colours.get(value.value);
    if (known !== undefined) return known;
    const color = colorOfValue(value.value);
    colours.set(value.value, color);
    return color;
  }

  function usersIn(theme: string): ReadonlyMap<string, readonly string[]> {
    const known = usersByTheme.get(theme);
    if (known !== undefined) return known;
    const users = new Map<string, string[]>();
    for (const path of byTheme.get(theme)?.paths ?? []) {
      const refers = entryOf(path, theme)?.refers ?? NOBODY;
      for (const target of refers.length > 1 ? new Set(refers) : refers) {
        const list = users.get(target);
        if (list === undefined) users.set(target, [path]);
        else list.push(path);
      }
    }
    usersByTheme.set(theme, users);
    return users;
  }

  function users(path: string, theme?: string): readonly string[] {
    if (theme !== undefined) return usersIn(theme).get(path) ?? NOBODY;
    const known = usersAnywhere.get(path);
    if (known !== undefined) return known;
    const lists = themes.flatMap((each) => usersIn(each.theme).get(path) ?? []);
    const all = lists.length === 0 ? NOBODY : [...new Set(lists)];
    usersAnywhere.set(path, all);
    return all;
  }

  function dependents(path: string, theme: string): readonly string[] {
    const found = new Set<string>();
    const waiting = [path];
    for (let here = waiting.pop(); here !== undefined; here = waiting.pop()) {
      for (const user of users(here, theme)) {
        if (found.has(user) || user === path) continue;
        found.add(user);
        waiting.push(user);
      }
    }
    return [...found];
  }

  /** Each walk notes the end for all tokens it came by, so that a long chain is walked once and not once for each of its tokens. */
  function stepOf(path: string, theme: string): string | null {
    const ends = endsIn(theme);
    const way: string[] = [];
    const places = new Map<string, number>();
    let here = entryOf(path, theme);
    while (here !== undefined && !ends.has(here.path) && !places.has(here.path)) {
      places.set(here.path, way.length);
      way.push(here.path);
      const next = nextOf(here, theme);
      if (next === undefined) ends.set(here.path, here.path);
      else here = next;
    }
    if (here === undefined) return null;
    // In a loop each token is its own end; what leads into the loop ends where it meets it.
    const loopFrom = places.get(here.path) ?? way.length;
    const end = ends.get(here.path) ?? here.path;
    for (const [place, met] of way.entries()) if (!ends.has(met)) ends.set(met, place < loopFrom ? end : met);
    return ends.get(path) ?? null;
  }

  function endsIn(theme: string): Map<string, string> {
    const known = endsByTheme.get(theme) ?? new Map<string, string>();
    endsByTheme.set(theme, known);
    return known;
  }

  const graph: TokenGraph = {
    themes: themes.map(({ theme }) => theme),
    tokens: tokensOf(themes),
    problems,
    get ramps() {
      return (ramps ??= findRamps(graph, settings.ramps ?? []));
    },
    resolve,
    declarationsOf: (path, theme) => entryOf(path, theme)?.declarations() ?? [],
    governor: (path, theme) => entryOf(path, theme)?.governor ?? null,
    deprecationOf: (path, theme) => entryOf(path, theme)?.deprecated ?? false,
    colorOf,
    users,
    dependents,
    stepOf,
  };
  return graph;
}

function tokensOf(themes: readonly ThemeEntries[]): ReadonlyMap<string, TokenInfo> {
  const names = new Map<string, string[]>();
  for (const { theme, paths } of themes) {
    for (const path of paths) {
      const list = names.get(path);
      if (list === undefined) names.set(path, [theme]);
      else list.push(theme);
    }
  }
  return new Map([...names].map(([path, list]) => [path, { path, themes: list }]));
}
