// Page against token files: a custom property that the page computes to another colour than the files resolve to in that theme.
import type { Color } from '../../colour/color.ts';
import { findColor } from '../../colour/parse-color.ts';
import type { IsStale } from '../cases/paint-ref.ts';
import { isSameColor } from '../cases/paint-ref.ts';
import type { TableIndex } from './table-index.ts';

/** A custom property as one view computes it on its root. */
export interface ServedProperty {
  readonly theme: string;
  readonly name: string;
  readonly value: string;
}

export interface BuildFault {
  readonly token: number;
  readonly property: string;
  readonly theme: number;
  /** As the page has it. */
  readonly served: Color;
  readonly resolved: Color;
}

/**
 * A property that differs only because what it points at differs is not listed: the fault lies there.
 * Absent properties are no fault, an app need not serve every token; nor are values that are no colours.
 * @param served the same property may come from many views; every differing value is listed once
 * @returns sorted by token and theme
 */
export function findBuildFaults(index: TableIndex, served: Iterable<ServedProperty>): readonly BuildFault[] {
  const pages = servedColors(index, served);
  const found: BuildFault[] = [];
  pages.forEach((colors, theme) => {
    for (const [token, { property, values }] of colors) {
      const resolved = index.colorOf(theme, token);
      if (resolved === null) continue;
      const [, target] = index.chainOf(theme, token);
      const targetServed = target === undefined ? [] : [...(colors.get(target)?.values.values() ?? [])];
      for (const color of values.values()) {
        if (isSameColor(color, resolved) || targetServed.some((each) => isSameColor(each, color))) continue;
        found.push({ token, property, theme, served: color, resolved });
      }
    }
  });
  return found.sort((one, other) => one.token - other.token || one.theme - other.theme);
}

type Served = ReadonlyMap<number, { readonly property: string; readonly values: ReadonlyMap<string, Color> }>;

function servedColors(index: TableIndex, served: Iterable<ServedProperty>): readonly Served[] {
  const themes = index.table.themes.map(
    () => new Map<number, { readonly property: string; readonly values: Map<string, Color> }>(),
  );
  for (const { theme, name, value } of served) {
    const token = index.tokenOfProperty(name);
    const colors = themes[index.themeAt(theme)];
    const color = token < 0 || colors === undefined ? null : findColor(value);
    if (color === null || colors === undefined) continue;
    let known = colors.get(token);
    if (known === undefined) colors.set(token, (known = { property: name, values: new Map<string, Color>() }));
    known.values.set(value.trim(), color);
  }
  return themes;
}

/** Whether a token or one that it points at is served otherwise than its files have it. */
export function hangsOnStale(index: TableIndex, faults: readonly BuildFault[]): IsStale {
  const stale = staleTokens(faults, index.table.themes.length);
  return (theme, token) => index.chainOf(theme, token).some((each) => stale[theme]?.has(each) === true);
}

/** For each theme, the tokens whose own declaration in the page is stale. */
export function staleTokens(faults: readonly BuildFault[], themes: number): readonly ReadonlySet<number>[] {
  return Array.from(
    { length: themes },
    (_, theme) => new Set(faults.flatMap((fault) => (fault.theme === theme ? [fault.token] : []))),
  );
}
