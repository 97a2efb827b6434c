// The tile of its own that an icon lies on, seen between its strokes.
import type { Opaque } from '../../src/colour/color.ts';
import type { Rect } from '../../src/samples/view.ts';
import { groupsOf, tallyOf } from './dominant-colors.ts';
import type { Shot } from './pixels.ts';
import { codesIn, distance, toCode, toColor } from './pixels.ts';

/** Codes: near enough to a colour to be it or its anti-aliased edge (ours). */
const NEAR = 24;
/** Share of the icon's box through which its surroundings show at least, if it lies on them (ours). */
const SHOWS_THROUGH = 0.1;
/** Share of the icon's box that one family of colours fills at least, if it is a ground and no anti-aliased edge (ours). */
const IS_GROUND = 0.15;

/**
 * A round tile or a gradient hardly larger than the icon leaves the page at the icon's corners, and the page prevails there.
 * @param around what prevails around the box
 * @param inks colours that the icon is drawn with, as seen
 * @returns null: it lies on what surrounds it
 */
export function ownGround(shot: Shot, rect: Rect, around: Opaque, inks: readonly Opaque[]): Opaque | null {
  const drawn = inks.map(toCode);
  const all = codesIn(shot, rect, 4000);
  const between = all.filter((code) => drawn.every((ink) => distance(code, ink) > NEAR));
  const through = between.filter((code) => distance(code, toCode(around)) <= NEAR).length;
  if (through >= all.length * SHOWS_THROUGH) return null;
  const [ground] = groupsOf(tallyOf(between), 1);
  if (ground === undefined || ground.share * between.length < all.length * IS_GROUND) return null;
  return toColor(ground.code);
}
