// Traced boxes of a view → its custom properties with what paints: also of boxes that are no samples.
import type { PageProperty } from '../../src/samples/captured-view.ts';
import type { WirePlaces } from '../page/wire/places.ts';
import type { Traced } from './trace-origins.ts';

export function paintingProperties(
  { served, originOf }: Pick<Traced, 'served' | 'originOf'>,
  { areas, specks }: Pick<WirePlaces, 'areas' | 'specks'>,
): readonly PageProperty[] {
  const ends = new Map<string, string>();
  for (const { selector, color } of [...areas, ...specks]) {
    if (color === undefined) continue;
    const origin = originOf(selector, 'background-color', color);
    if (origin.kind === 'token' && origin.fallback !== true) ends.set(origin.property, origin.step ?? origin.property);
    if (origin.kind === 'derived') for (const property of origin.properties) ends.set(property, property);
  }
  return served.map((property) => {
    const paints = ends.get(property.name);
    return paints === undefined ? property : { ...property, paints };
  });
}
