// A colour that moves but matches no marker is made from custom properties: which? All stay dyed, so that none works through another;
// half of them at a time with other markers, and only the halves that move something are split further.
import type { WireProperty } from '../page/wire/dye.ts';
import { colorsIn } from './colors-in.ts';
import type { ColorInText } from './colors-in.ts';
import { dyeSheet } from './dye-sheet.ts';
import { MOST_MARKERS } from './markers.ts';
import type { DyeTab } from './dye-tab.ts';

type Indexed = readonly [index: number, property: WireProperty];

interface Derived {
  readonly ask: number;
  /** Place among the colours of its value. */
  readonly at: number;
  /** With every property dyed. */
  readonly after: ColorInText | null;
}

/** Markers of the second half are the others of their properties. */
const OTHERS = MOST_MARKERS / 2;
/** Sheets tried for one view: enough for some ten properties among a thousand. */
const MOST_TRIED = 160;

/** @returns names for each spot, in the order of the properties; empty where they could not be told */
export async function findContributors<S extends Derived>(
  tab: DyeTab,
  properties: readonly Indexed[],
  spots: readonly S[],
): Promise<ReadonlyMap<S, readonly string[]>> {
  const found = new Map<S, string[]>(spots.map((spot) => [spot, []]));
  if (spots.length === 0) return found;
  const only = [...new Set(spots.map((spot) => spot.ask))];
  const movedBy = async (part: readonly Indexed[], asked: readonly S[]): Promise<readonly S[]> => {
    const asks = only.filter((ask) => asked.some((spot) => spot.ask === ask));
    const other = new Set(part.map(([index]) => index));
    const css = dyeSheet(properties.map(([index, property]) => [other.has(index) ? index + OTHERS : index, property]));
    const [values = []] = await tab.call('dyed', { sheets: [css], only: asks });
    const texts = new Map(asks.map((ask, at) => [ask, colorsIn(values[at] ?? '').map(({ text }) => text)]));
    return asked.filter((spot) => texts.get(spot.ask)?.[spot.at] !== spot.after?.text);
  };
  const queue: { readonly part: readonly Indexed[]; readonly asked: readonly S[] }[] = [{ part: properties, asked: spots }];
  for (let tried = 0; tried < MOST_TRIED; tried += 1) {
    const next = queue.shift();
    if (next === undefined) break;
    const movedSpots = await movedBy(next.part, next.asked);
    if (movedSpots.length === 0) continue;
    const [single] = next.part;
    if (next.part.length === 1 && single !== undefined) {
      for (const spot of movedSpots) found.get(spot)?.push(single[1].name);
      continue;
    }
    const middle = next.part.length >> 1;
    queue.push({ part: next.part.slice(0, middle), asked: movedSpots }, { part: next.part.slice(middle), asked: movedSpots });
  }
  const order = new Map(properties.map(([index, { name }]) => [name, index]));
  for (const names of found.values()) names.sort((one, other) => (order.get(one) ?? 0) - (order.get(other) ?? 0));
  return found;
}
