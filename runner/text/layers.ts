// A chain of grounds → the layers of a sample, with where each colour comes from.
import type { Layer, Origin } from '../../src/samples/paint.ts';
import type { WireGround, WireLayer } from '../page/wire/wire.ts';

/** Where the colour of a property of an element comes from; the colour tells which of several in one value is meant. */
export type OriginOf = (selector: string, property: string, color?: string) => Origin;

export const NOT_TRACED: OriginOf = () => ({ kind: 'unknown', why: 'not traced' });

/** Bottom first. */
export function chainOf(grounds: readonly WireGround[], index: number): readonly WireGround[] {
  const chain: WireGround[] = [];
  for (let ground = grounds[index]; ground !== undefined; ground = grounds[ground.up]) chain.push(ground);
  return chain.reverse();
}

export function layersOf(canvas: string, grounds: readonly WireGround[], originOf: OriginOf): readonly Layer[] {
  const layers: Layer[] = [
    {
      selector: null,
      kind: 'color',
      paint: { property: 'background-color', color: canvas, origin: { kind: 'system' } },
      opacity: 1,
    },
  ];
  let opacity = 1;
  for (const ground of grounds) {
    opacity *= ground.opacity ?? 1;
    const blend = ground.blend === undefined ? {} : { blend: ground.blend };
    if (ground.color !== undefined) {
      const paint = {
        property: 'background-color',
        color: ground.color,
        origin: originOf(ground.selector, 'background-color', ground.color),
      };
      layers.push({ selector: ground.selector, kind: 'color', paint, opacity, ...blend });
    }
    for (const { property, color } of ground.covers ?? []) {
      const paint = { property, color, origin: originOf(ground.selector, property, color) };
      layers.push({ selector: ground.selector, kind: 'color', paint, opacity, ...blend });
    }
    if (ground.image !== undefined) layers.push({ selector: ground.selector, kind: ground.image, opacity, ...blend });
  }
  return layers;
}

/** Layers as the painting order tells them. */
export function paintedLayers(canvas: string, beneath: readonly WireLayer[], originOf: OriginOf): readonly Layer[] {
  const [ground] = layersOf(canvas, [], originOf);
  const layers = beneath.flatMap(({ selector, color, covers = [], image, opacity, blend }): readonly Layer[] => {
    const shared = { selector, opacity, ...(blend === undefined ? {} : { blend }) };
    const flat: readonly Layer[] = [
      ...(color === undefined ? [] : [{ property: 'background-color', color, origin: originOf(selector, 'background-color') }]),
      ...covers.map((cover) => ({ ...cover, origin: originOf(selector, cover.property, cover.color) })),
    ].map((paint) => ({ ...shared, kind: 'color', paint }));
    return image === undefined ? flat : [...flat, { ...shared, kind: image }];
  });
  return ground === undefined ? layers : [ground, ...layers];
}
