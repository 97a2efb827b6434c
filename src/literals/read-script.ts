// Text of a TypeScript or JavaScript file → the literal colours in its strings. A string counts by where it stands: as the value of a
// colour property it is read as that property's value; elsewhere it must be a colour as a whole, and stand where values are kept.
import { parse } from '@babel/parser';
import { colorsInValue } from './colors-in-value.ts';
import { lineIndex } from './line-index.ts';
import { propertyRole } from './property-role.ts';
import { blankLineComments } from './read-style-sheet.ts';
import type { ReadSource, SourceLiteral, UnreadableSource } from './source-literal.ts';

/** `ts` has no JSX: there `<a>b` is a cast. */
export type ScriptSyntax = 'ts' | 'tsx' | 'js';

interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [member: string]: unknown;
}

/** A node, how its parent calls it, and the parent. */
interface Step {
  readonly node: Node;
  readonly key: string;
  readonly above: Step | null;
}

const KEEP = 'in a script a person decides';
/** Tags of templates that hold style sheets; common practice. */
const STYLE_TAGS = new Set(['css', 'keyframes', 'styled', 'createGlobalStyle', 'injectGlobal']);

/** @param text without a byte-order mark */
export function readScript(text: string, syntax: ScriptSyntax): ReadSource | UnreadableSource {
  const parsed = parseScript(text, syntax);
  if (parsed.kind === 'unreadable') return parsed;
  const placeOf = lineIndex(text);
  const literals: SourceLiteral[] = [];
  visit({ node: parsed.program, key: '', above: null });
  return { kind: 'read', literals: literals.sort((a, b) => a.start - b.start), uses: new Map() };

  function visit(step: Step): void {
    const { node } = step;
    if (node.type === 'StringLiteral') readText(step, node.start + 1, text.slice(node.start + 1, node.end - 1));
    else if (node.type === 'TemplateLiteral') readTemplate(step);
    // Types say what may stand somewhere, not what does.
    if (node.type.startsWith('TS') && !/^TS(As|Satisfies|NonNull|Enum|Instantiation|Export|Parameter|Module)/.test(node.type))
      return;
    for (const [key, value] of Object.entries(node)) {
      if (key === 'loc' || key.endsWith('Comments') || key === 'extra') continue;
      for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) visit({ node: child, key, above: step });
    }
  }

  function readTemplate(step: Step): void {
    const { node } = step;
    const inside = blankExpressions(text.slice(node.start + 1, node.end - 1), node);
    const { above } = step;
    if (above?.node.type === 'TaggedTemplateExpression' && STYLE_TAGS.has(rootName(above.node['tag'])))
      readSheet(node.start + 1, inside);
    else if (above?.node.type !== 'TaggedTemplateExpression') readText(step, node.start + 1, inside);
  }

  /** A style sheet with holes cannot be parsed; its declarations can be found. */
  function readSheet(base: number, sheet: string): void {
    const plain = blankLineComments(sheet).replace(/\/\*[^]*?\*\//g, (comment) => ' '.repeat(comment.length));
    for (const match of plain.matchAll(/(?<=^|[;{}\s])([\w-]+)(\s*:)([^;{}]*)(?=[;}]|$)/g)) {
      const [, property = '', colon = '', value = ''] = match;
      const role = propertyRole(property);
      const start = base + match.index + property.length + colon.length;
      for (const found of colorsInValue(value)) if (!found.named || role !== null) add(start, found, property, role);
    }
  }

  function readText(step: Step, base: number, inside: string): void {
    const { property, keeps } = positionOf(step);
    const role = propertyRole(property);
    const found = colorsInValue(inside);
    if (role !== null) {
      for (const each of found) if (!each.named || !onComponent(step)) add(base, each, property, role);
      return;
    }
    const [only] = found;
    if (keeps && only !== undefined && !only.named && only.text === inside.trim() && !isWord(only.text))
      add(base, only, property, null);
  }

  function add(base: number, found: ReturnType<typeof colorsInValue>[number], property: string, role: SourceLiteral['role']): void {
    const start = base + found.start;
    const { text: written, color, named } = found;
    const end = base + found.end;
    literals.push({ start, end, ...placeOf(start), text: written, color, named, property, role, scopes: [], keep: KEEP });
  }
}

function parseScript(text: string, syntax: ScriptSyntax): { readonly kind: 'parsed'; readonly program: Node } | UnreadableSource {
  const typed = syntax === 'js' ? [] : (['typescript'] as const);
  const jsx = syntax === 'ts' ? [] : (['jsx'] as const);
  try {
    const file: unknown = parse(text, {
      sourceType: 'unambiguous',
      plugins: [...typed, ...jsx, 'decorators', 'decoratorAutoAccessors', 'explicitResourceManagement'],
      allowReturnOutsideFunction: true,
      attachComment: false,
    });
    if (isNode(file) && isNode(file['program'])) return { kind: 'parsed', program: file['program'] };
    return { kind: 'unreadable', line: 1, column: 1, reason: 'no program' };
  } catch (error) {
    if (!(error instanceof SyntaxError)) return { kind: 'unreadable', line: 1, column: 1, reason: 'no script' };
    const { line, column } = locationIn(error);
    return { kind: 'unreadable', line, column, reason: error.message.replace(/\s*\(\d+:\d+\)$/, '') };
  }
}

function locationIn(error: SyntaxError): { readonly line: number; readonly column: number } {
  const at: unknown = 'loc' in error ? error.loc : null;
  if (typeof at !== 'object' || at === null || !('line' in at) || !('column' in at)) return { line: 1, column: 1 };
  return { line: Number(at.line), column: Number(at.column) + 1 };
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string' && 'start' in value;
}

/** Expressions become dots, which are no part of any colour; offsets stay. */
function blankExpressions(inside: string, template: Node): string {
  const holes = Array.isArray(template['expressions']) ? template['expressions'].filter(isNode) : [];
  let out = inside;
  for (const { start, end } of holes) {
    const from = inside.lastIndexOf('${', start - template.start - 1);
    const close = inside.indexOf('}', end - template.start - 1);
    out = `${out.slice(0, from)}${'.'.repeat(close + 1 - from)}${out.slice(close + 1)}`;
  }
  return out;
}

/** Which property a string is the value of, and whether it stands where a value is kept at all. */
function positionOf(step: Step): { readonly property: string; readonly keeps: boolean } {
  let inner = step;
  for (let at = step.above; at !== null; inner = at, at = at.above) {
    const { node } = at;
    const { key } = inner;
    switch (node.type) {
      case 'ConditionalExpression':
        if (key === 'test') return NOWHERE;
        break;
      case 'LogicalExpression':
      case 'ParenthesizedExpression':
      case 'TSAsExpression':
      case 'TSSatisfiesExpression':
      case 'TSNonNullExpression':
      case 'JSXExpressionContainer':
      case 'ArrayExpression':
        break;
      case 'ArrowFunctionExpression':
      case 'ReturnStatement':
        return { property: '', keeps: true };
      case 'ObjectProperty':
      case 'ClassProperty':
      case 'TSEnumMember':
      case 'VariableDeclarator':
      case 'AssignmentPattern':
        if (key !== 'value' && key !== 'init' && key !== 'right' && key !== 'initializer') return NOWHERE;
        return { property: kebab(nameIn(node['key'] ?? node['id'] ?? node['left'])), keeps: true };
      case 'JSXAttribute':
        return { property: kebab(nameIn(node['name'])), keeps: false };
      case 'AssignmentExpression':
        return key === 'right' ? { property: kebab(nameIn(node['left'])), keeps: true } : NOWHERE;
      case 'CallExpression':
        return { property: setProperty(node, inner.node), keeps: false };
      default:
        return NOWHERE;
    }
  }
  return NOWHERE;
}

const NOWHERE = { property: '', keeps: false };

/** `style.setProperty('color', '…')` names its property itself. */
function setProperty(call: Node, argument: Node): string {
  const list = Array.isArray(call['arguments']) ? call['arguments'].filter(isNode) : [];
  const [name] = list;
  const isSet = nameIn(call['callee']) === 'setProperty' && list[1] === argument;
  return isSet && name?.type === 'StringLiteral' ? String(name['value']) : '';
}

/** Last name of an identifier, member, key or JSX name. */
function nameIn(value: unknown): string {
  if (!isNode(value)) return '';
  if (value.type === 'MemberExpression' || value.type === 'OptionalMemberExpression') return nameIn(value['property']);
  if (value.type === 'StringLiteral') return String(value['value']);
  return typeof value['name'] === 'string' ? value['name'] : '';
}

/** `styled.div`, `styled(Dial)`, `css` → the first name. */
function rootName(value: unknown): string {
  if (!isNode(value)) return '';
  if (value.type === 'Identifier') return String(value['name']);
  return rootName(value['object'] ?? value['callee']);
}

/** `<Badge color="tan">` names a kind of badge; `<path fill="tan">` a colour. */
function onComponent({ above }: Step): boolean {
  if (above?.node.type !== 'JSXAttribute') return false;
  const name = nameIn(above.above?.node['name']);
  return /^[A-Z]/.test(name) || name === '';
}

/** `backgroundColor` → `background-color`; custom properties stay as they are. */
function kebab(name: string): string {
  return name.startsWith('--') ? name : name.replace(/[A-Z]/g, (capital) => `-${capital.toLowerCase()}`);
}

/** `#add` may be an address in a page; `#123`, `#fff` and six digits are hardly one. */
function isWord(text: string): boolean {
  return /^#[a-f]{3,4}$/i.test(text) && !/^#(.)\1+$/i.test(text);
}
