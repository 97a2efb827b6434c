// Chosen values of the movable declarations → the colour of each token, and what that does to the cases.
import type { Color } from '../colour/color.ts';
import { ascending } from '../triage/counting.ts';
import type { Recoloring } from '../triage/recolor/recoloring.ts';
import { movesTo, slotUnder } from '../triage/recolor/token-recoloring.ts';
import type { TableIndex } from '../triage/tokens/table-index.ts';
import type { World } from '../triage/world.ts';
import type { Movable } from './movable.ts';

/** Only what differs from the files: place in the list of steps → colour, place in the list of aliases → step it points at. */
export interface Assignment {
  readonly steps: ReadonlyMap<number, Color>;
  readonly aliases: ReadonlyMap<number, number>;
}

export const AS_IT_IS: Assignment = { steps: new Map(), aliases: new Map() };

/** What decides a token's colour in a theme. */
export type Driver =
  | { readonly kind: 'step'; readonly at: number }
  /** The alias on the way, and where it points now. */
  | { readonly kind: 'alias'; readonly at: number; readonly step: number };

/** @returns null where nothing that is known decides it */
export function driverOf(index: TableIndex, movable: Movable, theme: number, token: number): Driver | null {
  const step = movable.stepAt(theme, token);
  if (step < 0) return null;
  const alias = index
    .chainOf(theme, token)
    .map((each) => movable.aliasAt(theme, each))
    .find((at) => at >= 0);
  return alias === undefined ? { kind: 'step', at: step } : { kind: 'alias', at: alias, step };
}

export function driverKey(driver: Driver): string {
  return `${driver.kind} ${driver.at}`;
}

/** @returns null where the chain has no end */
export function colorUnder(
  of: { readonly index: TableIndex; readonly movable: Movable; readonly assignment: Assignment },
  theme: number,
  token: number,
): Color | null {
  const { index, movable, assignment } = of;
  const driver = driverOf(index, movable, theme, token);
  if (driver === null) return index.colorOf(theme, token);
  const target = driver.kind === 'alias' ? assignment.aliases.get(driver.at) : undefined;
  const step = target === undefined ? (driver.kind === 'alias' ? driver.step : driver.at) : movable.stepAt(theme, target);
  return assignment.steps.get(step) ?? movable.steps[step]?.start ?? null;
}

export function recoloringUnder(world: World, movable: Movable, assignment: Assignment): Recoloring {
  const { index } = world;
  const moved = [
    ...[...assignment.steps.keys()].flatMap((at) => movable.steps[at] ?? []),
    ...[...assignment.aliases.keys()].flatMap((at) => movable.aliases[at] ?? []),
  ];
  const touched = moved.flatMap(({ token, themes }) => [...world.reachOf(token, themes).touched]);
  // Aliases that were pointed elsewhere hang on steps of which the table knows nothing.
  const moves = movesTo(index, (theme, token) => colorUnder({ index, movable, assignment }, theme, token));
  return { touched: ascending(touched), colorOf: (one, at) => slotUnder(moves, one, at) };
}
