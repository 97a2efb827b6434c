// The value of a declaration → the literal colours in it, by the tokens of CSS Syntax 3: so that nothing in a string, a comment, an
// address or an identifier is taken for one.
import { tokenTypes, tokenize } from 'css-tree/tokenizer';
import type { Color } from '../colour/color.ts';
import { findColor } from '../colour/parse-color.ts';
import { plainColor } from './plain-color.ts';

export interface ValueColor {
  /** Offsets in the value, `end` exclusive. */
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly color: Color;
  /** Written as a name, which outside of colour properties may mean anything. */
  readonly named: boolean;
  /** Functions it stands in, outermost first, lower-case. */
  readonly within: readonly string[];
}

interface Token {
  readonly type: number;
  readonly start: number;
  readonly end: number;
}

/** CSS Color 4 and 5. */
const COLOR_FUNCTIONS = new Set(['rgb', 'rgba', 'hsl', 'hsla', 'hwb', 'lab', 'lch', 'oklab', 'oklch', 'color']);
const HEX = /^#(?:[\da-f]{3,4}|[\da-f]{6}|[\da-f]{8})$/i;
/** Their arguments are addresses, names or questions (of `if()`, CSS Values 5), whatever they look like. */
const NO_COLORS = new Set([
  'url',
  'src',
  'attr',
  'counter',
  'counters',
  'symbols',
  'env',
  'element',
  'paint',
  'local',
  'format',
  'tech',
  'style',
  'supports',
  'media',
]);

/** `transparent`, `currentcolor` and system colours are none: no token stands for them. */
export function colorsInValue(value: string): readonly ValueColor[] {
  const tokens = tokensOf(value);
  const found: ValueColor[] = [];
  const within: string[] = [];
  const add = (start: number, end: number, named: boolean): boolean => {
    const text = value.slice(start, end);
    const color = findColor(plainColor(text));
    if (color !== null) found.push({ start, end, text, color, named, within: [...within] });
    return color !== null;
  };
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i];
    if (token === undefined) break;
    const text = value.slice(token.start, token.end);
    if (token.type === tokenTypes.Function) {
      const name = text.slice(0, -1).toLowerCase();
      const close = closeOf(tokens, i);
      const end = tokens[close]?.end ?? value.length;
      const skip = NO_COLORS.has(name) || (COLOR_FUNCTIONS.has(name) && add(token.start, end, false));
      if (skip) i = close;
      else within.push(name);
    } else if (token.type === tokenTypes.LeftParenthesis) {
      within.push('');
    } else if (token.type === tokenTypes.RightParenthesis) {
      within.pop();
    } else if (token.type === tokenTypes.Hash) {
      if (HEX.test(text)) add(token.start, token.end, false);
    } else if (token.type === tokenTypes.Ident) {
      // `$tan`, `.tan`, `%tan` and `a.tan` are names of variables and rules.
      const before = value[token.start - 1] ?? ' ';
      if (/^[a-z]+$/i.test(text) && text.toLowerCase() !== 'transparent' && !/[$.%@&]/.test(before))
        add(token.start, token.end, true);
    }
  }
  return found;
}

function tokensOf(value: string): readonly Token[] {
  const tokens: Token[] = [];
  tokenize(value, (type, start, end) => {
    tokens.push({ type, start, end });
  });
  return tokens;
}

/** Index of the parenthesis that closes the function at `from`; past the end where none does. */
function closeOf(tokens: readonly Token[], from: number): number {
  let depth = 0;
  for (let i = from; i < tokens.length; i += 1) {
    const type = tokens[i]?.type;
    if (type === tokenTypes.Function || type === tokenTypes.LeftParenthesis) depth += 1;
    else if (type === tokenTypes.RightParenthesis) depth -= 1;
    if (depth === 0) return i;
  }
  return tokens.length;
}
