// The style sheet that gives custom properties other colours: everywhere, over every declaration of the page.
import { BLACK } from '../../src/colour/color.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { WireProperty } from '../page/wire/dye.ts';
import { markerCodes, markerText } from './markers.ts';

/** Every element, and pseudo-elements that can declare a custom property of their own; `:host` reaches what shadow trees set there. */
const ELEMENTS = ':host,*,::before,::after,::marker,::placeholder,::backdrop';
/** Those of lines as well; a rule for them parts the text of the page, so they are for a moment's dye only. */
const EVERYTHING = `${ELEMENTS},::first-line,::first-letter`;

/**
 * For a page that stands still: what only its root declares is dyed there and inherited, at a third of what dyeing all elements takes
 * (measured with 300 properties on pages of 500 elements).
 * @param properties with the index of their marker @returns empty when there is nothing to dye
 */
export function dyeSheet(properties: Iterable<readonly [index: number, property: WireProperty]>): string {
  const dyes = [...properties].map(
    ([index, property]) => [property, { text: markerText(index), codes: markerCodes(index) }] as const,
  );
  const onRoot = dyes.filter(([{ rootOnly }]) => rootOnly);
  return (
    sheetOf(':root', onRoot) +
    sheetOf(
      EVERYTHING,
      dyes.filter(([{ rootOnly }]) => !rootOnly),
    )
  );
}

/** For a page that goes on. @param properties with the colour that each is to have */
export function recoloredSheet(properties: readonly (readonly [property: WireProperty, color: string])[]): string {
  return sheetOf(
    ELEMENTS,
    properties.map(([property, text]) => {
      const { r, g, b } = findColor(text) ?? BLACK;
      const code = (channel: number): number => Math.round(Math.min(1, Math.max(0, channel)) * 255);
      return [property, { text, codes: [code(r), code(g), code(b)] }] as const;
    }),
  );
}

interface Dye {
  readonly text: string;
  readonly codes: readonly [red: number, green: number, blue: number];
}

function sheetOf(selector: string, properties: readonly (readonly [WireProperty, Dye])[]): string {
  const lines = properties.flatMap(([property, dye]) => {
    const value = dyedValue(property, dye);
    return value === null ? [] : [`${escapeName(property.name)}:${value}!important`];
  });
  return lines.length === 0 ? '' : `${selector}{${lines.join(';')}}`;
}

function dyedValue({ kind, value }: WireProperty, dye: Dye): string | null {
  switch (kind) {
    case 'color':
      return dye.text;
    case 'channels':
      return channels(value, dye.codes);
    case 'number':
      return otherNumber(value);
    case 'mixed':
      return value.replaceAll('\u0001', dye.text);
    case 'other':
      return null;
  }
}

/** Bare channels keep their notation: `12, 34, 56`, `12 34 56`, or `200 30% 40%`. */
function channels(value: string, codes: Dye['codes']): string {
  const separator = value.includes(',') ? ', ' : ' ';
  return (value.includes('%') ? hslOf(codes) : codes.map(String)).join(separator);
}

/** Another number of its kind: no dye, since many make one colour. */
function otherNumber(value: string): string {
  return `calc(${value} * 0.6 + ${value.includes('%') ? '7.13%' : ANGLE.test(value) ? '77deg' : '0.13'})`;
}

const ANGLE = /\d(?:deg|turn|g?rad)\b/iu;

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
