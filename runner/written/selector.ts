// Selectors as the cascade weighs them, and as one text however they are written.
import Specificity from '@bramus/specificity';
import type { Part } from 'css-tree/selector-parser';
import parse from 'css-tree/selector-parser';

/** Ids; classes, attributes and pseudo-classes; types and pseudo-elements. */
export type Weight = readonly [number, number, number];

/** Of several selectors the most. @returns null where there is none, or one cannot be read */
export function weightOf(selectors: readonly string[]): Weight | null {
  try {
    const weights = selectors.flatMap((each) => Specificity.calculate(each));
    return (
      weights
        .map((each): Weight => each.toArray())
        .toSorted(compareWeights)
        .at(-1) ?? null
    );
  } catch (error) {
    if (error instanceof TypeError) return null;
    throw error;
  }
}

export function compareWeights(a: Weight, b: Weight): number {
  return a[0] - b[0] || a[1] - b[1] || a[2] - b[2];
}

/** Two texts of one selector list read the same, as browsers write it or as people do. @returns null for what cannot be read */
export function canonicalSelector(text: string): string | null {
  try {
    return inside(parse(text, { context: 'selectorList' }));
  } catch {
    return null;
  }
}

/** Pseudo-elements that may be written with one colon. */
const OLD = new Set(['before', 'after', 'first-line', 'first-letter']);

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
