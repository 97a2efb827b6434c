// Which part of a picture is cut out to show a place. The page and the static form must agree on it, down to the address.
import type { Rect } from '../../src/samples/view.ts';

/** Air around the place and the least and most a crop shows, CSS px of the page under test. */
const AIR = 14;
const LEAST = { width: 150, height: 56 } as const;
const MOST = { width: 330, height: 132 } as const;

/** A place on a picture; a finding's or any other. */
export interface CropPlace {
  readonly finding: { readonly rect: Rect };
  readonly shot: string | null;
  readonly widthCssPx: number;
  readonly heightCssPx: number;
  readonly scale: number;
}

export interface CropBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The part that is shown: whole CSS px, inside the picture. */
export function cropBox({ finding: { rect }, widthCssPx, heightCssPx }: CropPlace): CropBox {
  const [x, y, width, height] = rect;
  const [left, across] = side({ from: x, size: width, least: LEAST.width, most: MOST.width, all: widthCssPx });
  const [top, down] = side({ from: y, size: height, least: LEAST.height, most: MOST.height, all: heightCssPx });
  return { x: left, y: top, width: across, height: down };
}

interface Side {
  readonly from: number;
  readonly size: number;
  readonly least: number;
  readonly most: number;
  readonly all: number;
}

/** Places larger than a crop show where they begin, smaller ones lie in the middle. */
function side({ from, size, least, most, all }: Side): readonly [start: number, length: number] {
  const wanted = size + 2 * AIR;
  const length = Math.max(1, Math.round(Math.min(all, Math.max(least, Math.min(most, wanted)))));
  const start = wanted > most ? from - AIR : from + size / 2 - length / 2;
  return [Math.round(Math.max(0, Math.min(all - length, start))), length];
}

/** Address of the cut, in device px. */
export function cropPath(place: CropPlace): string {
  const { x, y, width, height } = cropBox(place);
  return `/crops/${place.shot ?? ''}/${[x, y, width, height].map((value) => String(Math.round(value * place.scale))).join('-')}`;
}
