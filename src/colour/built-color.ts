// Colours that take their numbers from custom properties: `hsl(var(--h) 60% var(--l))`, `rgb(var(--rgb) / .5)` (CSS Color 4 §4, CSS
// Variables 1 §3). Text and the properties' texts → colour; a wanted colour → the properties' texts that paint it, as their author writes.
import { inSrgbGamut } from './color.ts';
import type { Color } from './color.ts';
import type { SpaceName } from './color-spaces.ts';
import { componentsIn } from './color-spaces.ts';
import { relativeLuminance } from './contrast-ratio.ts';
import { findColor } from './parse-color.ts';

/** Text of a custom property; undefined where it has none. */
export type TextOf = (property: string) => string | undefined;

/** New texts of properties and the colour that they make. */
export interface Rebuilt {
  readonly texts: ReadonlyMap<string, string>;
  readonly color: Color;
}

const FUNCTION = /\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color-mix)\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)/giu;
const REFERENCE = /var\(\s*(--[^\s,()]+)\s*(?:,\s*([^()]*?)\s*)?\)/gu;

/** @param value of a declaration @returns the first colour function in it that takes something from custom properties; null: there is none */
export function builtIn(value: string): string | null {
  return (value.match(FUNCTION) ?? []).find((text) => text.includes('var(')) ?? null;
}

/** Names in a built colour, each once. */
export function propertiesIn(built: string): readonly string[] {
  return [...new Set([...built.matchAll(REFERENCE)].flatMap(([, name]) => name ?? []))];
}

/** The property that holds all three components, where one does: `--rgb` of `rgb(var(--rgb) / .5)`. */
export function wholeProperty(built: string, textOf: TextOf): string | null {
  const [, name] = /^[a-z]+\(\s*var\(\s*(--[^\s,()]+)\s*\)\s*(?:[,/]|\)$)/iu.exec(built) ?? [];
  const text = name === undefined ? undefined : textOf(name);
  return name !== undefined && text?.match(NUMBERS)?.length === 3 && !/[^\s,]/u.test(text.replace(NUMBERS, '')) ? name : null;
}

/** Without alpha, which is no part of what such a property holds: `rgb(var(--rgb) / .5)` → `rgb(var(--rgb))`. */
export function withoutAlpha(built: string, property: string): string {
  return `${built.slice(0, built.indexOf('('))}(var(${property}))`;
}

/** @returns null where a property has no text, and for what is more than numbers in a function: `calc()`, `from`, mixes */
export function builtColor(built: string, textOf: TextOf): Color | null {
  const slots = slotsOf(built, textOf);
  return slots === null ? null : colorOf(built, slots);
}

/**
 * What properties could say so that a built colour becomes (about) the wanted one; its alpha stays. Lightness alone comes first, at the
 * luminance of the wanted colour or a little beyond; then all three components, if properties hold them. Few digits come before many.
 */
export function* rebuild(built: string, textOf: TextOf, wanted: Color): Generator<Rebuilt> {
  const slots = slotsOf(built, textOf);
  const now = slots === null ? null : colorOf(built, slots);
  if (slots === null || now === null) return;
  const read: Read = { built, slots, space: spaceOf(built), textOf };
  for (const way of [lighten, recompose]) {
    for (const digits of MORE_DIGITS) {
      const found = way(read, wanted, digits);
      if (found !== null) yield found;
    }
  }
}

/** Digits after the point beyond the fewest that make sense: two more tell all 8-bit colours apart (derived: a percentage by 255 is .39). */
const MORE_DIGITS = [0, 1, 2];

interface Slot {
  /** A number with its unit. */
  readonly text: string;
  readonly property?: string;
  /** Place among the numbers of the property. */
  readonly at: number;
}

interface Read {
  readonly built: string;
  readonly slots: readonly Slot[];
  readonly space: SpaceName;
  readonly textOf: TextOf;
}

function argumentsOf(built: string): string {
  return built.slice(built.indexOf('(') + 1, -1);
}

const NUMBERS = /[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?(?:%|deg|grad|rad|turn)?|none/giu;

/** @returns null where a number is missing, or one property stands twice */
function slotsOf(built: string, textOf: TextOf): readonly Slot[] | null {
  const slots: Slot[] = [];
  /** What stands between numbers. */
  const between: string[] = [];
  const addAll = (text: string, property?: string): void => {
    between.push(text.replace(NUMBERS, ''));
    for (const [at, number] of (text.match(NUMBERS) ?? []).entries())
      slots.push({ text: number, at, ...(property === undefined ? {} : { property }) });
  };
  const text = argumentsOf(built);
  let end = 0;
  for (const found of text.matchAll(REFERENCE)) {
    const [all, name = '', fallback] = found;
    addAll(text.slice(end, found.index));
    const own = textOf(name);
    addAll(own ?? fallback ?? '?', own === undefined ? undefined : name);
    end = found.index + all.length;
  }
  addAll(text.slice(end));
  const places = new Set(
    slots.map(({ property, at }, slot) => (property === undefined ? String(slot) : `${property} ${String(at)}`)),
  );
  // More than numbers and separators is more than is understood here; a number that stands in two places cannot be chosen for one of them.
  const isPlain = !/[^\s,/]/u.test(between.join(''));
  return isPlain && places.size === slots.length && (slots.length === 3 || slots.length === 4) ? slots : null;
}

function spaceOf(built: string): SpaceName {
  const name = built.slice(0, built.indexOf('(')).toLowerCase();
  switch (name) {
    case 'hsl':
    case 'hsla':
      return 'hsl';
    case 'hwb':
    case 'lab':
    case 'lch':
    case 'oklab':
    case 'oklch':
      return name;
    default:
      return 'srgb';
  }
}

function colorOf(built: string, slots: readonly Slot[]): Color | null {
  const [one, two, three, alpha] = slots.map(({ text }) => text);
  const name = built.slice(0, built.indexOf('(')).replace(/a$/iu, '');
  return findColor(`${name}(${one ?? ''} ${two ?? ''} ${three ?? ''}${alpha === undefined ? '' : ` / ${alpha}`})`);
}

/** Where lightness stands among the components; -1: nowhere. */
function lightnessAt(space: SpaceName): number {
  return space === 'hsl' ? 2 : space === 'srgb' || space === 'hwb' ? -1 : 0;
}

/** Lightness alone, where a property holds it: at the luminance of the wanted colour or a little beyond. */
function lighten(read: Read, wanted: Color, moreDigits: number): Rebuilt | null {
  const { built, slots, space } = read;
  const at = lightnessAt(space);
  const slot = slots[at];
  if (slot?.property === undefined) return null;
  const unit = unitOf(space, at, slot.text);
  const luminance = (text: string): number => {
    const color = colorOf(built, slots.with(at, { ...slot, text }));
    return color === null ? 0 : relativeLuminance({ ...color, alpha: 1 });
  };
  const goal = relativeLuminance({ ...wanted, alpha: 1 });
  let [low, high] = [0, unit.most];
  for (let halving = 0; halving < 40; halving += 1) {
    const middle = (low + high) / 2;
    if (luminance(`${String(middle)}${unit.suffix}`) < goal) low = middle;
    else high = middle;
  }
  // Beyond the goal, seen from where it is now: a ratio that is just reached stays reached.
  const round = goal > luminance(slot.text) ? Math.ceil : Math.floor;
  const scale = 10 ** (unit.digits + moreDigits);
  const value = round(Number((high * scale).toFixed(6))) / scale;
  return rebuilt(read, new Map([[at, shown(Math.min(unit.most, value), unit.digits + moreDigits, unit.suffix)]]));
}

/** All three components; what is written out in the function stays, and the colour is then not the wanted one. */
function recompose(read: Read, wanted: Color, moreDigits: number): Rebuilt | null {
  const { slots, space } = read;
  const parts = componentsIn(space, wanted);
  const changed = new Map<number, string>();
  for (const [at, slot] of slots.slice(0, 3).entries()) {
    const part = parts[at] ?? 0;
    if (slot.property === undefined || (isHue(space, at) && (isGrey(space, parts) || isSameHue(slot.text, part)))) continue;
    const unit = unitOf(space, at, slot.text);
    const text = shown(part * unit.factor, unit.digits + moreDigits, unit.suffix);
    if (Number.parseFloat(text) !== Number.parseFloat(slot.text)) changed.set(at, text);
  }
  return changed.size === 0 ? null : rebuilt(read, changed);
}

function rebuilt({ built, slots, textOf }: Read, changed: ReadonlyMap<number, string>): Rebuilt | null {
  const next = slots.map((slot, at) => ({ ...slot, text: changed.get(at) ?? slot.text }));
  const color = colorOf(built, next);
  if (color === null || !inSrgbGamut(color)) return null;
  const properties = new Set([...changed.keys()].flatMap((at) => slots[at]?.property ?? []));
  const textFor = (property: string): string => {
    const numbers = next.filter((slot) => slot.property === property);
    let at = -1;
    // Its own separators stay.
    return (textOf(property) ?? '').replace(NUMBERS, (number) => {
      at += 1;
      return numbers.find((slot) => slot.at === at)?.text ?? number;
    });
  };
  return { texts: new Map([...properties].map((property) => [property, textFor(property)])), color };
}

interface Unit {
  /** From the space's own unit to what is written. */
  readonly factor: number;
  readonly suffix: string;
  /** Largest lightness. */
  readonly most: number;
  /** Fewest digits after the point. */
  readonly digits: number;
}

/** Percentages and ranges after CSS Color 4 §§5–9; hues are written in degrees. */
function unitOf(space: SpaceName, at: number, text: string): Unit {
  if (isHue(space, at)) {
    const suffix = text.endsWith('deg') ? 'deg' : '';
    return { factor: 1, suffix, most: 360, digits: 0 };
  }
  const isPercent = text.endsWith('%');
  const suffix = isPercent ? '%' : '';
  switch (space) {
    case 'srgb':
      return { factor: isPercent ? 100 : 255, suffix, most: isPercent ? 100 : 255, digits: 0 };
    case 'oklab':
    case 'oklch':
      if (isPercent) return { factor: at === 0 ? 100 : 250, suffix, most: 100, digits: 0 };
      return { factor: 1, suffix, most: 1, digits: at === 0 ? 2 : 3 };
    case 'lab':
      return { factor: isPercent && at > 0 ? 100 / 125 : 1, suffix, most: 100, digits: 0 };
    case 'lch':
      return { factor: isPercent && at > 0 ? 100 / 150 : 1, suffix, most: 100, digits: 0 };
    default:
      return { factor: 1, suffix, most: 100, digits: 0 };
  }
}

function isHue(space: SpaceName, at: number): boolean {
  return space === 'hsl' || space === 'hwb' ? at === 0 : (space === 'lch' || space === 'oklch') && at === 2;
}

/** Its hue says nothing. */
function isGrey(space: SpaceName, parts: readonly number[]): boolean {
  return space === 'oklch' || space === 'lch' ? (parts[1] ?? 0) < 1e-3 : space === 'hsl' ? (parts[1] ?? 0) < 0.5 : false;
}

/** Less than a degree from what is written: nobody sees that, and hues are shared. In other units than degrees hues are left alone. */
function isSameHue(text: string, hueDeg: number): boolean {
  if (/(?:grad|rad|turn)$/iu.test(text)) return true;
  const off = Math.abs(Number.parseFloat(text) - hueDeg) % 360;
  return Math.min(off, 360 - off) < 1;
}

function shown(value: number, digits: number, suffix: string): string {
  return `${String(Number(value.toFixed(digits)))}${suffix}`;
}
