// Colour value of a token → the colour our other parts reckon with, and its CSS text (Color 2025.10, C4.2; CSS Color 4).
import type { Color } from '../../colour/color.ts';
import { parseColor } from '../../colour/parse-color.ts';
import type { ColorValue, Component } from './token-value.ts';

const text = (component: Component): string => (component === 'none' ? 'none' : plain(component));

/** Without exponent, which CSS allows but few people read. */
function plain(value: number): string {
  const short = String(value);
  return short.includes('e') ? value.toFixed(12).replace(/\.?0+$/, '') : short;
}

export function cssColorText({ colorSpace, components, alpha }: ColorValue): string {
  const [a, b, c] = components.map(text);
  const tail = alpha === 1 ? '' : ` / ${plain(alpha)}`;
  const list = `${a ?? ''} ${b ?? ''} ${c ?? ''}${tail}`;
  switch (colorSpace) {
    case 'hsl':
    case 'hwb':
      return `${colorSpace}(${a ?? ''} ${percent(b)} ${percent(c)}${tail})`;
    case 'lab':
    case 'lch':
    case 'oklab':
    case 'oklch':
      return `${colorSpace}(${list})`;
    case 'srgb':
    case 'srgb-linear':
    case 'display-p3':
    case 'a98-rgb':
    case 'prophoto-rgb':
    case 'rec2020':
    case 'xyz-d65':
    case 'xyz-d50':
      return `color(${colorSpace} ${list})`;
  }
}

function percent(component: string | undefined): string {
  return component === undefined || component === 'none' ? 'none' : `${component}%`;
}

/** In sRGB, unclamped; a missing component counts as 0. */
export function colorOfValue(value: ColorValue): Color {
  if (value.colorSpace === 'srgb') {
    const [r, g, b] = value.components;
    return { r: zero(r), g: zero(g), b: zero(b), alpha: value.alpha };
  }
  return parseColor(cssColorText(value));
}

const zero = (component: Component): number => (component === 'none' ? 0 : component);
