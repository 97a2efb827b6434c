// Selectors as the standard weighs them (Selectors 4 §17), and as one text however they are written.
import type { Part } from 'css-tree/selector-parser';
import parse from 'css-tree/selector-parser';

/** Ids; classes, attributes and pseudo-classes; types and pseudo-elements. */
export type Specificity = readonly [number, number, number];

/** @param complex without `&` @returns null for what cannot be read */
export function specificityOf(complex: string): Specificity | null {
  const list = read(complex);
  return list === null ? null : ofList(list);
}

export function compareSpecificity(a: Specificity, b: Specificity): number {
  return a[0] - b[0] || a[1] - b[1] || a[2] - b[2];
}

/** Two texts of one selector list read the same, as browsers write it or as people do. @returns null for what cannot be read */
export function canonicalSelector(text: string): string | null {
  const list = read(text);
  return list === null ? null : inside(list);
}

function read(text: string): Part | null {
  try {
    return parse(text, { context: 'selectorList' });
  } catch {
    return null;
  }
}

const NONE: Specificity = [0, 0, 0];

/** The most specific one of a list. */
function ofList(list: Part): Specificity {
  return childrenOf(list).map(ofComplex).toSorted(compareSpecificity).at(-1) ?? NONE;
}

function ofComplex(complex: Part): Specificity {
  return childrenOf(complex).map(ofSimple).reduce(add, NONE);
}

function ofSimple(part: Part): Specificity {
  switch (part.type) {
    case 'IdSelector':
      return [1, 0, 0];
    case 'ClassSelector':
    case 'AttributeSelector':
      return [0, 1, 0];
    case 'TypeSelector':
      return /(?:^|\|)\*$/u.test(nameOf(part)) ? NONE : [0, 0, 1];
    case 'PseudoElementSelector':
      return [0, 0, 1];
    case 'PseudoClassSelector':
      return ofPseudoClass(part);
    default:
      return NONE;
  }
}

/** Pseudo-elements that may be written with one colon. */
const OLD = new Set(['before', 'after', 'first-line', 'first-letter']);
/** They weigh what is in them. */
const WEIGHTLESS = new Set(['is', 'not', 'has', 'matches', '-webkit-any']);

function ofPseudoClass(part: Part): Specificity {
  const name = nameOf(part);
  if (OLD.has(name)) return [0, 0, 1];
  if (name === 'where') return NONE;
  const inner = childrenOf(part).map(ofInner).toSorted(compareSpecificity).at(-1) ?? NONE;
  return WEIGHTLESS.has(name) ? inner : add([0, 1, 0], inner);
}

/** `:nth-child(2n of .quay)` has a list within. */
function ofInner({ type, selector, ...part }: Part): Specificity {
  if (type === 'SelectorList') return ofList({ type, ...part });
  if (type === 'Selector') return ofComplex({ type, ...part });
  return type === 'Nth' && selector ? ofList(selector) : NONE;
}

function add(a: Specificity, b: Specificity): Specificity {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

function write(part: Part, at: number, siblings: readonly Part[]): string {
  const name = nameOf(part);
  switch (part.type) {
    case 'SelectorList':
      return inside(part);
    case 'Selector':
      return childrenOf(part).map(write).join('');
    case 'TypeSelector': {
      // Browsers leave it out where something follows.
      const next = siblings[at + 1]?.type ?? 'Combinator';
      return name === '*' && next !== 'Combinator' ? '' : name;
    }
    case 'AttributeSelector':
      return `[${name}${part.matcher ?? ''}${JSON.stringify(valueOf(part.value))}${part.flags ?? ''}]`;
    case 'PseudoElementSelector':
      return `::${name}(${inside(part)})`;
    case 'PseudoClassSelector':
      return `${OLD.has(name) ? '::' : ':'}${name}(${inside(part)})`;
    case 'IdSelector':
      return `#${name}`;
    case 'ClassSelector':
      return `.${name}`;
    case 'NestingSelector':
      return '&';
    case 'Nth':
      return `${part.nth === undefined ? '' : writeNth(part.nth)} of ${part.selector ? inside(part.selector) : ''}`;
    default:
      return name === '' ? valueOf(part.value) : name;
  }
}

function inside(part: Part): string {
  return childrenOf(part).map(write).join(',');
}

/** `odd`, `+n`, `3`: as `2n+1` and the like. */
function writeNth(nth: Part): string {
  const word = nameOf(nth).toLowerCase();
  const a = word === '' ? (nth.a ?? '0') : '2';
  const b = word === '' ? (nth.b ?? '0') : word === 'odd' ? '1' : '0';
  return `${Number(/\d/u.test(a) ? a : `${a}1`)}n${Number(b)}`;
}

function nameOf({ name }: Part): string {
  return typeof name === 'object' ? nameOf(name) : (name ?? '');
}

/** A word, or a text in quotes. */
function valueOf(value: string | Part | null | undefined): string {
  if (typeof value !== 'object' || value === null) return value ?? '';
  return value.type === 'String' ? valueOf(value.value) : nameOf(value);
}

function childrenOf({ children }: Part): readonly Part[] {
  return [...(children ?? [])];
}
