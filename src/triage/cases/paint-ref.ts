// A sample's paint → what decides its colour, in numbers: a token of the table, a literal, or something that cannot be recomputed.
import type { Color } from '../../colour/color.ts';
import { toCssText } from '../../colour/format-color.ts';
import { builtIn } from '../../colour/built-color.ts';
import { findColor } from '../../colour/parse-color.ts';
import { nameChain } from '../../samples/name-chain.ts';
import type { Paint, WrittenPlace } from '../../samples/paint.ts';
import { localKey } from '../tokens/token-table.ts';
import type { TableIndex } from '../tokens/table-index.ts';

export type PaintRef =
  /** The token's colour in the theme, its alpha times `alpha`. */
  | { readonly kind: 'token'; readonly token: number; readonly alpha: number; readonly color: Color; readonly inferred: boolean }
  /** The page serves another colour for this token than its files resolve to. */
  | { readonly kind: 'stale'; readonly token: number; readonly alpha: number; readonly color: Color }
  /** Made from these tokens in a way that is not recomputed here. */
  | { readonly kind: 'derived'; readonly tokens: readonly number[]; readonly color: Color }
  /** Written out: in the declaration, or in the custom property `local` that no token carries. */
  | { readonly kind: 'literal'; readonly color: Color; readonly local?: string }
  | { readonly kind: 'system'; readonly color: Color }
  | { readonly kind: 'unknown'; readonly color: Color };

/** True when the page's own declaration of a token's property is known to differ from the files in a theme. */
export type IsStale = (theme: number, token: number) => boolean;

/** Two readings of one colour: each may be rounded to 8 bits (half a code each), alpha to hundredths (digest of the token format §14). */
export function isSameColor(one: Color, other: Color): boolean {
  const grace = 1.01 / 255;
  if (Math.abs(one.alpha - other.alpha) > 0.0051) return false;
  if (one.alpha === 0) return true;
  return Math.abs(one.r - other.r) <= grace && Math.abs(one.g - other.g) <= grace && Math.abs(one.b - other.b) <= grace;
}

const NOTHING: Color = { r: 0, g: 0, b: 0, alpha: 0 };

/** A paint that was read: equal numbers mean the same thing in the same theme. */
export interface ReadPaint {
  readonly number: number;
  readonly ref: PaintRef;
}

/** Keeps what it has read: a run has millions of paints, but few that differ. */
export type PaintReader = (theme: number, paint: Paint) => ReadPaint;

export function openPaintReader(index: TableIndex, isStale: IsStale): PaintReader {
  const colors = new Map<string, Color | null>();
  const known = index.table.themes.map(() => new Map<string, Map<string, ReadPaint>>());
  let count = 0;
  const functions = builtColors(index);
  const colorOf = (text: string): Color | null => {
    let color = colors.get(text);
    if (color === undefined) colors.set(text, (color = findColor(text)));
    return color;
  };

  const tokenRef = (theme: number, { color: text }: Paint, origin: Paint['origin'] & { kind: 'token' }, color: Color): PaintRef => {
    const local = (): string | undefined =>
      index.table.locals?.get(localKey(index.table.themes[theme]?.name ?? '', origin.property, text));
    const names = origin.step === undefined ? [...nameChain(origin), local() ?? ''] : nameChain(origin);
    const [token, ...further] = names.map(index.tokenOfProperty).filter((at) => at >= 0);
    const { alpha } = origin;
    if (token === undefined) return { kind: 'literal', color, local: origin.property };
    if (fits(index.colorOf(theme, token), alpha, color)) return { kind: 'token', token, alpha, color, inferred: false };
    if (isStale(theme, token)) return { kind: 'stale', token, alpha, color };
    // Declared again on the way down: what was dyed decides, not the table's chain.
    const dyed = further.find((at) => fits(index.colorOf(theme, at), alpha, color));
    if (dyed !== undefined) return { kind: 'token', token: dyed, alpha, color, inferred: false };
    return { kind: 'literal', color, local: origin.property };
  };

  /** Made of numbers that no function of the table has: its declaration alone says what of. */
  const derivedRef = (properties: readonly string[], color: Color): PaintRef =>
    properties.length === 0
      ? { kind: 'literal', color }
      : { kind: 'derived', tokens: properties.map(index.tokenOfProperty).filter((at) => at >= 0), color };

  /** Bare numbers in a function of one property, or a function that was looked up somewhere and makes this colour in the theme. */
  const builtRef = (theme: number, paint: Paint, properties: readonly string[], color: Color): PaintRef | null => {
    const [property, ...others] = properties;
    const bare = property === undefined || others.length > 0 ? -1 : index.tokenOfProperty(property);
    const own = bare < 0 ? null : index.colorOf(theme, bare);
    const alpha = own === null || own.alpha === 0 ? 1 : Number((color.alpha / own.alpha).toFixed(3));
    if (index.table.tokens[bare]?.isBare === true && fits(own, alpha, color))
      return { kind: 'token', token: bare, alpha, color, inferred: false };
    if (paint.written !== undefined) {
      const token = functionIn(index, paint.written);
      return fits(index.colorOf(theme, token), 1, color) ? { kind: 'token', token, alpha: 1, color, inferred: false } : null;
    }
    const token = paint.origin.kind === 'literal' ? undefined : functions[theme]?.get(toCssText(color));
    return token === undefined ? null : { kind: 'token', token, alpha: 1, color, inferred: true };
  };

  const refOf = (theme: number, paint: Paint): PaintRef => {
    const color = colorOf(paint.color);
    if (color === null) return { kind: 'unknown', color: NOTHING };
    const { origin } = paint;
    switch (origin.kind) {
      case 'token':
        return tokenRef(theme, paint, origin, color);
      case 'inferred': {
        const token = index.tokenAt(origin.token);
        return token < 0 ? { kind: 'literal', color } : { kind: 'token', token, alpha: 1, color, inferred: true };
      }
      case 'derived':
        return builtRef(theme, paint, origin.properties, color) ?? derivedRef(origin.properties, color);
      case 'literal':
        return builtRef(theme, paint, [], color) ?? { kind: 'literal', color };
      case 'system':
        return { kind: 'system', color };
      case 'unknown':
        return { kind: 'unknown', color };
    }
  };

  const ofColor = (theme: number, color: string): Map<string, ReadPaint> => {
    const here = known[theme];
    let found = here?.get(color);
    if (found === undefined) {
      found = new Map<string, ReadPaint>();
      here?.set(color, found);
    }
    return found;
  };

  return (theme, paint) => {
    const alike = ofColor(theme, paint.color);
    const key = `${originKey(paint.origin)} ${paint.written === undefined ? '' : String(functionIn(index, paint.written))}`;
    let read = alike.get(key);
    if (read === undefined) {
      count += 1;
      read = { number: count, ref: refOf(theme, paint) };
      alike.set(key, read);
    }
    return read;
  };
}

/** For each theme, what functions that no property carries paint there → their tokens. */
function builtColors(index: TableIndex): readonly ReadonlyMap<string, number>[] {
  return index.table.themes.map(
    (_, theme) =>
      new Map(
        index.table.tokens.flatMap(({ isBare, properties }, token) => {
          const color = isBare === true && properties.length === 0 ? index.colorOf(theme, token) : null;
          return color === null ? [] : [[toCssText(color), token] as const];
        }),
      ),
  );
}

/** The function of the table that a declaration is; −1 where it is none. */
function functionIn(index: TableIndex, written: readonly WrittenPlace[]): number {
  for (const { value } of written) {
    const token = value.includes('var(') ? index.tokenAt(builtIn(value) ?? '') : -1;
    if (token >= 0) return token;
  }
  return -1;
}

function fits(token: Color | null, alpha: number, seen: Color): boolean {
  return token !== null && isSameColor({ ...token, alpha: token.alpha * alpha }, seen);
}

function originKey(origin: Paint['origin']): string {
  switch (origin.kind) {
    case 'token':
      return origin.alpha === 1 ? nameChain(origin).join(' ') : `${nameChain(origin).join(' ')} ${origin.alpha}`;
    case 'derived':
      return `d${origin.properties.join(' ')}`;
    case 'inferred':
      return `i${origin.token}`;
    case 'literal':
    case 'system':
    case 'unknown':
      return origin.kind;
  }
}

/** Equal for paints that are decided by the same thing in whatever theme; a literal's colour is part of what it is. */
export function refKey(ref: PaintRef): string {
  switch (ref.kind) {
    case 'token':
    case 'stale':
      return `t${ref.token}*${ref.alpha}`;
    case 'derived':
      return `d${ref.tokens.join('+')}`;
    case 'literal':
      // Variants of one rule set the same property of their own, each to its own colour.
      return `l${toCssText(ref.color)}${ref.local ?? ''}`;
    case 'system':
    case 'unknown':
      return ref.kind;
  }
}

/** The tokens that a change would have to touch to move this paint. */
export function tokensOf(ref: PaintRef): readonly number[] {
  switch (ref.kind) {
    case 'token':
    case 'stale':
      return [ref.token];
    case 'derived':
      return ref.tokens;
    case 'literal':
    case 'system':
    case 'unknown':
      return [];
  }
}
