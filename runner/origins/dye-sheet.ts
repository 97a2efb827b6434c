// The style sheet that dyes custom properties: everywhere, over every declaration of the page.
import type { WireProperty } from '../page/dye-wire.ts';
import { markerCodes, markerText } from './markers.ts';

/** Every element, and every pseudo-element that can declare a custom property of its own; `:host` reaches what shadow trees set there. */
const EVERYTHING = ':host,*,::before,::after,::marker,::placeholder,::backdrop,::first-line,::first-letter';

/** @param properties with the index of their marker @returns empty when there is nothing to dye */
export function dyeSheet(properties: Iterable<readonly [index: number, property: WireProperty]>): string {
  const lines: string[] = [];
  for (const [index, property] of properties) {
    const value = dyedValue(property, index);
    if (value !== null) lines.push(`${escapeName(property.name)}:${value}!important`);
  }
  return lines.length === 0 ? '' : `${EVERYTHING}{${lines.join(';')}}`;
}

function dyedValue({ kind, value }: WireProperty, index: number): string | null {
  switch (kind) {
    case 'color':
      return markerText(index);
    case 'channels':
      return channels(value, index);
    case 'mixed':
      return value.replaceAll('\u0001', markerText(index));
    case 'other':
      return null;
  }
}

/** Bare channels keep their notation: `12, 34, 56`, `12 34 56`, or `200 30% 40%`. */
function channels(value: string, index: number): string {
  const codes = markerCodes(index);
  const separator = value.includes(',') ? ', ' : ' ';
  return (value.includes('%') ? hslOf(codes) : codes.map(String)).join(separator);
}

function hslOf(codes: readonly [number, number, number]): readonly string[] {
  const [r, g, b] = [codes[0] / 255, codes[1] / 255, codes[2] / 255];
  const [most, least] = [Math.max(r, g, b), Math.min(r, g, b)];
  const range = most - least;
  const light = (most + least) / 2;
  const saturation = range === 0 ? 0 : range / (1 - Math.abs(2 * light - 1));
  const sixth = range === 0 ? 0 : most === r ? ((g - b) / range + 6) % 6 : most === g ? (b - r) / range + 2 : (r - g) / range + 4;
  return [(sixth * 60).toFixed(3), `${(saturation * 100).toFixed(3)}%`, `${(light * 100).toFixed(3)}%`];
}

/** A name as CSS text (CSSOM, "serialize an identifier"). */
function escapeName(name: string): string {
  return name.replace(/[^\w\-\u0080-\u{10ffff}]/gu, (character) => `\\${character}`);
}
