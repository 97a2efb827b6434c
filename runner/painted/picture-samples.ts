// Pictures with their filters, and the picture of the page → picture samples.
import { relativeLuminance } from '../../src/colour/contrast-ratio.ts';
import type { PictureSample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { WirePicture } from '../page/wire/places.ts';
import { groupsOf, tallyOf } from './dominant-colors.ts';
import type { PaintedView } from './painted-view.ts';
import { placeFacts } from './painted-view.ts';
import type { Shot } from './pixels.ts';
import { codesIn, toColor } from './pixels.ts';

/** Fields across and down of the luminances kept. */
const FIELDS = 8;
/** Points read in each field. */
const POINTS = 64;

export function pictureSamples({ view, places, seen }: PaintedView): readonly PictureSample[] {
  return places.pictures.map((place) => ({
    kind: 'picture',
    ...placeFacts(view, place),
    medium: place.medium,
    ...(place.source === undefined ? {} : { source: place.source }),
    ...(place.medium === 'emoji' ? {} : { detail: detailOf(seen, place) }),
    filters: place.filters.map((filter) => ({ ...filter, origin: 'author' })),
    luma: place.medium === 'emoji' ? [] : lumaOf(seen, place.rect),
  }));
}

function detailOf(pixels: Shot, { rect }: WirePicture): number {
  const [first, second] = groupsOf(tallyOf(codesIn(pixels, rect, 6000)), 2);
  return 1 - (first?.share ?? 0) - (second?.share ?? 0);
}

function lumaOf(pixels: Shot, [x, y, width, height]: Rect): readonly number[] {
  return Array.from({ length: FIELDS * FIELDS }, (_, i) => {
    const field: Rect = [
      x + ((i % FIELDS) * width) / FIELDS,
      y + (Math.floor(i / FIELDS) * height) / FIELDS,
      width / FIELDS,
      height / FIELDS,
    ];
    const codes = codesIn(pixels, field, POINTS);
    const sum = codes.reduce((total, code) => total + relativeLuminance(toColor(code)), 0);
    return codes.length === 0 ? 0 : Number((sum / codes.length).toFixed(4));
  });
}
