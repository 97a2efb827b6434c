// JSON + type → value; a sub-value of a composite may also be a reference, or wrapped as in the draft of July 2025.
import type { JsonNode } from '../json/json-node.ts';
import { memberOf, quote } from '../json/json-node.ts';
import { hasBrace } from '../reference.ts';
import { referenceIn } from '../read-value.ts';
import { readColor } from './read-color.ts';
import { readBorder, readGradient, readShadow, readTransition, readTypography } from './read-composite.ts';
import type { ReadContext } from './read-context.ts';
import { readNumber } from './read-context.ts';
import { readCubicBezier, readDimension, readDuration, readFontFamily, readFontWeight, readStrokeStyle } from './read-simple.ts';
import type { TokenType, TypedValue } from './token-value.ts';

const readPlainNumber = readNumber('a number');

/** @returns null when the literal does not fit the type (reported) */
export function readValueOfType(type: TokenType, node: JsonNode, context: ReadContext): TypedValue | null {
  switch (type) {
    case 'color':
      return typed(readColor(node, context), (value) => ({ type, value }));
    case 'dimension':
      return typed(readDimension(node, context), (value) => ({ type, value }));
    case 'fontFamily':
      return typed(readFontFamily(node, context), (value) => ({ type, value }));
    case 'fontWeight':
      return typed(readFontWeight(node, context), (value) => ({ type, value }));
    case 'duration':
      return typed(readDuration(node, context), (value) => ({ type, value }));
    case 'cubicBezier':
      return typed(readCubicBezier(node, context), (value) => ({ type, value }));
    case 'number':
      return typed(readPlainNumber(node, context), (value) => ({ type, value }));
    case 'strokeStyle':
      return typed(readStrokeStyle(node, context), (value) => ({ type, value }));
    case 'border':
      return typed(readBorder(node, context), (value) => ({ type, value }));
    case 'transition':
      return typed(readTransition(node, context), (value) => ({ type, value }));
    case 'shadow':
      return typed(readShadow(node, context), (value) => ({ type, value }));
    case 'gradient':
      return typed(readGradient(node, context), (value) => ({ type, value }));
    case 'typography':
      return typed(readTypography(node, context), (value) => ({ type, value }));
  }
}

function typed<T>(value: T | null, wrap: (value: T) => TypedValue): TypedValue | null {
  return value === null ? null : wrap(value);
}

export function readSubValue(type: TokenType, node: JsonNode, context: ReadContext): TypedValue | null {
  if (node.kind === 'string' && hasBrace(node.value)) return fitting(type, context.token(node), node, context);
  if (node.kind === 'object' && referenceIn(node) !== null) {
    return context.place(node, type, (at, inner) => readValueOfType(type, at, inner));
  }
  if (node.kind === 'object' && memberOf(node, '$value') !== undefined) return readWrapped(type, node, context);
  return readValueOfType(type, node, context);
}

function fitting(type: TokenType, found: TypedValue | null, at: JsonNode, context: ReadContext): TypedValue | null {
  if (found === null || found.type === type) return found;
  return context.fault('ref-type', at, { found: `${quote(at)}, a ${found.type}`, expected: `a token of type ${type}` });
}

/** `{ "$type": …, "$value": … }` as a sub-value, from the third draft (July 2025). */
function readWrapped(type: TokenType, node: JsonNode & { kind: 'object' }, context: ReadContext): TypedValue | null {
  const value = memberOf(node, '$value');
  const said = memberOf(node, '$type');
  if (value === undefined) return null;
  context.fault('legacy-nested-value', node, { expected: 'the value itself', hint: 'Drop the $type and $value around it.' });
  if (said !== undefined && !(said.kind === 'string' && said.value === type)) {
    return context.fault('bad-value', said, { expected: `$type "${type}" here` });
  }
  return readSubValue(type, value, context);
}
