// A token file's text with some values changed: colours in the notation and colour space they had, aliases as `{path}`. All else,
// spaces and comments too, stays as it is.
import type { Color } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import type { SpaceName } from '../colour/color-spaces.ts';
import { componentsIn } from '../colour/color-spaces.ts';
import type { JsonNode, JsonObject } from './json/json-node.ts';
import { memberOf } from './json/json-node.ts';
import { parseJson } from './json/parse-json.ts';
import { parsePointer, walkPointer } from './json/pointer.ts';

export interface ValueEdit {
  /** JSON Pointer (RFC 6901) to the token or to its `$value`. */
  readonly pointer: string;
  readonly to: { readonly kind: 'color'; readonly color: Color } | { readonly kind: 'alias'; readonly path: string };
}

export interface Rewritten {
  readonly text: string;
  /** Edits that could not be made, with the reason. */
  readonly left: readonly { readonly pointer: string; readonly why: string }[];
}

export function rewriteValues(file: string, text: string, edits: readonly ValueEdit[]): Rewritten {
  const { root } = parseJson(file, text, { comments: true }).source;
  const left: { pointer: string; why: string }[] = [];
  const stretches: { start: number; end: number; text: string }[] = [];
  for (const { pointer, to } of edits) {
    const node = root === null ? undefined : valueAt(root, pointer);
    if (node === undefined) {
      left.push({ pointer, why: 'no value stands there' });
      continue;
    }
    const made = to.kind === 'alias' ? [{ node, text: JSON.stringify(`{${to.path}}`) }] : colorEdits(node, to.color);
    if (made === null) left.push({ pointer, why: 'the value there is no colour of the token format' });
    else stretches.push(...made.map(({ node: at, text: written }) => ({ start: at.start, end: at.end, text: written })));
  }
  const written = stretches
    .toSorted((one, other) => other.start - one.start)
    .reduce((all, { start, end, text: by }) => `${all.slice(0, start)}${by}${all.slice(end)}`, text);
  return { text: written, left };
}

function valueAt(root: JsonNode, pointer: string): JsonNode | undefined {
  const node = walkPointer(root, parsePointer(pointer) ?? []);
  return node?.kind === 'object' ? (memberOf(node, '$value') ?? (isColor(node) ? node : undefined)) : node;
}

function isColor(node: JsonObject): boolean {
  return memberOf(node, 'components') !== undefined;
}

interface NodeEdit {
  readonly node: JsonNode;
  readonly text: string;
}

function colorEdits(node: JsonNode, color: Color): readonly NodeEdit[] | null {
  const hex = toCssText({ ...color, alpha: 1 });
  if (node.kind === 'string') {
    // An alias becomes a value of its own, in the format's present notation.
    if (node.value.startsWith('{')) return [{ node, text: colorObject(color, hex) }];
    return node.value.startsWith('#') ? [{ node, text: JSON.stringify(toCssText(color)) }] : null;
  }
  if (node.kind !== 'object') return null;
  const space = memberOf(node, 'colorSpace');
  const components = memberOf(node, 'components');
  const named = space?.kind === 'string' ? spaceOf(space.value) : null;
  if (components?.kind !== 'array' || named === null) return null;
  const fallback = memberOf(node, 'hex');
  const texts = componentsIn(named, color).map(shortNumber);
  return [
    ...components.items.map((item, at) => ({ node: item, text: texts[at] ?? '0' })),
    ...(fallback === undefined ? [] : [{ node: fallback, text: JSON.stringify(hex) }]),
  ];
}

const SPACES: readonly SpaceName[] = [
  'srgb',
  'srgb-linear',
  'display-p3',
  'a98-rgb',
  'prophoto-rgb',
  'rec2020',
  'xyz-d65',
  'xyz-d50',
  'hsl',
  'hwb',
  'lab',
  'lch',
  'oklab',
  'oklch',
];

function spaceOf(text: string): SpaceName | null {
  return SPACES.find((each) => each === text) ?? null;
}

function colorObject(color: Color, hex: string): string {
  const components = componentsIn('srgb', color).map(shortNumber).join(', ');
  const alpha = color.alpha === 1 ? '' : `, "alpha": ${shortNumber(color.alpha)}`;
  return `{ "colorSpace": "srgb", "components": [${components}]${alpha}, "hex": "${hex}" }`;
}

/** Four decimals tell 8-bit codes apart in every space here; larger numbers (degrees, percent) keep two of them. */
function shortNumber(value: number): string {
  const digits = Math.abs(value) >= 2 ? 2 : 4;
  return String(Number(value.toFixed(digits)) + 0);
}
