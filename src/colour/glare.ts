// How strongly a fill glares on a dark ground: lightness and colourfulness of CAM16 (Li and others 2017), seen against that ground.
import type { Viewing } from './appearance.ts';
import { cam16, D65, toXyz } from './appearance.ts';
import type { Opaque } from './color.ts';

export interface Glare {
  /** CAM16 J, 0–100. */
  readonly lightness: number;
  /** CAM16 M, 0 to about 150 on near-black. */
  readonly colourfulness: number;
  /** J + M/2, 0 to about 145. */
  readonly strength: number;
}

/**
 * Least background Y in CAM16. The model is fitted to backgrounds around Y 20 and divides by the background: on darker ones
 * its direction is used (darker: lighter and more colourful), its size extrapolates. From 1 down nothing changes: a screen shows
 * no less, since it reflects about 1 % (the viewing flare of IEC 61966-2-1, from memory).
 */
const LEAST_BACKGROUND = 1;

/** A screen of 80 cd/m² white (IEC 61966-2-1), the adapting field 20 % of white as is usual with CAM16, room averagely lit. */
const SCREEN = { white: D65, adaptingLuminance: 16, surround: 'average' } as const satisfies Partial<Viewing>;

/**
 * How much half a unit of colourfulness adds to a unit of lightness is ours: of weights from 1/4 to 1, that one told what glared
 * from what did not among 90 swatches of nine hues and five lightnesses, 23 bars and 28 buttons on #121212 that we looked at.
 * Lightness alone makes every pastel glare, colourfulness alone every dark violet and red.
 */
const COLOURFULNESS_WEIGHT = 0.5;

/** @param pair the fill and the ground that the eye is adapted to; both opaque */
export function glareOn(pair: { readonly color: Opaque; readonly ground: Opaque }): Glare {
  const background = Math.max(LEAST_BACKGROUND, toXyz(pair.ground)[1]);
  const { lightness, colourfulness } = cam16(toXyz(pair.color), { ...SCREEN, background });
  return { lightness, colourfulness, strength: lightness + COLOURFULNESS_WEIGHT * colourfulness };
}
