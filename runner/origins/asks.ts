// All colours of a view whose origin will be asked for: what was collected, each declaration once.
import type { WireAsk } from '../page/wire/dye.ts';
import type { WirePlaces } from '../page/wire/places.ts';
import type { WireGround, WireText } from '../page/wire/wire.ts';

export interface Asks {
  readonly selectors: readonly string[];
  readonly asks: readonly WireAsk[];
}

export function asksFor(text: WireText, places: WirePlaces): Asks {
  const selectors = new Map<string, number>();
  const asks = new Map<string, WireAsk>();
  const add = (selector: string, property: string, color: string): void => {
    const key = `${selector}\n${property}\n${color}`;
    if (asks.has(key)) return;
    const known = selectors.get(selector) ?? selectors.size;
    selectors.set(selector, known);
    asks.set(key, [known, property, color]);
  };
  const addGround = ({ selector, color, covers = [] }: WireGround): void => {
    if (color !== undefined) add(selector, 'background-color', color);
    for (const cover of covers) add(selector, cover.property, cover.color);
  };
  text.grounds.forEach(addGround);
  places.grounds.forEach(addGround);
  for (const { selector, inkOn = selector, inkProperty, ink } of text.runs) add(inkOn, inkProperty, ink);
  for (const { selector, color, image } of places.areas) {
    if (color !== undefined) add(selector, 'background-color', color);
    if (image === 'gradient') add(selector, 'background-image', '');
  }
  for (const { selector, color } of places.specks) add(selector, 'background-color', color);
  for (const { selector, property, value } of places.shadows)
    add(selector, property === 'drop-shadow' ? 'filter' : property, value);
  for (const { selector, paints, painters = [] } of places.graphics) {
    for (const { property, color } of paints) add(selector, property, color);
    for (const { on, property, color } of painters) add(on, property, color);
  }
  for (const { selector, outlineColor } of places.targets) add(selector, 'outline-color', outlineColor);
  return { selectors: [...selectors.keys()], asks: [...asks.values()] };
}
