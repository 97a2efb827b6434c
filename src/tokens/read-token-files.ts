// Token files → the token graph: a resolver document, or a common list of files with one list per theme.
import { createGraph } from './create-graph.ts';
import type { GraphSettings } from './create-graph.ts';
import { expandGroups } from './expand-groups.ts';
import type { Layer } from './flatten.ts';
import { createFlattener } from './flatten.ts';
import type { GraphEntry, ThemeEntries, TokenGraph } from './graph.ts';
import { graphEntry } from './graph-entry.ts';
import { groupBy } from './group-by.ts';
import type { JsonObject, Source } from './json/json-node.ts';
import { parsePointer, walkPointer } from './json/pointer.ts';
import { createLister } from './list-tokens.ts';
import type { Loader, ReadText } from './load-source.ts';
import { createLoader, rootObject } from './load-source.ts';
import type { FoundProblem, ProblemList } from './problem.ts';
import { createProblemList } from './problem.ts';
import type { LiteralReadings } from './resolve-one.ts';
import type { ResolvedTokens } from './resolve-tokens.ts';
import { resolveTokens } from './resolve-tokens.ts';
import type { ResolvedToken } from './resolved-token.ts';
import type { PlacedTree, ResolverDocument } from './resolver/resolver-document.ts';
import { readResolverDocument, treesOf } from './resolver/resolver-document.ts';
import { readResolverInput } from './resolver/resolver-input.ts';
import { createSourceReader } from './resolver/resolver-sources.ts';
import type { GroupNode } from './tree.ts';
import { readTree } from './tree.ts';

export interface ReadOptions extends GraphSettings {
  readonly readText: ReadText;
  /** Older notations are errors. */
  readonly strict?: boolean;
  /** Accept comments in JSON. */
  readonly comments?: boolean;
}

/** Modifier → context; not yet judged. */
export type ResolverInput = Readonly<Record<string, unknown>>;

export interface ResolverFiles {
  /** Path of the resolver document, as `readText` understands it. */
  readonly resolver: string;
  /** Theme → input. */
  readonly themes: Readonly<Record<string, ResolverInput>>;
}

export interface ThemeFiles {
  /** Files common to all themes, in the order they merge; `file#/part` takes a part of a file. */
  readonly base: readonly string[];
  /** Theme → its files, laid over the common ones. */
  readonly themes: Readonly<Record<string, readonly string[]>>;
}

/** The graph, with what the resolver document says about itself; never throws for what stands in files. */
export interface ReadTokens {
  readonly graph: TokenGraph;
  /** Modifier → its contexts; null without a usable resolver document. */
  readonly modifiers: ReadonlyMap<string, readonly string[]> | null;
  /** Product of the context counts. */
  readonly permutations: number | null;
  /** Tokens that two or more modifiers set: these are not independent, and the order of resolution decides (R2.1). */
  readonly contested: readonly { readonly token: string; readonly modifiers: readonly string[] }[];
}

export function readTokenFiles(files: ResolverFiles | ThemeFiles, options: ReadOptions): ReadTokens {
  const problems = createProblemList(options.strict === true);
  const loader = createLoader(options.readText, problems.add, { comments: options.comments === true });
  if ('base' in files) {
    const themes = treesOfFiles(files, loader, problems);
    return { graph: graphOf(themes, new Set(), problems, options), modifiers: null, permutations: null, contested: [] };
  }
  const found = readDocument(files.resolver, loader, problems);
  if (found === null) {
    const nothing = Object.keys(files.themes).map((theme) => ({ theme, trees: [] }));
    return { graph: graphOf(nothing, new Set(), problems, options), modifiers: null, permutations: null, contested: [] };
  }
  const { document, root } = found;
  const themes = Object.entries(files.themes).map(([theme, input]) => {
    const chosen = readResolverInput(input, document.modifiers, root, (fault) => {
      problems.add(fault, theme);
    });
    return { theme, trees: chosen === null ? [] : treesOf(document, chosen) };
  });
  const everywhere = document.steps.flatMap((step) =>
    step.kind === 'set' ? step.sources : [...step.modifier.contexts.values()].flat(),
  );
  return {
    graph: graphOf(themes, new Set([root.source]), problems, options, everywhere),
    modifiers: new Map([...document.modifiers].map(([name, { contexts }]) => [name, [...contexts.keys()]])),
    permutations: document.permutations,
    contested: contestedTokens(document),
  };
}

function contestedTokens(document: ResolverDocument): ReadTokens['contested'] {
  const settings = document.steps.flatMap((step) => {
    if (step.kind === 'set') return [];
    const { name, contexts } = step.modifier;
    const trees = [...contexts.values()].flat().map((root) => readTree(root, () => undefined));
    return [...new Set(trees.flatMap(tokenPaths))].map((token) => ({ token, name }));
  });
  return [...groupBy(settings, ({ token }) => token)]
    .map(([token, all]) => ({ token, modifiers: [...new Set(all.map(({ name }) => name))] }))
    .filter(({ modifiers }) => modifiers.length > 1);
}

function tokenPaths(group: GroupNode): readonly string[] {
  return [...group.children.values()].flatMap((child) => (child.kind === 'token' ? [child.path] : tokenPaths(child)));
}

function readDocument(
  file: string,
  loader: Loader,
  problems: ProblemList,
): { readonly document: ResolverDocument; readonly root: JsonObject } | null {
  const source = loader.load(file);
  if (source === null) {
    problems.add(unreadable(file));
    return null;
  }
  const faults: FoundProblem[] = [];
  const root = rootObject(source, (fault) => faults.push(fault));
  const document =
    root === null
      ? null
      : readResolverDocument(
          root,
          createSourceReader(loader, (f) => faults.push(f)),
          (f) => faults.push(f),
        );
  // What is faulty may not have been understood: then nothing is called unread.
  const isFaulty = problems.hasErrorIn(faults);
  problems.addAll(faults.filter(({ code }) => code !== 'set-unused' || !isFaulty));
  const stops = isFaulty || !loader.isSound(source);
  return document === null || root === null || stops ? null : { document, root };
}

function treesOfFiles(files: ThemeFiles, loader: Loader, problems: ProblemList): readonly ThemeTrees[] {
  const read = (address: string): JsonObject[] => {
    const hash = address.indexOf('#');
    const file = hash === -1 ? address : address.slice(0, hash);
    const source = loader.load(file);
    if (source === null) {
      problems.add(unreadable(file));
      return [];
    }
    const root = rootObject(source, problems.add);
    const segments = hash === -1 ? [] : parsePointer(address.slice(hash + 1));
    const part = root === null || segments === null ? undefined : walkPointer(root, segments);
    if (part?.kind === 'object') {
      if (part.members.length === 0) problems.add(empty(part, address));
      return [part];
    }
    if (root !== null) {
      const expected = 'a place in the file where an object stands';
      problems.add({ code: 'bad-pointer', token: '', at: root, found: address, expected, hint: 'Write file#/group.' });
    }
    return [];
  };
  const base = files.base.flatMap(read).map((root): PlacedTree => ({ root, origin: { kind: 'set', name: 'base' } }));
  return Object.entries(files.themes).map(([theme, list]) => ({
    theme,
    trees: [
      ...base,
      ...list.flatMap(read).map((root): PlacedTree => ({ root, origin: { kind: 'modifier', name: 'theme', context: theme } })),
    ],
  }));
}

function empty(at: JsonObject, address: string): FoundProblem {
  const hint = 'Put the tokens in, or take the file out of the configuration.';
  return { code: 'no-tokens', token: '', at, found: `${address} without a single token`, expected: 'groups and tokens', hint };
}

function unreadable(file: string): FoundProblem {
  const at = { source: { file, text: '', root: null }, start: 0, end: 0 };
  return {
    code: 'source-missing',
    token: '',
    at,
    found: 'no readable file',
    expected: 'a token file',
    hint: 'Check the path in the configuration.',
  };
}

interface ThemeTrees {
  readonly theme: string;
  readonly trees: readonly PlacedTree[];
}

/** @param everywhere trees that no theme may use, judged all the same */
function graphOf(
  themes: readonly ThemeTrees[],
  documents: ReadonlySet<Source>,
  problems: ProblemList,
  options: ReadOptions,
  everywhere: readonly JsonObject[] = [],
): TokenGraph {
  const groups = new Map<JsonObject, GroupNode>();
  const treeOf = (root: JsonObject): GroupNode => {
    const known = groups.get(root);
    if (known !== undefined) return known;
    const tree = readTree(root, problems.add);
    groups.set(root, tree);
    return tree;
  };
  for (const root of everywhere) treeOf(root);
  const flatten = createFlattener();
  const list = createLister();
  const literals: LiteralReadings = new Map();
  let previous: ResolvedTokens | null = null;
  const made = new Map<ResolvedToken, GraphEntry>();
  const entryOf = (token: ResolvedToken | undefined): GraphEntry | undefined => {
    if (token === undefined) return undefined;
    const known = made.get(token);
    if (known !== undefined) return known;
    const entry = graphEntry(token);
    made.set(token, entry);
    return entry;
  };
  const entries = themes.map(({ theme, trees }): ThemeEntries => {
    const layers = trees.map(({ root, origin }): Layer => ({ root: treeOf(root), origin }));
    const report = (fault: FoundProblem): void => {
      problems.add(fault, theme);
    };
    const root = expandGroups(flatten(layers, report), report);
    const listed = list(root, report);
    const strict = options.strict === true;
    const tokens = resolveTokens(listed, { root, strict, literals, documents, report, previous });
    previous = tokens;
    const found = new Array<GraphEntry | undefined>(tokens.results.length).fill(undefined);
    const find = (path: string): GraphEntry | undefined => {
      const i = tokens.indexOf.get(path);
      return i === undefined ? undefined : (found[i] ??= entryOf(tokens.results[i]));
    };
    return { theme, paths: [...tokens.indexOf.keys()], find };
  });
  return createGraph(entries, problems.toProblems(), options);
}
