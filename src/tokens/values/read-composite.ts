// JSON → values of the composite types (Format 2025.10, section 9). A sub-value is a literal or a reference (F7.3).
import type { JsonNode } from '../json/json-node.ts';
import { readPosition } from './read-color.ts';
import type { ReadContext } from './read-context.ts';
import { bad, part, readMembers } from './read-context.ts';
import type { Border, GradientStop, Shadow, TokenType, Transition, TypedValue, Typography, ValueOf } from './token-value.ts';

type Members = ReadonlyMap<string, JsonNode>;

/** Reads a member as a sub-value; null when it does not fit (reported). */
function member<T extends TokenType>(members: Members, name: string, type: T, context: ReadContext): ValueOf[T] | null {
  const node = members.get(name);
  const read = node === undefined ? null : context.subValue(type, node);
  return read !== null && isOf(read, type) ? read.value : null;
}

function isOf<T extends TokenType>(typed: TypedValue, type: T): typed is Extract<TypedValue, { type: T }> & { value: ValueOf[T] } {
  return typed.type === type;
}

export function readBorder(node: JsonNode, context: ReadContext): Border | null {
  const members = readMembers(node, context, {
    what: 'a border { "color", "width", "style" }',
    required: ['color', 'width', 'style'],
  });
  if (members === null) return null;
  const color = member(members, 'color', 'color', context);
  const width = member(members, 'width', 'dimension', context);
  const style = member(members, 'style', 'strokeStyle', context);
  return color === null || width === null || style === null ? null : { color, width, style };
}

export function readTransition(node: JsonNode, context: ReadContext): Transition | null {
  const members = readMembers(node, context, {
    what: 'a transition { "duration", "delay", "timingFunction" }',
    required: ['duration', 'delay', 'timingFunction'],
  });
  if (members === null) return null;
  const duration = member(members, 'duration', 'duration', context);
  const delay = member(members, 'delay', 'duration', context);
  const timingFunction = member(members, 'timingFunction', 'cubicBezier', context);
  return duration === null || delay === null || timingFunction === null ? null : { duration, delay, timingFunction };
}

export function readTypography(node: JsonNode, context: ReadContext): Typography | null {
  const members = readMembers(node, context, {
    what: 'a typography value { "fontFamily", "fontSize", "fontWeight", "letterSpacing", "lineHeight" }',
    required: ['fontFamily', 'fontSize', 'fontWeight', 'letterSpacing', 'lineHeight'],
  });
  if (members === null) return null;
  const fontFamily = member(members, 'fontFamily', 'fontFamily', context);
  const fontSize = member(members, 'fontSize', 'dimension', context);
  const fontWeight = member(members, 'fontWeight', 'fontWeight', context);
  const letterSpacing = member(members, 'letterSpacing', 'dimension', context);
  const lineHeight = member(members, 'lineHeight', 'number', context);
  if (fontFamily === null || fontSize === null || fontWeight === null || letterSpacing === null || lineHeight === null) return null;
  return { fontFamily, fontSize, fontWeight, letterSpacing, lineHeight };
}

export function readShadow(node: JsonNode, context: ReadContext): Shadow | readonly Shadow[] | null {
  if (node.kind !== 'array') return readOneShadow(node, context);
  if (node.items.length === 0) return bad(context, node, 'at least one shadow');
  const read = node.items.map((item) => {
    const typed = context.subValue('shadow', item);
    return typed?.type === 'shadow' ? single(typed.value, item, context) : null;
  });
  return read.every((shadow) => shadow !== null) ? read : null;
}

function readOneShadow(node: JsonNode, context: ReadContext): Shadow | null {
  const members = readMembers(node, context, {
    what: 'a shadow { "color", "offsetX", "offsetY", "blur", "spread" }',
    required: ['color', 'offsetX', 'offsetY', 'blur', 'spread'],
    optional: ['inset'],
  });
  if (members === null) return null;
  const color = member(members, 'color', 'color', context);
  const offsetX = member(members, 'offsetX', 'dimension', context);
  const offsetY = member(members, 'offsetY', 'dimension', context);
  const blur = member(members, 'blur', 'dimension', context);
  const spread = member(members, 'spread', 'dimension', context);
  const insetNode = members.get('inset');
  const inset = insetNode === undefined ? false : part(insetNode, context, readBoolean);
  if (color === null || offsetX === null || offsetY === null || blur === null || spread === null || inset === null) return null;
  return { color, offsetX, offsetY, blur, spread, inset };
}

function readBoolean(node: JsonNode, context: ReadContext): boolean | null {
  return node.kind === 'boolean' ? node.value : bad(context, node, 'true or false');
}

export function readGradient(node: JsonNode, context: ReadContext): readonly GradientStop[] | null {
  if (node.kind !== 'array' || node.items.length === 0) return bad(context, node, 'a list of stops { "color", "position" }');
  const read = node.items.map((item) => readStop(item, context));
  return read.every((stop) => stop !== null) ? read : null;
}

/** A stop, or a reference to a gradient token that has exactly one. */
function readStop(node: JsonNode, context: ReadContext): GradientStop | null {
  const isStop = node.kind === 'object' && node.members.some(({ name }) => name === 'color' || name === 'position');
  if (!isStop) {
    const typed = node.kind === 'array' ? null : context.subValue('gradient', node);
    if (typed === null) return node.kind === 'array' ? bad(context, node, 'a stop; lists are not nested') : null;
    return typed.type === 'gradient' ? single(typed.value, node, context) : null;
  }
  const members = readMembers(node, context, {
    what: 'a stop { "color", "position" }',
    required: ['color', 'position'],
  });
  if (members === null) return null;
  const color = member(members, 'color', 'color', context);
  const positionNode = members.get('position');
  const position = positionNode === undefined ? null : readPositionValue(positionNode, context);
  return color === null || position === null ? null : { color, position: Math.min(1, Math.max(0, position)) };
}

function readPositionValue(node: JsonNode, context: ReadContext): number | null {
  if (node.kind === 'number') return readPosition(node, context);
  const typed = context.subValue('number', node);
  return typed?.type === 'number' ? typed.value : null;
}

/** References in a list stand for one element each and are never spread (F9.1); a list of one counts as its element. */
function single<T>(value: T | readonly T[], at: JsonNode, context: ReadContext): T | null {
  if (!isList(value)) return value;
  const [only, ...others] = value;
  if (only !== undefined && others.length === 0) return only;
  return context.fault('ref-type', at, {
    found: `a reference to a list of ${String(value.length)}`,
    expected: 'a reference to one element',
    hint: 'Lists are not spread; refer to each element.',
  });
}

function isList<T>(value: T | readonly T[]): value is readonly T[] {
  return Array.isArray(value);
}
