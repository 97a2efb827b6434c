// Finds token files in a folder, and how their themes and names fit an app that was looked at.
import { readFileSync } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import path from 'node:path';
import type { ObservedTheme } from '../plan/observed-app.ts';
import type { TokenNaming } from '../plan/configuration.ts';
import { propertyNames } from '../tokens/property-names.ts';
import { readTokenFiles } from '../tokens/read-token-files.ts';

export type ProposedTokens =
  | {
      readonly kind: 'resolver';
      readonly file: string;
      /** Theme → modifier → context. */
      readonly inputs: Readonly<Record<string, Readonly<Record<string, string>>>>;
      readonly css: TokenNaming;
      readonly fit: NamingFit;
    }
  | {
      readonly kind: 'files';
      readonly base: readonly string[];
      readonly themes: Readonly<Record<string, readonly string[]>>;
      readonly css: TokenNaming;
      readonly fit: NamingFit;
    };

/** Of how many tokens the page declares the custom property. */
export interface NamingFit {
  readonly tokens: number;
  readonly onPage: number;
}

const MOST_FILES = 2_000;
/** Token files are a few megabytes at most (found on real sets: 0.1–3 MB). */
const MOST_BYTES = 10_000_000;
const SKIPPED = ['node_modules', 'package.json', 'package-lock.json', 'tsconfig.json', 'gloam.config.json', 'gloam.exempt.json'];

/**
 * @param folder absolute; files are named relative to it, with forward slashes
 * @param properties custom properties that the app's style sheets declare, without `--`
 * @returns null when nothing there looks like tokens
 */
export async function findTokens(
  folder: string,
  themes: readonly ObservedTheme[],
  properties: readonly string[],
): Promise<ProposedTokens | null> {
  const { resolvers, tokenFiles } = await sortFiles(folder);
  const read = { readText: (file: string): string | null => readText(path.join(folder, file)) };
  const names = themes.map((theme) => theme.name);

  const readable = resolvers.flatMap((file) => {
    const { modifiers } = readTokenFiles({ resolver: file, themes: {} }, read);
    return modifiers === null ? [] : [{ file, inputs: inputsFor(themes, modifiers) }];
  });
  const best = readable.sort((a, b) => chosen(b.inputs) - chosen(a.inputs))[0];
  if (best !== undefined) {
    const { graph } = readTokenFiles({ resolver: best.file, themes: best.inputs }, read);
    return { kind: 'resolver', ...best, ...nameTokens([...graph.tokens.keys()], properties) };
  }
  if (tokenFiles.length === 0) return null;
  const ofTheme = (file: string): string | undefined => names.find((name) => `-${wordsOf(file)}-`.includes(`-${wordsOf(name)}-`));
  const base = tokenFiles.filter((file) => ofTheme(file) === undefined);
  const own = Object.fromEntries(
    names.flatMap((name) => {
      const files = tokenFiles.filter((file) => ofTheme(file) === name);
      return files.length === 0 ? [] : [[name, files]];
    }),
  );
  const { graph } = readTokenFiles({ base, themes: { ...Object.fromEntries(names.map((name) => [name, []])), ...own } }, read);
  return { kind: 'files', base, themes: own, ...nameTokens([...graph.tokens.keys()], properties) };
}

async function sortFiles(
  folder: string,
): Promise<{ readonly resolvers: readonly string[]; readonly tokenFiles: readonly string[] }> {
  const resolvers: string[] = [];
  const tokenFiles: string[] = [];
  let seen = 0;
  const visit = async (inside: string): Promise<void> => {
    const entries = await readdir(path.join(folder, inside), { withFileTypes: true }).catch(() => []);
    for (const entry of entries.sort((a, b) => a.name.localeCompare(b.name))) {
      if (seen >= MOST_FILES) return;
      if (entry.name.startsWith('.') || SKIPPED.includes(entry.name)) continue;
      const name = inside === '' ? entry.name : `${inside}/${entry.name}`;
      if (entry.isDirectory()) await visit(name);
      else if (/\.(json|tokens)$/i.test(entry.name)) {
        seen += 1;
        const value = await readValue(path.join(folder, name));
        if (isResolver(value)) resolvers.push(name);
        else if (holdsTokens(value, 12)) tokenFiles.push(name);
      }
    }
  };
  await visit('');
  return { resolvers, tokenFiles };
}

async function readValue(file: string): Promise<unknown> {
  try {
    const facts = await stat(file);
    // Reading a pipe would wait for a writer.
    if (!facts.isFile() || facts.size > MOST_BYTES) return null;
    return JSON.parse(readFileSync(file, 'utf8').replace(/^\uFEFF/, ''));
  } catch {
    // What cannot be read is no token file that a run could use.
    return null;
  }
}

function readText(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}

/** Resolver Module 2025.10: a document has a version and an order of resolution. */
function isResolver(value: unknown): boolean {
  return typeof value === 'object' && value !== null && 'resolutionOrder' in value && Array.isArray(value.resolutionOrder);
}

/** Format Module 2025.10: an object with a `$value` is a token. */
function holdsTokens(value: unknown, levels: number): boolean {
  if (typeof value !== 'object' || value === null || Array.isArray(value) || levels === 0) return false;
  if ('$value' in value) return true;
  return Object.values(value).some((member) => holdsTokens(member, levels - 1));
}

/** A context called like the theme; else, for one called by its tone, the tone. Others take the modifier's default. */
function inputsFor(
  themes: readonly ObservedTheme[],
  modifiers: ReadonlyMap<string, readonly string[]>,
): Readonly<Record<string, Readonly<Record<string, string>>>> {
  return Object.fromEntries(
    themes.map((theme) => {
      const input = [...modifiers].flatMap(([modifier, contexts]) => {
        const find = (name: string): string | undefined => contexts.find((context) => context.toLowerCase() === name.toLowerCase());
        const context = find(theme.name) ?? find(theme.tone);
        return context === undefined ? [] : [[modifier, context] as const];
      });
      return [theme.name, Object.fromEntries(input)];
    }),
  );
}

function chosen(inputs: Readonly<Record<string, Readonly<Record<string, string>>>>): number {
  return new Set(Object.values(inputs).map((input) => JSON.stringify(input))).size;
}

/** `tokens/dusk.json` → `tokens-dusk-json` */
function wordsOf(text: string): string {
  return text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .join('-');
}

/** The naming under which most tokens are custom properties of the page; the plain one where none is better. */
export function nameTokens(
  paths: readonly string[],
  properties: readonly string[],
): { readonly css: TokenNaming; readonly fit: NamingFit } {
  const declared = new Set(properties.map((name) => `--${name}`));
  const count = (css: TokenNaming): number =>
    paths.filter((token) => propertyNames(token, [css]).some((name) => declared.has(name))).length;
  const prefixes = ['', ...commonest(properties.map((name) => name.split(/[-_]/)[0] ?? ''))];
  const drops = [[], ...commonest(paths.map((token) => token.split('.')[0] ?? '')).map((word) => [word])];
  const ways = prefixes.flatMap((prefix) =>
    drops.flatMap((drop) =>
      (['keep', 'kebab'] as const).flatMap((letters) =>
        (['-', '_'] as const).map((sep): TokenNaming => ({
          ...(prefix === '' ? {} : { prefix }),
          ...(drop.length === 0 ? {} : { drop }),
          ...(letters === 'keep' ? {} : { case: letters }),
          ...(sep === '-' ? {} : { sep }),
        })),
      ),
    ),
  );
  const best = ways
    .map((css) => ({ css, onPage: count(css), size: Object.keys(css).length }))
    .sort((a, b) => b.onPage - a.onPage || a.size - b.size)[0];
  if (best === undefined || best.onPage === 0) return { css: {}, fit: { tokens: paths.length, onPage: 0 } };
  return { css: best.css, fit: { tokens: paths.length, onPage: best.onPage } };
}

function commonest(words: readonly string[]): readonly string[] {
  const counts = new Map<string, number>();
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
  return [...counts]
    .filter(([word, n]) => word !== '' && n > 1)
    .sort((a, b) => b[1] - a[1])
    .slice(0, 3)
    .map(([word]) => word);
}
