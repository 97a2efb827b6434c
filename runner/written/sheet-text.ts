// Text of a style sheet → the declarations of the rules that the page names by their place, with where each stands. What the browser left
// out (rules that it cannot read) stands in the text all the same: where the two do not agree, nothing is told.
import { CssSyntaxError, parse } from 'postcss';
import type { ChildNode, Container, Declaration, Position } from 'postcss';
import type { MatchedProperty } from '../driver/page-driver.ts';
import type { WireRule } from '../page/wire/written.ts';
import { canonicalSelector } from './selector.ts';

export interface SheetText {
  /** In their order; whether the browser takes them is not said. @returns null where the text does not agree with what the page says */
  declarations(rule: WireRule): readonly MatchedProperty[] | null;
}

/** A rule in the text. */
interface Span {
  readonly from: Position;
  readonly to: number;
}

/** @returns null for what cannot be read */
export function openSheetText(text: string): SheetText | null {
  const outermost = new Map<string, Span[]>();
  try {
    addOutermost(parse(text), outermost);
  } catch (error) {
    if (error instanceof CssSyntaxError) return null;
    throw error;
  }
  return {
    declarations: ({ outer, nth, of, steps, piece }) => {
      const spans = outermost.get(canonicalSelector(outer) ?? '') ?? [];
      const span = spans[nth];
      if (span === undefined || spans.length !== of) return null;
      let at: Container | null = containersIn(parse(text.slice(span.from.offset, span.to)), 'rule')[0] ?? null;
      for (const step of steps) {
        const same: readonly Container[] = at === null ? [] : containersIn(at, step.kind);
        at = same.length === step.of ? (same[step.nth] ?? null) : null;
      }
      if (at === null) return null;
      const pieces = piecesOf(at);
      if (pieces.length !== piece[1]) return null;
      return (pieces[piece[0]] ?? []).map((declaration) => propertyOf(declaration, span.from));
    },
  };
}

function addOutermost(around: Container, outermost: Map<string, Span[]>): void {
  around.each((node) => {
    if (node.type === 'atrule' && !/keyframes$/iu.test(node.name)) addOutermost(node, outermost);
    if (node.type !== 'rule') return;
    const [from, to] = [node.source?.start, node.source?.end?.offset];
    const selector = canonicalSelector(node.selector);
    if (from === undefined || to === undefined || selector === null) return;
    const spans = outermost.get(selector);
    if (spans === undefined) outermost.set(selector, [{ from, to }]);
    else spans.push({ from, to });
  });
}

/** Of one kind: `rule`, or at-rules of a name that hold something. */
function containersIn(around: Container, kind: string): readonly Container[] {
  return (around.nodes ?? []).flatMap((node): readonly Container[] => {
    if (node.type === 'rule') return kind === 'rule' ? [node] : [];
    return node.type === 'atrule' && node.nodes !== undefined && node.name.toLowerCase() === kind ? [node] : [];
  });
}

/** Declarations side by side; what is nested parts them. Those of a style rule that come before it are its first piece, also where there are none. */
function piecesOf(around: Container): readonly (readonly Declaration[])[] {
  const pieces: Declaration[][] = around.type === 'rule' ? [[]] : [];
  let isOpen = around.type === 'rule';
  for (const node of around.nodes ?? []) {
    if (isDeclaration(node)) {
      if (!isOpen) pieces.push([]);
      isOpen = true;
      pieces.at(-1)?.push(node);
    } else if (node.type !== 'comment') isOpen = false;
  }
  return pieces;
}

function isDeclaration(node: ChildNode): node is Declaration {
  return node.type === 'decl';
}

/** @param from where the text that it was found in starts */
function propertyOf({ prop, value, important, source, raws }: Declaration, from: Position): MatchedProperty {
  const { line, column } = source?.start ?? { line: 1, column: 1 };
  return {
    name: prop.startsWith('--') ? prop : prop.toLowerCase(),
    value: (raws.value?.raw ?? value).trim(),
    important: important === true,
    range: { startLine: from.line + line - 2, startColumn: column - 1 + (line === 1 ? from.column - 1 : 0) },
  };
}
