// Which custom property painted what: every known property is dyed with a marker of its own, the computed colours are
// read again, and what comes back as a marker was drawn with that property. A second time only properties that refer to no other are
// dyed: that gives the step at the end of the chain. Where components have properties of their own, a third time only those that hold
// for the page are dyed: that gives the token behind them.
import type { Color } from '../../src/colour/color.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { PageProperty } from '../../src/samples/captured-view.ts';
import type { Note } from '../../src/samples/note.ts';
import type { Origin } from '../../src/samples/paint.ts';
import type { WireProperty, WireServed } from '../page/wire/dye.ts';
import type { Asks } from './asks.ts';
import type { ColorInText, ColorReader } from './colors-in.ts';
import { colorsIn, openColorReader } from './colors-in.ts';
import { findContributors } from './contributors.ts';
import { dyeSheet } from './dye-sheet.ts';
import type { DyeTab } from './dye-tab.ts';
import { markerAt, MOST_MARKERS } from './markers.ts';

export interface Traced {
  /** @param color as collected; tells which of several in one value is meant */
  readonly originOf: (selector: string, property: string, color?: string) => Origin;
  readonly served: readonly PageProperty[];
  readonly notes: readonly Note[];
}

/** One colour of a value that was asked about. */
interface Spot {
  readonly ask: number;
  /** Place among the colours of the value. */
  readonly at: number;
  readonly before: ColorInText;
  readonly after: ColorInText | null;
  readonly leaf: ColorInText | null;
}

/** Half of the markers are kept for telling which of several properties a colour is made from. */
const MOST_PROPERTIES = MOST_MARKERS / 2;

/** What is known before any dye is on the page; the dyes themselves come in one go. */
export interface Tracing {
  trace(): Promise<Traced>;
}

/**
 * @param known names of custom properties to trace besides those the page names
 * @param canvas colour of the page's canvas, which tells its scheme
 */
export async function openTracing(
  tab: DyeTab,
  asks: Asks,
  { known, canvas }: { readonly known: readonly string[]; readonly canvas: string },
): Promise<Tracing> {
  const found = await tab.call('findProperties', { known });
  const dyeable = found.properties.filter(({ kind }) => kind !== 'other' && kind !== 'number');
  const numbers = found.properties.filter(({ kind }) => kind === 'number');
  const properties = dyeable.slice(0, MOST_PROPERTIES);
  await tab.call('ask', asks);
  const notes: readonly Note[] =
    dyeable.length > MOST_PROPERTIES
      ? [...found.notes, { code: 'properties-untraced', data: { traced: MOST_PROPERTIES, of: dyeable.length } }]
      : found.notes;
  return {
    trace: async () => {
      const { spots, origins } = await dye(tab, {
        asks,
        properties,
        numbers,
        wide: pageWide(found.served),
        lightDark: found.lightDark,
        turned: turnedScheme(canvas),
      });
      return { originOf: lookUp(asks, spots, origins), served: found.served, notes };
    },
  };
}

async function dye(
  tab: DyeTab,
  from: {
    readonly asks: Asks;
    readonly properties: readonly WireProperty[];
    /** Those of which a colour takes a number. */
    readonly numbers: readonly WireProperty[];
    /** Names of those that hold for the whole page. */
    readonly wide: ReadonlySet<string>;
    readonly lightDark: boolean;
    /** Sheet of the other scheme. */
    readonly turned: string;
  },
): Promise<{ readonly spots: readonly Spot[]; readonly origins: ReadonlyMap<Spot, Origin> }> {
  const { properties, numbers, wide, lightDark, turned } = from;
  const { asks } = from.asks;
  const indexed = properties.map((property, index) => [index, property] as const);
  const leafSheet = dyeSheet(indexed.filter(([, { leaf, declared }]) => leaf && declared));
  // The last for both: what no property moves can only be moved by the scheme. Not where `light-dark()` would take another branch.
  const sheets = ['', dyeSheet(indexed), lightDark ? leafSheet : `${leafSheet}${turned}`];
  const [before = [], after = [], leaves = []] = await tab.call('dyed', { sheets });
  const read = openColorReader();
  const spots = asks.flatMap((_, ask) => spotsOf(read, ask, before[ask] ?? null, after[ask] ?? null, leaves[ask] ?? null));
  const still = spots.filter((spot) => !moved(spot));
  const system = lightDark ? await systemBesideLiterals(tab, still, turned) : new Set(still.filter(movesWithScheme));
  const derived = new Map(await findContributors(tab, indexed, spots.filter(isDerived)));
  for (const spot of await builtOfNumbers(
    tab,
    still.filter((spot) => !system.has(spot)),
    numbers,
  ))
    derived.set(spot, []);
  const origins = new Map(spots.map((spot) => [spot, originOfSpot(spot, properties, system, derived)]));
  for (const [spot, behind] of await behindComponents(tab, origins, { indexed, wide })) origins.set(spot, behind);
  return { spots, origins };
}

function pageWide(served: readonly WireServed[]): ReadonlySet<string> {
  return new Set(served.flatMap(({ name, at, wide }) => (at === 'html' || wide === true ? [name] : [])));
}

type OfToken = Extract<Origin, { readonly kind: 'token' }>;

/** Where a component has a property of its own: what of the page it takes its colour from. @returns origins that say so */
async function behindComponents(
  tab: DyeTab,
  origins: ReadonlyMap<Spot, Origin>,
  { indexed, wide }: { readonly indexed: readonly (readonly [number, WireProperty])[]; readonly wide: ReadonlySet<string> },
): Promise<ReadonlyMap<Spot, OfToken>> {
  const own = [...origins].flatMap(([spot, origin]): (readonly [Spot, OfToken])[] => {
    const isOwn = origin.kind === 'token' && origin.step !== undefined && !wide.has(origin.property);
    return isOwn ? [[spot, origin]] : [];
  });
  const css = dyeSheet(indexed.filter(([, { name }]) => wide.has(name)));
  if (own.length === 0 || css === '') return new Map();
  const only = [...new Set(own.map(([{ ask }]) => ask))];
  const [values = []] = await tab.call('dyed', { sheets: [css], only });
  const read = openColorReader();
  const colors = new Map(only.map((ask, at) => [ask, read(values[at] ?? '')]));
  const properties = new Map(indexed);
  return new Map(
    own.flatMap(([spot, origin]): (readonly [Spot, OfToken])[] => {
      const color = colors.get(spot.ask)?.[spot.at]?.color;
      const index = color === undefined ? null : markerAt(color);
      const name = index === null ? undefined : properties.get(index)?.name;
      return name === undefined || name === origin.step ? [] : [[spot, { ...origin, pageWide: name }]];
    }),
  );
}

function spotsOf(
  read: ColorReader,
  ask: number,
  before: string | null,
  after: string | null,
  leaves: string | null,
): readonly Spot[] {
  if (before === null) return [];
  const [now, dyed, leaf] = [read(before), read(after ?? ''), read(leaves ?? '')];
  // A list that came back with another length was not a list of the same things.
  const at = (list: readonly ColorInText[], index: number): ColorInText | null =>
    list.length === now.length ? (list[index] ?? null) : null;
  return now.map((color, index) => ({ ask, at: index, before: color, after: at(dyed, index), leaf: at(leaf, index) }));
}

function moved(spot: Spot): boolean {
  return spot.after?.text !== spot.before.text;
}

function isDerived(spot: Spot): boolean {
  return spot.after !== null && moved(spot) && markerAt(spot.after.color) === null;
}

/** Read while only the scheme could move it. */
function movesWithScheme({ leaf, before }: Spot): boolean {
  return leaf !== null && leaf.text !== before.text;
}

/** The other scheme than the page's own, told by its canvas. */
function turnedScheme(canvas: string): string {
  const color = colorsIn(canvas)[0]?.color;
  const isDark = color !== undefined && (color.r + color.g + color.b) / 3 < 0.5;
  return `:host,*,::before,::after{color-scheme:${isDark ? 'light' : 'dark'}!important}`;
}

/**
 * What changes with the scheme and with no custom property is the browser's, or two literals in `light-dark()`: the browser's stay
 * when all that the page declares is taken back.
 */
async function systemBesideLiterals(tab: DyeTab, still: readonly Spot[], turned: string): Promise<ReadonlySet<Spot>> {
  if (still.length === 0) return new Set();
  const only = [...new Set(still.map((spot) => spot.ask))];
  const readings = await tab.call('dyed', { sheets: [turned, REVERT], only });
  const [flipped, reverted] = [0, 1].map((sheet) => new Map(only.map((ask, at) => [ask, colorsIn(readings[sheet]?.[at] ?? '')])));
  const textIn = (values: ReadonlyMap<number, readonly ColorInText[]> | undefined, { ask, at }: Spot): string | undefined =>
    values?.get(ask)?.[at]?.text;
  return new Set(
    still.filter((spot) => {
      if ((textIn(flipped, spot) ?? spot.before.text) === spot.before.text) return false;
      return textIn(reverted, spot) === spot.before.text;
    }),
  );
}

/** What no colour of a property moves may be made of numbers that properties hold; alpha alone is none that makes it another colour. */
async function builtOfNumbers(tab: DyeTab, still: readonly Spot[], numbers: readonly WireProperty[]): Promise<readonly Spot[]> {
  // They are moved, not marked.
  const css = dyeSheet(numbers.map((property) => [0, property] as const));
  if (still.length === 0 || css === '') return [];
  const only = [...new Set(still.map((spot) => spot.ask))];
  const [values = []] = await tab.call('dyed', { sheets: [css], only });
  const colors = new Map(only.map((ask, at) => [ask, colorsIn(values[at] ?? '')]));
  return still.filter(({ ask, at, before }) => {
    const now = colors.get(ask)?.[at]?.color;
    return now !== undefined && (['r', 'g', 'b'] as const).some((channel) => now[channel] !== before.color[channel]);
  });
}

const REVERT =
  ':host,*,::before,::after{color:revert!important;background:revert!important;border-color:revert!important;outline-color:revert!important;fill:revert!important;stroke:revert!important}';

function originOfSpot(
  spot: Spot,
  properties: readonly WireProperty[],
  system: ReadonlySet<Spot>,
  derived: ReadonlyMap<Spot, readonly string[]>,
): Origin {
  if (!moved(spot)) {
    if (system.has(spot)) return { kind: 'system' };
    const madeOf = derived.get(spot);
    return madeOf === undefined ? { kind: 'literal' } : { kind: 'derived', properties: madeOf };
  }
  const { after, leaf } = spot;
  if (after === null) return { kind: 'unknown', why: 'its value takes no other colour: what it is made of cannot be told' };
  const property = propertyAt(after.color, properties);
  if (property === null) return { kind: 'derived', properties: derived.get(spot) ?? [] };
  const step = leaf === null ? null : propertyAt(leaf.color, properties);
  return {
    kind: 'token',
    property: property.name,
    alpha: Number(after.color.alpha.toFixed(3)),
    ...(step === null || step === property ? {} : { step: step.name }),
    ...(property.declared ? {} : { fallback: true }),
  };
}

function propertyAt(color: Color, properties: readonly WireProperty[]): WireProperty | null {
  const index = markerAt(color);
  return index === null ? null : (properties[index] ?? null);
}

/** By element, property and colour; without a colour the first of the value. */
function lookUp(asks: Asks, spots: readonly Spot[], origins: ReadonlyMap<Spot, Origin>): Traced['originOf'] {
  const places = new Map<string, Spot[]>();
  for (const spot of spots) {
    const [selector, property] = asks.asks[spot.ask] ?? [];
    if (selector === undefined || property === undefined) continue;
    const key = `${asks.selectors[selector] ?? ''}\n${property}`;
    const known = places.get(key);
    if (known === undefined) places.set(key, [spot]);
    else known.push(spot);
  }
  return (selector, property, color) => {
    const found = places.get(`${selector}\n${property}`);
    const [first] = found ?? [];
    if (found === undefined || first === undefined) return { kind: 'unknown', why: `${property} of ${selector} was not traced` };
    const asked = color === undefined ? null : findColor(color);
    const spot = found.find(({ before }) => before.text === color) ?? nearest(found, asked) ?? first;
    return origins.get(spot) ?? { kind: 'unknown', why: 'not traced' };
  };
}

/** For colours read from pixels: the stop they come closest to. */
function nearest(spots: readonly Spot[], asked: Color | null): Spot | undefined {
  if (asked === null) return undefined;
  const off = ({ before: { color } }: Spot): number =>
    Math.abs(color.r - asked.r) + Math.abs(color.g - asked.g) + Math.abs(color.b - asked.b);
  return spots.toSorted((one, other) => off(one) - off(other))[0];
}
