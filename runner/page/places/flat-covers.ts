// What a box paints all over its background in one colour: a gradient whose stops are all alike (how libraries lighten what is raised in the
// dark), an inset shadow that fills it (how they colour the rows of their tables).
import { parseShadowList, splitOutside } from '../css-lists.ts';
import type { WireCover } from '../wire/wire.ts';
import { isTransparent } from './colors.ts';
import type { ImageList } from './image-layers.ts';
import { imageLayers, onlyColor } from './image-layers.ts';

type Painting = ImageList & Pick<CSSStyleDeclaration, 'backgroundBlendMode' | 'boxShadow'>;

/** Bottom first. */
export function flatCovers(style: Painting): readonly WireCover[] {
  const filled = filledBy(style.boxShadow);
  return [
    ...(flatImages(style) ?? [])
      .filter((color) => !isTransparent(color))
      .map((color) => ({ property: 'background-image' as const, color })),
    ...(filled === undefined ? [] : [{ property: 'box-shadow' as const, color: filled }]),
  ];
}

/**
 * Colours of its background images, bottom first, where each is of one colour and covers the whole box; lines along its sides aside.
 * @returns null where one of them is not
 */
export function flatImages(style: Omit<Painting, 'boxShadow'>): readonly string[] | null {
  const layers = imageLayers(style).filter(({ line }) => line === null);
  if (!layers.every(({ repeat }) => repeat === 'repeat')) return null;
  if (layers.length > 0 && !splitOutside(style.backgroundBlendMode, ',').every((each) => each === 'normal')) return null;
  const colors = layers.map(({ image }) => onlyColor(image));
  return colors.includes(null) ? null : colors.flatMap((color) => color ?? []).reverse();
}

/** @returns undefined too where other inset shadows lie with it */
function filledBy(shadows: string): string | undefined {
  if (!shadows.includes('inset')) return undefined;
  const [only, ...more] = parseShadowList(shadows).filter(({ inset }) => inset);
  if (only === undefined || more.length > 0 || only.blur > 0 || isTransparent(only.color)) return undefined;
  return only.spread - Math.abs(only.x) - Math.abs(only.y) >= COVERING ? only.color : undefined;
}

/** CSS px; no box that words lie in has a shorter side of twice this. */
const COVERING = 1_000;
