// JSON → colour value (Color 2025.10, section 4), with the older hex notation.
import type { JsonNode } from '../json/json-node.ts';
import { quote } from '../json/json-node.ts';
import { colorOfValue } from './color-of-value.ts';
import type { ReadContext } from './read-context.ts';
import { bad, part, readMembers, readNumber } from './read-context.ts';
import type { ColorSpace, ColorValue, Component } from './token-value.ts';

/** Least and greatest value of a component; `below` when the upper end itself is excluded. */
interface Range {
  readonly name: string;
  readonly min: number;
  readonly max: number;
  readonly below?: boolean;
}

type Ranges = readonly [Range, Range, Range];

const unit = (name: string): Range => ({ name, min: 0, max: 1 });
const percent = (name: string): Range => ({ name, min: 0, max: 100 });
const free = (name: string): Range => ({ name, min: -Infinity, max: Infinity });
const HUE: Range = { name: 'hue', min: 0, max: 360, below: true };
const CHROMA: Range = { name: 'chroma', min: 0, max: Infinity };
const RGB: Ranges = [unit('red'), unit('green'), unit('blue')];
const XYZ: Ranges = [unit('X'), unit('Y'), unit('Z')];

/** C4.2. As worded, D65 white is out of range in `xyz-d65` (Z is 1.089), and so is hue 360. */
const SPACES: Readonly<Record<ColorSpace, Ranges>> = {
  srgb: RGB,
  'srgb-linear': RGB,
  'display-p3': RGB,
  'a98-rgb': RGB,
  'prophoto-rgb': RGB,
  rec2020: RGB,
  'xyz-d65': XYZ,
  'xyz-d50': XYZ,
  hsl: [HUE, percent('saturation'), percent('lightness')],
  hwb: [HUE, percent('whiteness'), percent('blackness')],
  lab: [percent('lightness'), free('a'), free('b')],
  lch: [percent('lightness'), CHROMA, HUE],
  oklab: [unit('lightness'), free('a'), free('b')],
  oklch: [unit('lightness'), CHROMA, HUE],
};

const WHAT = 'a colour, e.g. { "colorSpace": "srgb", "components": [0.2, 0.4, 0.6] }';

export function readColor(node: JsonNode, context: ReadContext): ColorValue | null {
  if (node.kind === 'string') return readLegacyHex(node.value, node, context);
  const members = readMembers(node, context, {
    what: WHAT,
    required: ['colorSpace', 'components'],
    optional: ['alpha', 'hex'],
  });
  const spaceNode = members?.get('colorSpace');
  const componentsNode = members?.get('components');
  if (members === null || spaceNode === undefined || componentsNode === undefined) return null;
  const colorSpace = part(spaceNode, context, readSpace);
  const components = part(componentsNode, context, (at, inner) => readComponents(at, colorSpace, inner));
  const alphaNode = members.get('alpha');
  const alpha = alphaNode === undefined ? 1 : part(alphaNode, context, readAlpha);
  const hexNode = members.get('hex');
  const hex = hexNode === undefined ? null : part(hexNode, context, readHex);
  if (colorSpace === null || components === null || alpha === null) return null;
  const color = { colorSpace, components, alpha, hex };
  if (hex !== null && hexNode !== undefined) warnMismatch(color, hex, hexNode, context);
  return color;
}

function isSpace(text: string): text is ColorSpace {
  return Object.hasOwn(SPACES, text);
}

function readSpace(node: JsonNode, context: ReadContext): ColorSpace | null {
  if (node.kind === 'string' && isSpace(node.value)) return node.value;
  return bad(context, node, `one of ${Object.keys(SPACES).join(', ')}`);
}

function readComponents(node: JsonNode, space: ColorSpace | null, context: ReadContext): ColorValue['components'] | null {
  if (node.kind !== 'array' || node.items.length !== 3) return bad(context, node, 'an array of three components');
  const ranges = space === null ? null : SPACES[space];
  const read = node.items.map((item, i) => part(item, context, (at, inner) => readComponent(at, ranges?.[i] ?? null, inner)));
  const [a, b, c] = read;
  return a === undefined || b === undefined || c === undefined || a === null || b === null || c === null ? null : [a, b, c];
}

function readComponent(node: JsonNode, range: Range | null, context: ReadContext): Component | null {
  if (node.kind === 'string' && node.value === 'none') return 'none';
  if (node.kind !== 'number') return bad(context, node, 'a number or "none"');
  if (range === null) return node.value;
  const { name, min, max, below } = range;
  if (node.value >= min && (below === true ? node.value < max : node.value <= max)) return node.value;
  const upper = max === Infinity ? '' : ` ${below === true ? 'to below' : 'to'} ${String(max)}`;
  return context.fault('color-range', node, { expected: `${name} from ${String(min)}${upper}` });
}

function readAlpha(node: JsonNode, context: ReadContext): number | null {
  if (node.kind !== 'number') return bad(context, node, 'alpha as a number from 0 to 1');
  if (node.value >= 0 && node.value <= 1) return node.value;
  return context.fault('color-range', node, { expected: 'alpha from 0 to 1' });
}

function readHex(node: JsonNode, context: ReadContext): string | null {
  if (node.kind === 'string' && /^#[0-9a-fA-F]{6}$/.test(node.value)) return node.value;
  const hint = 'It is left aside: the components count. Alpha stands in "alpha".';
  return context.fault('bad-fallback', node, { expected: 'a fallback of "#" and six digits', hint });
}

/** sRGB as text, from the second draft (2022); the last pair of digits is alpha. */
function readLegacyHex(text: string, at: JsonNode, context: ReadContext): ColorValue | null {
  const digits = /^#([0-9a-fA-F]{3,4}|[0-9a-fA-F]{6}|[0-9a-fA-F]{8})$/.exec(text)?.[1];
  if (digits === undefined) return bad(context, at, WHAT, 'Colours as CSS text were never part of the format: convert it.');
  const long = digits.length < 6 ? digits.replace(/./g, '$&$&') : digits;
  const code = (from: number): number => Number.parseInt(long.slice(from, from + 2), 16) / 255;
  context.fault('legacy-hex', at, { expected: WHAT, hint: 'Colours were text in the draft of 2022; write the object.' });
  const alpha = long.length === 8 ? code(6) : 1;
  return { colorSpace: 'srgb', components: [code(0), code(2), code(4)], alpha, hex: null };
}

/** `hex` is only a fallback; where the colour lies in sRGB the two should agree within one 8-bit code. */
function warnMismatch(color: ColorValue, hex: string, at: JsonNode, context: ReadContext): void {
  const { r, g, b } = colorOfValue(color);
  const channels = [r, g, b];
  if (channels.some((v) => v < -1e-6 || v > 1 + 1e-6)) return;
  const off = channels.some((v, i) => Math.abs(v * 255 - Number.parseInt(hex.slice(1 + 2 * i, 3 + 2 * i), 16)) > 1);
  if (!off) return;
  const shown = channels
    .map((v) =>
      Math.round(Math.min(1, Math.max(0, v)) * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('');
  context.fault('hex-mismatch', at, {
    found: quote(at),
    expected: `#${shown}, as the components say`,
    hint: 'The components count.',
  });
}

export const readPosition = readNumber('a position from 0 to 1');
