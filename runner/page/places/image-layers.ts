// The images of a background, layer by layer, and which of them are lines along a side: gradients of one colour, no thicker than a
// border (how libraries underline their fields).
import { splitOutside } from '../css-lists.ts';
import { isTransparent } from './colors.ts';

export type ImageList = Pick<CSSStyleDeclaration, 'backgroundImage' | 'backgroundPosition' | 'backgroundRepeat' | 'backgroundSize'>;

export interface ImageLayer {
  readonly image: string;
  readonly repeat: string;
  /** It covers nothing but a line along all of a side, or along part of it; null: it covers more. */
  readonly line: 'whole' | 'part' | null;
}

/** CSS px; thicker ones are bars (ours). */
const THICKEST = 4;

/** First written first; empty where there are none. */
export function imageLayers(style: ImageList): readonly ImageLayer[] {
  if (style.backgroundImage === 'none') return [];
  const lists = [style.backgroundRepeat, style.backgroundSize, style.backgroundPosition].map((list) => splitOutside(list, ','));
  return splitOutside(style.backgroundImage, ',').flatMap((image, at) => {
    if (image === 'none') return [];
    // Shorter lists begin anew (CSS Backgrounds 3 §2.2).
    const [repeat = '', size = '', position = ''] = lists.map((list) => list[at % list.length]);
    return [{ image, repeat, line: onlyColor(image) === null ? null : lineOf(repeat, size, position) }];
  });
}

/** Colours of the lines that take all of a side. */
export function lineColors(style: ImageList): readonly string[] {
  return imageLayers(style).flatMap(({ image, line }) => {
    const color = line === 'whole' ? onlyColor(image) : null;
    return color === null || isTransparent(color) ? [] : [color];
  });
}

/** @param repeat computed, as are size and position */
function lineOf(repeat: string, size: string, position: string): ImageLayer['line'] {
  const sizes = size.split(' ');
  const across = sizes.findIndex((each) => each.endsWith('px') && Number.parseFloat(each) <= THICKEST);
  if (across === -1) return null;
  const comesAgain = repeat === 'repeat' || repeat === (across === 0 ? 'repeat-x' : 'repeat-y');
  const place = position.split(' ')[across] ?? '';
  if (comesAgain || !/^(?:0%|100%|0px)$/u.test(place)) return null;
  const [along = 'auto'] = sizes.filter((_, at) => at !== across);
  return (along === '100%' || along === 'auto') && Number.parseFloat(sizes[across] ?? '') > 0 ? 'whole' : 'part';
}

/** Computed stops are functions, without keywords. */
const GRADIENT = /^(?:repeating-)?(?:linear|radial|conic)-gradient\((.*)\)$/u;
const COLOR = /^(?:rgba?|color|oklab|oklch|lab|lch)\(/u;

/** The one colour of a gradient whose stops are all alike. */
export function onlyColor(image: string): string | null {
  const [, stops] = GRADIENT.exec(image) ?? [];
  if (stops === undefined) return null;
  const colors = splitOutside(stops, ',').flatMap((stop) => splitOutside(stop, ' ').filter((word) => COLOR.test(word)));
  const [first = null] = colors;
  return colors.every((color) => color === first) ? first : null;
}
