// What a box paints all over its background in one colour: a gradient whose stops are all alike (how libraries lighten what is raised in the
// dark), an inset shadow that fills it (how they colour the rows of their tables).
import { parseShadowList, splitOutside } from '../css-lists.ts';
import type { WireCover } from '../wire/wire.ts';
import { isTransparent } from './colors.ts';

type Painting = Pick<CSSStyleDeclaration, 'backgroundBlendMode' | 'backgroundImage' | 'backgroundRepeat' | 'boxShadow'>;

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
 * Colours of its background images, bottom first, where each is of one colour and covers the whole box.
 * @returns null where one of them is not
 */
export function flatImages(style: Omit<Painting, 'boxShadow'>): readonly string[] | null {
  const { backgroundImage, backgroundRepeat, backgroundBlendMode } = style;
  if (!splitOutside(backgroundRepeat, ',').every((each) => each === 'repeat')) return null;
  if (!splitOutside(backgroundBlendMode, ',').every((each) => each === 'normal')) return null;
  const colors = splitOutside(backgroundImage, ',').map(onlyColor);
  return colors.includes(null) ? null : colors.flatMap((color) => color ?? []).reverse();
}

/** Computed stops are functions, without keywords. */
const GRADIENT = /^(?:repeating-)?(?:linear|radial|conic)-gradient\((.*)\)$/u;
const COLOR = /^(?:rgba?|color|oklab|oklch|lab|lch)\(/u;

function onlyColor(image: string): string | null {
  const [, stops] = GRADIENT.exec(image) ?? [];
  if (stops === undefined) return null;
  const colors = splitOutside(stops, ',').flatMap((stop) => splitOutside(stop, ' ').filter((word) => COLOR.test(word)));
  const [first = null] = colors;
  return colors.every((color) => color === first) ? first : null;
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
