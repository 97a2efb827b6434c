// Apps without token files: the page's own custom properties stand in for tokens. What they compute to is served with every view; which
// of them points at which was found by dyeing (a paint names its property and the step behind it).
import type { Color } from '../../colour/color.ts';
import { findColor } from '../../colour/parse-color.ts';
import { builtIn } from '../../colour/built-color.ts';
import type { Sample } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';
import type { CustomProperty } from '../../tokens/css/read-custom-properties.ts';
import { readCustomProperties } from '../../tokens/css/read-custom-properties.ts';
import { builtTokens } from './built-tokens.ts';
import type { ServedProperty } from './build-faults.ts';
import { isSameColor } from '../cases/paint-ref.ts';
import type { Definition, TableTheme, TokenEntry, TokenTable } from './token-table.ts';
import { localKey } from './token-table.ts';

export interface PageTable {
  /** All samples of the run, in any order. */
  add(view: ViewRef, samples: Iterable<Sample>): void;
  /**
   * @param served values on the root of each page
   * @param standIns where nothing declares a property, the colour that all its uses fall back to
   */
  close(served: Iterable<ServedProperty>, standIns?: Iterable<ServedProperty>): TokenTable;
}

export function openPageTable(settings: {
  readonly themes: readonly TableTheme[];
  readonly reference: string;
  /** Globs over names that are ramps; told from the references when empty. */
  readonly ramps?: readonly string[];
}): PageTable {
  const { themes, reference, ramps = [] } = settings;
  /** Theme → property → property at the end of its chain. */
  const ends = new Map(themes.map(({ name }) => [name, new Map<string, string>()]));
  /** Theme → property → the one that its declaration takes its value from, where that was looked up. */
  const nexts = new Map(themes.map(({ name }) => [name, new Map<string, string>()]));
  const locals = new Map<string, string>();
  /** Custom property → the function that its declaration builds its colour with; functions that rules use themselves. */
  const builtFor = new Map<string, string>();
  const builtInRules = new Set<string>();
  return {
    add: (view, samples) => {
      const here = ends.get(view.theme);
      if (here === undefined) return;
      for (const sample of samples) {
        for (const [property, step] of linksIn(sample)) keepLeast(here, property, step);
        for (const [property, next] of hopsIn(sample)) keepLeast(nexts.get(view.theme) ?? here, property, next);
        for (const { property, built } of builtBy(sample)) {
          if (property.startsWith('--')) keepLeast(builtFor, property, built);
          else builtInRules.add(built);
        }
        const local = localIn(sample);
        if (local !== null) keepLeast(locals, localKey(view.theme, local.property, local.color), local.from);
      }
    },
    close: (served, standIns = []) => {
      const values = new Map(themes.map(({ name }) => [name, new Map<string, string>()]));
      const texts = new Map(themes.map(({ name }) => [name, new Map<string, string>()]));
      for (const { theme, name, value } of served) {
        const here = values.get(theme);
        keepLeast(texts.get(theme) ?? new Map<string, string>(), name, value.trim());
        if (here !== undefined && colorIn(value) !== null) keepLeast(here, name, value.trim());
      }
      const declared = new Map([...values].map(([theme, here]) => [theme, new Set(here.keys())]));
      for (const { theme, name, value } of standIns) {
        // One that no theme declares is an offer of the page's author, not a token of the set.
        const isToken = [...declared.values()].some((names) => names.has(name));
        const here = declared.get(theme)?.has(name) === true || !isToken ? undefined : values.get(theme);
        if (here !== undefined && colorIn(value) !== null) keepLeast(here, name, value.trim());
      }
      const targets = targetsIn(values, { ends, nexts });
      const names = [...new Set([...values.values()].flatMap((map) => [...map.keys()]))].toSorted();
      const graph = readCustomProperties(
        new Map(themes.map(({ name }) => [name, declarations(values.get(name), targets.get(name), names)])),
        ramps.length === 0 ? {} : { ramps },
      );
      const tokens = names.map((name) => entryOf(name, themes, values, targets));
      return {
        themes,
        reference: Math.max(
          0,
          themes.findIndex(({ name }) => name === reference),
        ),
        tokens: builtTokens(tokens, { themes, texts, builtFor, builtInRules }),
        ramps: graph.ramps.map(({ family, steps }) => ({ name: family, steps })),
        locals,
      };
    },
  };
}

/** A colour alone, or the first one in a longer value: of a shadow, a border, a gradient. */
function colorIn(value: string): Color | null {
  return findColor(value) ?? findColor(WITHIN.exec(value)?.[0] ?? '');
}

const WITHIN = /#[\da-f]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color)\([^()]*\)/iu;

function declarations(
  values: ReadonlyMap<string, string> | undefined,
  targets: ReadonlyMap<string, string> | undefined,
  names: readonly string[],
): readonly CustomProperty[] {
  return names.flatMap((name) => {
    const value = values?.get(name);
    if (value === undefined) return [];
    const target = targets?.get(name);
    return [{ name, value: target === undefined ? value : `var(${target})` }];
  });
}

type ByTheme = ReadonlyMap<string, ReadonlyMap<string, string>>;

/**
 * What each property points at in each theme: the one its declaration names; where that was looked up in another theme only, the same if
 * the colours agree here too; else the end of its chain.
 */
function targetsIn(values: ByTheme, { ends, nexts }: { readonly ends: ByTheme; readonly nexts: ByTheme }): ByTheme {
  const anywhere = new Map<string, string>();
  for (const here of nexts.values()) for (const [name, next] of here) keepLeast(anywhere, name, next);
  return new Map(
    [...values].map(([theme, here]) => [
      theme,
      new Map(
        [...here.keys()].flatMap((name) => {
          const borrowed = anywhere.get(name);
          const tried = [nexts.get(theme)?.get(name), leadsBack(anywhere, name) ? undefined : borrowed, ends.get(theme)?.get(name)];
          const target = tried.find((each) => each !== undefined && each !== name && isSameIn(here, name, each));
          return target === undefined ? [] : [[name, target] as const];
        }),
      ),
    ]),
  );
}

/** Themes that refer in opposite ways make no chain together. */
function leadsBack(nexts: ReadonlyMap<string, string>, name: string): boolean {
  const seen = new Set<string>();
  for (let at = nexts.get(name); at !== undefined && !seen.has(at); at = nexts.get(at)) {
    if (at === name) return true;
    seen.add(at);
  }
  return false;
}

/** A component may set a property anew for itself, to something else than the root's. */
function isSameIn(values: ReadonlyMap<string, string> | undefined, one: string, other: string): boolean {
  const [a, b] = [one, other].map((name) => colorIn(values?.get(name) ?? ''));
  return a !== null && b !== null && a !== undefined && b !== undefined && isSameColor(a, b);
}

/** Nobody says which declaration governs which themes: equal in two themes is taken for one. */
function entryOf(
  name: string,
  themes: readonly TableTheme[],
  values: ReadonlyMap<string, ReadonlyMap<string, string>>,
  targets: ReadonlyMap<string, ReadonlyMap<string, string>>,
): TokenEntry {
  const definitions = themes.map(({ name: theme }): Definition | null => {
    const value = values.get(theme)?.get(name);
    const color = value === undefined ? null : colorIn(value);
    if (value === undefined || color === null) return null;
    const target = targets.get(theme)?.get(name);
    if (target !== undefined) return { kind: 'alias', target, declared: { id: `${name} ${target}` } };
    return { kind: 'literal', color, declared: { id: `${name} ${value}` } };
  });
  const isComposite = [...values.values()].some((map) => findColor(map.get(name) ?? '#000') === null);
  return { path: name, properties: [name], definitions, ...(isComposite ? { isComposite } : {}) };
}

function* linksIn(sample: Sample): Generator<readonly [property: string, step: string]> {
  if (sample.kind === 'picture') return;
  const own = sample.kind === 'text' ? sample.ink : sample.paint;
  const paints = [own, ...(sample.kind === 'shadow' ? [] : sample.layers.flatMap((layer) => layer.paint ?? []))];
  for (const { origin } of paints) {
    if (origin.kind !== 'token' || origin.step === undefined || origin.fallback === true) continue;
    yield [origin.property, origin.step];
    if (origin.pageWide !== undefined) yield [origin.pageWide, origin.step];
  }
}

/** From declaration to declaration, as they were looked up. */
function* hopsIn(sample: Sample): Generator<readonly [property: string, next: string]> {
  if (sample.kind === 'picture') return;
  for (const { property, value } of (sample.kind === 'text' ? sample.ink : sample.paint).written ?? []) {
    const next = WHOLE.exec(value)?.[1];
    if (property.startsWith('--') && next !== undefined) yield [property, next];
  }
}

/** Functions that take a colour's numbers from custom properties, as far as declarations were looked up. */
function* builtBy(sample: Sample): Generator<{ readonly property: string; readonly built: string }> {
  if (sample.kind === 'picture') return;
  for (const { property, value } of (sample.kind === 'text' ? sample.ink : sample.paint).written ?? []) {
    const built = value.includes('var(') ? builtIn(value) : null;
    if (built !== null) yield { property, built };
  }
}

/** One custom property and nothing else. */
const WHOLE = /^var\(\s*(--[^\s,)]+)\s*\)$/u;

/** A property that a component sets to another one for itself: dyes stop there where some rule refers from that one to a third. */
function localIn(sample: Sample): { readonly property: string; readonly color: string; readonly from: string } | null {
  if (sample.kind === 'picture') return null;
  const { origin, color, written = [] } = sample.kind === 'text' ? sample.ink : sample.paint;
  if (origin.kind !== 'token' || origin.step !== undefined) return null;
  const hop = written.find(({ property }) => property === origin.property);
  const from = hop === undefined ? undefined : WHOLE.exec(hop.value)?.[1];
  return from === undefined ? null : { property: origin.property, color, from };
}

/** Where two scopes or pages differ, the first in order: the result must not hang on which came first. */
function keepLeast(map: Map<string, string>, key: string, value: string): void {
  const known = map.get(key);
  if (known === undefined || value < known) map.set(key, value);
}
