// A repair → edited style sheets, by its words alone: as somebody would who reads the printed lines and knows nothing of triage.
import { readFileSync, writeFileSync } from 'node:fs';
import { toCssText } from '../src/colour/format-color.ts';
import { findColor } from '../src/colour/parse-color.ts';
import type { Repair, RepairPart } from '../src/samples/finding.ts';

export interface Sheets {
  /** Files with CSS, in the order in which the page loads them; rules are added to the last one, the app's own. */
  readonly files: readonly string[];
  /** What the root wears in a theme: `[data-theme=dark]`. */
  readonly rootOf: (theme: string) => string;
}

/** @returns parts for which no declaration was found */
export function putIn(sheets: Sheets, repair: Repair): readonly RepairPart[] {
  return [repair, ...(repair.also ?? [])].filter((part) => !putInPart(sheets, part, repair.themes));
}

/** @returns whether a declaration was changed or a rule added */
function putInPart(sheets: Sheets, part: RepairPart, themes: readonly string[]): boolean {
  switch (part.change) {
    case 'value':
      if (part.components === undefined) return define(sheets, part, themes, part.to);
      return part.components.every(({ property, from, to }) => define(sheets, { of: property, from }, themes, to));
    case 'alias':
      return define(sheets, part, themes, `var(${part.to})`);
    case 'use':
      return use(sheets, part);
    case 'style': {
      const { of, style } = part;
      const isIt = (selector: string, property: string): boolean => selector === of && property === style.property;
      return edit(sheets, (selector, property) => (isIt(selector, property) ? style.to : null)) > 0;
    }
    case 'add':
    case 'rebuild':
      return false;
  }
}

/** Where a theme declares it, there; what it has from the root alone is declared anew for the theme. */
function define(sheets: Sheets, { of, from }: Pick<RepairPart, 'of' | 'from'>, themes: readonly string[], to: string): boolean {
  const roots = themes.map(sheets.rootOf);
  const isIt = (property: string, value: string): boolean => property === of && isSame(value, from);
  const changed = edit(sheets, (selector, property, value) =>
    isIt(property, value) && roots.some((root) => selector.includes(root)) ? to : null,
  );
  if (changed > 0) return true;
  const isDeclared = edit(sheets, (_, property, value) => (isIt(property, value) ? value : null)) > 0;
  if (isDeclared) addRule(sheets, roots.join(', '), of, to);
  return isDeclared;
}

function use(sheets: Sheets, part: RepairPart & { readonly change: 'use' }): boolean {
  const { what, rule, place } = part.drawn ?? { place: part.of };
  const by = part.to.includes('(') ? part.to : `var(${part.to})`;
  const property = what === 'surface' ? 'background-color' : 'color';
  if (rule !== undefined) {
    const drawn = rule.split(',').map((each) => `${place} ${each.trim()}`);
    addRule(sheets, drawn.join(', '), property, by);
    return true;
  }
  // “text on .card”: of the rule itself, or of what is in it.
  const isThere = (selector: string): boolean => selector === place || (what !== undefined && selector.includes(place));
  if (edit(sheets, (selector, _, value) => (isThere(selector) ? replaced(value, part.from, by) : null)) > 0) return true;
  if (what !== undefined) addRule(sheets, place, property, by);
  return what !== undefined;
}

function addRule({ files }: Sheets, selector: string, property: string, value: string): void {
  const own = files.at(-1);
  if (own !== undefined) writeFileSync(own, `${readFileSync(own, 'utf8')}\n${selector} { ${property}: ${value}; }\n`);
}

function replaced(value: string, from: string, by: string): string | null {
  const literal = /#[\da-f]{3,8}\b|\brgba?\([^()]*\)/iu;
  const [found] = literal.exec(value) ?? [];
  if (found !== undefined && isSame(found, from)) return value.replace(found, by);
  if (isSame(value, from)) return by;
  // What is set to another property's channels (`rgba(var(--x-rgb), …)`) is written anew.
  return /-rgb\)/u.test(value) ? by : null;
}

function isSame(one: string, other: string): boolean {
  const [a, b] = [findColor(one.trim()), findColor(other)];
  return a !== null && b !== null ? toCssText(a) === toCssText(b) : one.trim() === other || one.trim() === `var(${other})`;
}

type ChangeDeclaration = (selector: string, property: string, value: string) => string | null;

/** @returns how many declarations were given a value */
function edit({ files }: Sheets, change: ChangeDeclaration): number {
  let count = 0;
  for (const file of files) {
    const text = readFileSync(file, 'utf8').replace(/([^{}]+)\{([^{}]*)\}/gu, (rule: string, head: string, body: string) => {
      const selector = head
        .replace(/\/\*.*?\*\//gsu, '')
        .trim()
        .replace(/\s+/gu, ' ');
      const lines = body.replace(
        /(?<before>^|;)(?<space>\s*)(?<property>[\w-]+)\s*:\s*(?<value>[^;]+)/gu,
        (...found: unknown[]) => {
          const { before = '', space = '', property = '', value = '' } = found.at(-1) as Readonly<Record<string, string>>;
          const important = /\s*!important\s*$/u.exec(value)?.[0] ?? '';
          const next = change(selector, property, value.slice(0, value.length - important.length));
          if (next === null) return String(found[0]);
          count += 1;
          return `${before}${space}${property}: ${next}${important}`;
        },
      );
      return lines === body ? rule : `${head}{${lines}}`;
    });
    writeFileSync(file, text);
  }
  return count;
}
