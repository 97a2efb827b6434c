// How causes call things: tokens by path, colours by hex, themes and lists as in a sentence.
import type { Color } from '../../colour/color.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { Role } from '../cases/case.ts';
import type { Change } from '../recolor/change.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** `a`, `a and b`, `a, b and c`. */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

/** At most `most` words, the rest counted. */
export function listedBriefly(words: readonly string[], most: number): string {
  return words.length <= most ? listed(words) : `${words.slice(0, most).join(', ')} and ${words.length - most} more`;
}

export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

export function themeNames(index: TableIndex, themes: readonly number[]): readonly string[] {
  return themes.map((theme) => index.table.themes[theme]?.name ?? '');
}

export const WHAT: Readonly<Record<Role, string>> = {
  ink: 'text',
  surface: 'surface',
  edge: 'outline',
  ring: 'focus ring',
  glyph: 'icon',
  face: 'face',
  shadow: 'shadow',
  picture: 'picture',
};

/** What decides a colour: a token's path, or the literal itself. */
export function nameOfRef(index: TableIndex, ref: PaintRef): string {
  switch (ref.kind) {
    case 'token':
    case 'stale':
      return isFunction(index, ref.token) ? toCssText(ref.color) : index.pathOf(ref.token);
    case 'derived':
      return ref.tokens.length === 0 ? toCssText(ref.color) : `a mix of ${listed(ref.tokens.map(index.pathOf))}`;
    case 'literal':
      return toCssText(ref.color);
    case 'system':
      return `the browser’s ${toCssText(ref.color)}`;
    case 'unknown':
      return 'a colour that was not traced';
  }
}

/** The themes a change is written for; those of the faults where it is written for none. */
export function themesOfChange(change: Change): readonly number[] | null {
  switch (change.kind) {
    case 'value':
    case 'alias':
    case 'rebuild':
    case 'filter':
      return change.themes;
    case 'use':
    case 'indicator':
    case 'outline':
    case 'opacity':
    case 'alpha':
    case 'unglow':
    case 'add':
      return null;
  }
}

/** The token of the table that has exactly this colour in a theme, where it is one only of a ramp; else the colour. */
export function nameOfColor(index: TableIndex, theme: number, color: Color): string {
  const text = toCssText(color);
  const steps = index.table.ramps
    .flatMap((_, ramp) => index.stepsOf(ramp))
    .filter((step) => {
      const there = index.colorOf(theme, step);
      return there !== null && toCssText(there) === text;
    });
  const [only] = steps;
  return steps.length === 1 && only !== undefined ? index.pathOf(only) : text;
}

/** As a declaration takes it: a token's path; numbers that are a colour only in their function, in it. */
export function nameInUse(index: TableIndex, token: number): string {
  return functionOf(index, token) ?? index.pathOf(token);
}

/** @returns CSS text */
export function valueInUse(index: TableIndex, token: number): string {
  return functionOf(index, token) ?? `var(${propertyOf(index, token)})`;
}

function functionOf({ table }: TableIndex, token: number): string | null {
  const { isBare, built } = table.tokens[token] ?? {};
  return isBare === true ? (built?.find((each) => each !== null)?.text ?? null) : null;
}

export function propertyOf(index: TableIndex, token: number): string {
  return index.table.tokens[token]?.properties[0] ?? index.pathOf(token);
}

/** A colour that rules build themselves, of numbers in custom properties: no name, a long text. */
export function isFunction({ table }: TableIndex, token: number): boolean {
  const entry = table.tokens[token];
  return entry?.isBare === true && entry.properties.length === 0;
}
