// JSON → values of the simple types (Format 2025.10, section 8) and of stroke styles (F9.3).
import type { JsonNode } from '../json/json-node.ts';
import type { ReadContext } from './read-context.ts';
import { bad, part, readMembers, readNumber } from './read-context.ts';
import type { CubicBezier, Dimension, Duration, StrokeStyle } from './token-value.ts';

const readAmount = readNumber('a number');

/** A number with a unit: `{ "value": 4, "unit": "px" }`, or as text in the draft of 2022. */
function readQuantity<U extends string>(
  node: JsonNode,
  context: ReadContext,
  shape: { readonly what: string; readonly units: readonly U[] },
): { readonly value: number; readonly unit: U } | null {
  const { what, units } = shape;
  const unitOf = (text: string): U | undefined => units.find((unit) => unit === text);
  if (node.kind === 'string') {
    const match = /^(-?(?:\d+\.?\d*|\.\d+))([a-z]+)$/.exec(node.value);
    const unit = unitOf(match?.[2] ?? '');
    if (match?.[1] === undefined || unit === undefined) return bad(context, node, what);
    context.fault('legacy-dimension', node, { expected: what, hint: 'Amounts were text in the draft of 2022; write the object.' });
    return { value: Number(match[1]), unit };
  }
  const members = readMembers(node, context, { what, required: ['value', 'unit'] });
  const valueNode = members?.get('value');
  const unitNode = members?.get('unit');
  if (valueNode === undefined || unitNode === undefined) return null;
  const value = part(valueNode, context, readAmount);
  const unit = part(unitNode, context, (at, inner) => {
    const known = at.kind === 'string' ? unitOf(at.value) : undefined;
    return known ?? bad(inner, at, `the unit ${units.map((u) => `"${u}"`).join(' or ')}`);
  });
  return value === null || unit === null ? null : { value, unit };
}

export function readDimension(node: JsonNode, context: ReadContext): Dimension | null {
  return readQuantity(node, context, { what: 'a dimension, e.g. { "value": 4, "unit": "px" }', units: ['px', 'rem'] });
}

export function readDuration(node: JsonNode, context: ReadContext): Duration | null {
  return readQuantity(node, context, { what: 'a duration, e.g. { "value": 200, "unit": "ms" }', units: ['ms', 's'] });
}

export function readCubicBezier(node: JsonNode, context: ReadContext): CubicBezier | null {
  if (node.kind !== 'array' || node.items.length !== 4) return bad(context, node, 'four numbers [x1, y1, x2, y2]');
  const [x1, y1, x2, y2] = node.items.map((item, i) => part(item, context, i % 2 === 0 ? readCurveX : readAmount));
  if (x1 === undefined || y1 === undefined || x2 === undefined || y2 === undefined) return null;
  return x1 === null || y1 === null || x2 === null || y2 === null ? null : [x1, y1, x2, y2];
}

function readCurveX(node: JsonNode, context: ReadContext): number | null {
  return node.kind === 'number' && node.value >= 0 && node.value <= 1 ? node.value : bad(context, node, 'an x value from 0 to 1');
}

export function readFontFamily(node: JsonNode, context: ReadContext): string | readonly string[] | null {
  if (node.kind === 'string') return readFontName(node, context);
  if (node.kind !== 'array' || node.items.length === 0) return bad(context, node, 'a font name or a list of them');
  const names = node.items.map((item) => part(item, context, readFontName));
  return names.every((name) => name !== null) ? names : null;
}

function readFontName(node: JsonNode, context: ReadContext): string | null {
  if (node.kind !== 'string' || node.value === '') return bad(context, node, 'a font name');
  return /[{}]/.test(node.value) ? bad(context, node, 'a font name; braces have no meaning inside a list of fonts') : node.value;
}

/** F8.4: all else, other case included, is to be refused. */
const WEIGHT_NAMES: ReadonlySet<string> = new Set(
  (
    'thin hairline extra-light ultra-light light normal regular book medium semi-bold demi-bold bold extra-bold ultra-bold ' +
    'black heavy extra-black ultra-black'
  ).split(' '),
);

export function readFontWeight(node: JsonNode, context: ReadContext): number | string | null {
  if (node.kind === 'number' && node.value >= 1 && node.value <= 1000) return node.value;
  if (node.kind === 'string' && WEIGHT_NAMES.has(node.value)) return node.value;
  return bad(context, node, 'a weight from 1 to 1000 or a name such as "bold" (lower case)');
}

const LINE_STYLES: ReadonlySet<string> = new Set(['solid', 'dashed', 'dotted', 'double', 'groove', 'ridge', 'outset', 'inset']);
const LINE_CAPS = ['round', 'butt', 'square'] as const;

export function readStrokeStyle(node: JsonNode, context: ReadContext): StrokeStyle | null {
  if (node.kind === 'string') {
    return LINE_STYLES.has(node.value)
      ? node.value
      : bad(context, node, `one of ${[...LINE_STYLES].join(', ')}, or a dash pattern`);
  }
  const what = 'a dash pattern { "dashArray": […], "lineCap": … }';
  const members = readMembers(node, context, { what, required: ['dashArray', 'lineCap'] });
  const dashNode = members?.get('dashArray');
  const capNode = members?.get('lineCap');
  if (dashNode === undefined || capNode === undefined) return null;
  const dashArray = part(dashNode, context, readDashes);
  const lineCap = part(capNode, context, (at, inner) => {
    const known = at.kind === 'string' ? LINE_CAPS.find((cap) => cap === at.value) : undefined;
    return known ?? bad(inner, at, `one of ${LINE_CAPS.join(', ')}`);
  });
  return dashArray === null || lineCap === null ? null : { dashArray, lineCap };
}

/** An odd list is repeated once to make it even (F9.3.2). */
function readDashes(node: JsonNode, context: ReadContext): readonly Dimension[] | null {
  if (node.kind !== 'array' || node.items.length === 0) return bad(context, node, 'a list of dimensions');
  const dashes: Dimension[] = [];
  for (const item of node.items) {
    const dash = context.subValue('dimension', item);
    if (dash?.type === 'dimension') dashes.push(dash.value);
  }
  if (dashes.length < node.items.length) return null;
  return dashes.length % 2 === 1 ? [...dashes, ...dashes] : dashes;
}
