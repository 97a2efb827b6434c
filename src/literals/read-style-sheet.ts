// Text of a CSS or SCSS file → its literal colours. Declarations are found by the parser; places always refer to the text as it is.
import type { AtRule, Container, Declaration, Document, Root } from 'postcss';
import { CssSyntaxError, parse as parseCss } from 'postcss';
import { parse as parseScss } from 'postcss-scss';
import { namesIn } from '../tokens/css/find-vars.ts';
import type { ValueColor } from './colors-in-value.ts';
import { colorsInValue } from './colors-in-value.ts';
import { lineIndex } from './line-index.ts';
import { propertyRole } from './property-role.ts';
import type { ReadSource, RuleColor, SourceLiteral, UnreadableSource } from './source-literal.ts';
import { isVariable } from './source-literal.ts';

export type StyleSyntax = 'css' | 'scss';

/** At-rules with descriptors instead of declarations: `var()` means nothing there (CSS Custom Properties 1, section 3). */
const DESCRIPTORS = new Set(['property', 'font-face', 'counter-style', 'font-palette-values', 'view-transition', 'page']);
/** At-rules of Sass whose text may hold colours. */
const SASS_RULES = new Set(['include', 'return', 'mixin', 'function', 'if', 'else', 'each', 'use', 'forward']);
/** Functions of CSS that take colours: `var()` works in them; others are worked out by Sass, which cannot know its value. */
const CSS_FUNCTIONS = /^(-\w+-)?(.*-gradient|color-mix|light-dark|drop-shadow|cross-fade|image|image-set|var|contrast-color)$/;

/** @param text without a byte-order mark */
export function readStyleSheet(text: string, syntax: StyleSyntax): ReadSource | UnreadableSource {
  const parsed = parse(text, syntax);
  if (parsed.kind === 'unreadable') return parsed;
  const placeOf = lineIndex(text);
  const literals: SourceLiteral[] = [];
  const uses = new Map<string, Set<string>>();
  const defines = new Map<string, number>();
  const plain = syntax === 'scss' ? blankLineComments : (value: string): string => value;

  parsed.root.walk((node) => {
    if (node.type === 'decl') readDeclaration(node);
    else if (node.type === 'atrule' && syntax === 'scss' && SASS_RULES.has(node.name)) readSassRule(node);
  });
  return { kind: 'read', literals, uses, defines };

  function readDeclaration(node: Declaration): void {
    const [from, to] = [node.source?.start?.offset, node.source?.end?.offset];
    if (from === undefined || to === undefined) return;
    const start = text.indexOf(':', text.indexOf(node.prop, from) + node.prop.length) + 1;
    // A nested group of declarations (`border: { … }`) ends where its own value does; its members are met by themselves.
    const value = plain(nodesIn(node).length === 0 ? text.slice(start, to) : text.slice(start, text.indexOf('{', start)));
    const property = fullName(node);
    const role = propertyRole(property);
    if (property.startsWith('--') && !defines.has(property)) defines.set(property, node.source?.start?.line ?? 1);
    const beside = besideIn(node, role);
    for (const name of [...namesIn(value), ...sassNames(value)]) noteUse(name, property);
    for (const found of colorsInValue(value)) {
      // A name is a colour only where colours stand; of variables that is judged by their uses.
      if (found.named && role === null && !isVariable(property)) continue;
      if (isMask(property)) continue;
      const keep = whyKeep(node, property, found, value, syntax);
      add(found, start, { property, role, scopes: scopesOf(node), keep, ...(beside === null ? {} : { beside }) });
    }
  }

  function readSassRule(node: AtRule): void {
    const from = node.source?.start?.offset;
    if (from === undefined) return;
    const start = text.indexOf(node.params, from + node.name.length + 1);
    if (start < 0 || node.params === '') return;
    for (const found of colorsInValue(plain(node.params))) {
      if (found.named) continue;
      add(found, start, { property: `@${node.name}`, role: null, scopes: scopesOf(node), keep: 'Sass works it out' });
    }
    for (const name of sassNames(node.params)) noteUse(name, `@${node.name}`);
  }

  function add(
    found: ValueColor,
    base: number,
    facts: Pick<SourceLiteral, 'property' | 'role' | 'scopes' | 'keep' | 'beside'>,
  ): void {
    const start = base + found.start;
    const { text: written, color, named } = found;
    literals.push({ start, end: base + found.end, ...placeOf(start), text: written, color, named, ...facts });
  }

  function noteUse(name: string, property: string): void {
    const known = uses.get(name);
    if (known === undefined) uses.set(name, new Set([property]));
    else known.add(property);
  }
}

function parse(text: string, syntax: StyleSyntax): { readonly kind: 'parsed'; readonly root: Root | Document } | UnreadableSource {
  try {
    return { kind: 'parsed', root: syntax === 'scss' ? parseScss(text) : parseCss(text) };
  } catch (error) {
    if (error instanceof CssSyntaxError)
      return { kind: 'unreadable', line: error.line ?? 1, column: error.column ?? 1, reason: error.reason };
    // The parser stumbles over some texts that are no style sheets (`:@a{`), and then cannot say where.
    return { kind: 'unreadable', line: 1, column: 1, reason: 'no style sheet' };
  }
}

function whyKeep(node: Declaration, property: string, { within }: ValueColor, value: string, syntax: StyleSyntax): string | null {
  if (property.startsWith('$')) return 'a Sass variable may be worked with';
  if (within.includes('var')) return 'it is a fallback';
  if (within.includes('light-dark')) return 'light-dark() has one colour for each tone';
  if (syntax === 'scss' && (within.some((name) => !CSS_FUNCTIONS.test(name)) || /#\{|\s[+*%]\s/.test(value)))
    return 'Sass works it out';
  for (let above: Node | undefined = node.parent; above !== undefined; above = above.parent)
    if (above.type === 'rule' && 'selector' in above && /^:(export|import)\b/.test(String(above.selector)))
      return 'scripts read it: var() means nothing to them';
    else if (above.type === 'atrule' && 'name' in above && DESCRIPTORS.has(String(above.name)))
      return `@${String(above.name)} takes no var()`;
  return null;
}

/** Of a text or icon: what the rule lays beneath it; of a surface: the rule's text. The last declaration counts. */
function besideIn(node: Declaration, role: ReturnType<typeof propertyRole>): RuleColor | null {
  if (role === null || role === 'shadow') return null;
  const wanted = role === 'surface' ? /^color$/ : /^background(-color)?$/;
  const siblings: readonly unknown[] = node.parent === undefined ? [] : node.parent.nodes;
  const found = siblings.flatMap((each) => {
    if (typeof each !== 'object' || each === null || !('prop' in each) || !('value' in each)) return [];
    return wanted.test(String(each.prop).toLowerCase()) ? [String(each.value)] : [];
  });
  const value = found.at(-1)?.trim();
  if (value === undefined) return null;
  const property = /^var\(\s*(--[^\s,)]+)\s*\)$/.exec(value)?.[1];
  if (property !== undefined) return { kind: 'property', name: property };
  const [color, more] = colorsInValue(value);
  return color === undefined || more !== undefined || color.text !== value ? null : { kind: 'color', color: color.color };
}

type Node = Container | Document;

/** What a mask shows is its alpha, never its colour. */
function isMask(property: string): boolean {
  return /^(-webkit-)?mask/.test(property);
}

/** Sass: `border: { color: … }` is `border-color`; the parser takes it for a rule, unless a value stands before the brace. */
function fullName(node: Declaration): string {
  const above: unknown = node.parent;
  if (typeof above !== 'object' || above === null) return node.prop;
  if ('prop' in above) return `${String(above.prop)}-${node.prop}`;
  const group = 'selector' in above ? /^([\w-]+):$/.exec(String(above.selector)) : null;
  return group === null ? node.prop : `${group[1] ?? ''}-${node.prop}`;
}

function nodesIn(node: Declaration): readonly unknown[] {
  return 'nodes' in node && Array.isArray(node.nodes) ? node.nodes : [];
}

function scopesOf(node: Declaration | AtRule): readonly string[] {
  const scopes: string[] = [];
  for (let above: Node | undefined = node.parent; above !== undefined; above = above.parent) {
    if (above.type === 'rule' && 'selector' in above) scopes.unshift(String(above.selector));
    else if (above.type === 'atrule' && 'name' in above && 'params' in above)
      scopes.unshift(`@${String(above.name)} ${String(above.params)}`);
  }
  return scopes;
}

function sassNames(value: string): readonly string[] {
  return [...value.matchAll(/\$[\w-]+/g)].map(([name]) => name);
}

/** Comments to the end of the line (Sass), blanked, so that offsets stay; `//` in strings and addresses is none. */
export function blankLineComments(text: string): string {
  return text.replace(/"(?:\\[^]|[^"\\])*"|'(?:\\[^]|[^'\\])*'|url\([^)]*\)|\/\*[^]*?\*\/|\/\/[^\r\n]*/g, (part) =>
    part.startsWith('//') ? ' '.repeat(part.length) : part,
  );
}
