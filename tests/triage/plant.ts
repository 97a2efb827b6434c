// What a planted fault is: where it was put, what triage must say of it, and which repair a designer would choose.
import type { Color } from '../../src/colour/color.ts';
import type { CauseLayer, Repair } from '../../src/samples/finding.ts';
import type { Change } from '../../src/triage/recolor/change.ts';
import type { TokenEntry, TokenTable } from '../../src/triage/tokens/token-table.ts';
import type { App, PlaceModel, Source } from './app-model.ts';
import type { Seeded } from './seeded.ts';

/** A chain from pixel to ramp that several faults can be put on: texts of `ink` on `face`, in the dark theme. */
export interface Aim {
  readonly ink: string;
  readonly face: string;
  /** The text in which faults of the page are planted. */
  readonly place: PlaceModel;
  /** As it was before anything was planted. */
  readonly table: TokenTable;
}

export interface Planted {
  readonly layer: CauseLayer;
  readonly change: Repair['change'];
  /** Step, token or custom property at fault; for uses and styles the place in the page. */
  readonly of: string;
  /** Where it was put; empty where the page is at fault in all of them. */
  readonly themes: readonly string[];
  /** What a designer would do, said at each kind. `pathOf` names the tokens of the change. */
  readonly wouldChoose: (change: Change, pathOf: (token: number) => string) => boolean;
}

export interface Plantation {
  readonly app: App;
  readonly planted: readonly Planted[];
}

export type Plant = (app: App, random: Seeded, aim: Aim) => Plantation;

/** Inks that texts on raised surfaces have; other than the main one, which everything else hangs on as well. */
const INKS: readonly string[] = ['mark.quiet', 'mark.hint', 'table.unit', 'chart.label', 'station.code'];

/** Mostly a grey on a card, sometimes a signal on its own tag: then few others share its ramp. */
export function aimAt(app: App, random: Seeded): Aim {
  const marks = app.table.tokens.flatMap(({ path }) => (path.startsWith('signal.') && path.endsWith('.mark') ? [path] : []));
  const isSignal = random.next() < 0.25;
  const ink = random.pick(isSignal ? marks : INKS);
  const face = isSignal ? ink.replace('.mark', '.face') : 'face.raised';
  const texts = app.places.filter((place) => place.kind === 'text' && isToken(place.ink, ink) && isToken(place.on.at(-1), face));
  return { ink, face, place: random.pick(texts), table: app.table };
}

export function isToken(source: Source | undefined, path: string): boolean {
  return source?.kind === 'token' && source.path === path;
}

export function tokenOf(table: TokenTable, path: string): TokenEntry {
  const token = table.tokens.find((each) => each.path === path);
  if (token === undefined) throw new RangeError(`no token ${path}`);
  return token;
}

export function colorIn(table: TokenTable, token: TokenEntry, theme: number): Color {
  const definition = token.definitions[theme];
  if (definition === undefined || definition === null) throw new RangeError(`${token.path} is not defined`);
  return definition.kind === 'literal' ? definition.color : colorIn(table, tokenOf(table, definition.target), theme);
}

/** The token that an alias points at; a role is always an alias. */
export function targetIn(table: TokenTable, path: string, theme: number): string {
  const definition = tokenOf(table, path).definitions[theme];
  if (definition?.kind !== 'alias') throw new TypeError(`${path} is no alias`);
  return definition.target;
}

/** `silt.200` → `silt`. */
export function rampOf(step: string): string {
  return step.split('.')[0] ?? '';
}

export function withToken(app: App, token: TokenEntry): App {
  const tokens = app.table.tokens.map((each) => (each.path === token.path ? token : each));
  return { ...app, table: { ...app.table, tokens } };
}

/** @param of the place before: found by its name, since another fault may have changed it already */
export function withPlace(app: App, of: PlaceModel, change: (place: PlaceModel) => PlaceModel): App {
  const places = app.places.map((each) => (each.selector === of.selector && each.kind === of.kind ? change(each) : each));
  return { ...app, places };
}
