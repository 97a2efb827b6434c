// Custom properties of a page, per theme → the token graph, for apps that have no token files. A property's path is its name,
// `--silt-100`; a value that is one `var()` is an alias.
import type { Color } from '../../colour/color.ts';
import { findColor } from '../../colour/parse-color.ts';
import type { GraphSettings } from '../create-graph.ts';
import { createGraph } from '../create-graph.ts';
import type { Declaration, GraphEntry, GraphValue, ThemeEntries, TokenGraph } from '../graph.ts';
import type { ProblemCode, TokenProblem } from '../problem.ts';
import { PROBLEM_LEVELS } from '../problem.ts';
import { strongComponents } from '../strong-components.ts';
import { MOST_NESTED, findVars, namesIn, wholeVar } from './find-vars.ts';

/** One declaration, as a style sheet has it. */
export interface CustomProperty {
  /** With the two dashes, without CSS escapes. */
  readonly name: string;
  readonly value: string;
  readonly file?: string;
  /** From 1. */
  readonly line?: number;
  readonly column?: number;
}

/** Substituted text may multiply (a property twice in a property twice …); browsers have such a limit too. Characters. */
const LONGEST_VALUE = 10_000;

/** @param themes theme → its declarations in the order of the cascade: of several with one name the last wins */
export function readCustomProperties(
  themes: ReadonlyMap<string, readonly CustomProperty[]>,
  settings: GraphSettings = {},
): TokenGraph {
  const problems = new Map<string, TokenProblem>();
  const entries = [...themes].map(([theme, properties]) => readTheme(theme, properties, problems));
  return createGraph(entries, [...problems.values()], settings);
}

interface Property {
  readonly name: string;
  readonly declared: readonly CustomProperty[];
  readonly value: string;
  readonly mentions: readonly string[];
}

/** `text`: after substitution, null when invalid at computed-value time; `next`: the property it is an alias of. */
interface Computed {
  readonly text: string | null;
  readonly next: string | null;
}

function readTheme(theme: string, declarations: readonly CustomProperty[], problems: Map<string, TokenProblem>): ThemeEntries {
  const properties = gather(declarations);
  const indexOf = new Map(properties.map(({ name }, i) => [name, i]));
  const edgesOf = (i: number): readonly number[] =>
    (properties[i]?.mentions ?? []).map((name) => indexOf.get(name)).filter((index) => index !== undefined);
  const computed = new Map<string, Computed>();

  for (const component of strongComponents(properties.length, properties.keys(), edgesOf)) {
    const looped = component.length > 1 || component.some((i) => edgesOf(i).includes(i));
    const members = component.map((i) => properties[i]).filter((property) => property !== undefined);
    for (const property of members) {
      if (looped) {
        computed.set(property.name, { text: null, next: null });
        const found = `a loop of var(): ${members
          .map(({ name }) => name)
          .slice(0, 8)
          .join(', ')}`;
        tell('ref-cycle', property, found, 'a chain that ends in a value', 'Give one of them a value of its own.');
      } else {
        computed.set(property.name, compute(property));
      }
    }
  }
  const made = new Map(properties.map((property) => [property.name, toEntry(property, computed.get(property.name))]));
  return { theme, paths: [...made.keys()], find: (path) => made.get(path) };

  function compute(property: Property): Computed {
    const uses = findVars(property.value);
    const text = substitute(property, property.value, 0);
    const whole = wholeVar(property.value, uses);
    return { text, next: whole === null || text === null ? null : aliasIn(whole.name, whole.fallback) };
  }

  /** The property a lone `var()` takes its value from: its own, or the one its fallback names. */
  function aliasIn(name: string, fallback: string | null): string | null {
    if (computed.get(name)?.text != null) return name;
    const inner = fallback === null ? null : wholeVar(fallback, findVars(fallback));
    return inner === null ? null : aliasIn(inner.name, inner.fallback);
  }

  function substitute(property: Property, value: string, depth: number): string | null {
    let out = '';
    let from = 0;
    for (const { name, fallback, start, end } of findVars(value)) {
      let text = computed.get(name)?.text ?? null;
      if (text === null && fallback !== null) {
        const hint = 'Define it, or take the fallback as the value: it hides that the token is missing.';
        tell('fallback-used', property, `${name}, which ${whyMissing(name)}`, 'a property with a value', hint);
        text = depth < MOST_NESTED ? substitute(property, fallback, depth + 1) : null;
      } else if (text === null) {
        const code = indexOf.has(name) ? 'ref-invalid-target' : 'ref-unresolved';
        tell(code, property, `${name}, which ${whyMissing(name)}`, 'a property with a value', 'Define it, or correct the name.');
      }
      if (text === null) return null;
      out += value.slice(from, start) + text;
      from = end;
      if (out.length > LONGEST_VALUE) {
        tell('too-large', property, 'a value that grows without measure', `at most ${String(LONGEST_VALUE)} characters`, '');
        return null;
      }
    }
    const all = (out + value.slice(from)).trim();
    // `initial` as a whole value makes a custom property invalid, as if it were not there.
    return all.toLowerCase() === 'initial' ? null : all;
  }

  function whyMissing(name: string): string {
    return indexOf.has(name) ? 'is invalid' : 'is not defined in this theme';
  }

  function tell(code: ProblemCode, property: Property, found: string, expected: string, hint: string): void {
    const { file = '', line = 0, column = 0 } = property.declared.at(-1) ?? {};
    const key = `${code} ${property.name} ${file} ${String(line)} ${String(column)} ${found}`;
    const known = problems.get(key);
    const level = PROBLEM_LEVELS[code];
    const place = { file, line, column, pointer: '' };
    const inThemes = [...(known?.themes ?? []), theme];
    problems.set(key, { level, code, token: property.name, ...place, found, expected, hint, themes: [...new Set(inThemes)] });
  }
}

function gather(declarations: readonly CustomProperty[]): readonly Property[] {
  const byName = new Map<string, CustomProperty[]>();
  for (const declaration of declarations) {
    const list = byName.get(declaration.name);
    if (list === undefined) byName.set(declaration.name, [declaration]);
    else list.push(declaration);
  }
  return [...byName].map(([name, declared]) => {
    const value = declared.at(-1)?.value ?? '';
    return { name, declared, value, mentions: namesIn(value) };
  });
}

function toEntry(property: Property, computed: Computed | undefined): GraphEntry {
  const { file = '', line = 0, column = 0 } = property.declared.at(-1) ?? {};
  const text = computed?.text ?? null;
  const next = computed?.next ?? null;
  return {
    path: property.name,
    value: text === null ? null : valueOf(text),
    typeFrom: text === null ? null : next === null ? { kind: 'text' } : { kind: 'reference', token: next },
    next,
    how: next === null ? 'none' : 'var',
    copyOf: null,
    refers: [...new Set(property.mentions)],
    deprecated: false,
    description: null,
    extensions: () => null,
    declarations: () => property.declared.map((each, i) => declarationOf(each, i === property.declared.length - 1)),
    governor: `${file}:${String(line)}:${String(column)}`,
  };
}

function declarationOf({ value, file = '', line = 0, column = 0 }: CustomProperty, wins: boolean): Declaration {
  return { file, line, column, pointer: '', origin: { kind: 'style' }, raw: value, wins };
}

function valueOf(text: string): GraphValue {
  const color = colorIn(text);
  if (color === null) return { type: 'text', value: text };
  const { r, g, b, alpha } = color;
  return { type: 'color', value: { colorSpace: 'srgb', components: [r, g, b], alpha, hex: null } };
}

/** Any text may stand in a custom property, and culori throws on some (`/0a`) instead of saying that they are no colours. */
function colorIn(text: string): Color | null {
  try {
    return findColor(text);
  } catch {
    return null;
  }
}
