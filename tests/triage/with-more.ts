// A healthy app with more in it: tokens with a colour a theme, and places that take them → what triage says.
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Cause } from '../../src/samples/finding.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { openTriage } from '../../src/triage/open-triage.ts';
import type { App, PlaceModel } from './app-model.ts';
import { entry, healthyApp, literal } from './healthy-app.ts';
import { ALL_ACTIVE, paintApp } from './paint-app.ts';
import { seeded } from './seeded.ts';

export interface Put {
  readonly path: string;
  /** At noon, in dusk, in stark. */
  readonly colors: readonly [string, string, string];
}

/** @param turn what becomes of a sample */
export function causesWith(
  tokens: readonly Put[],
  places: (page: string) => readonly PlaceModel[],
  turn = (sample: Sample): Sample => sample,
): readonly Cause[] {
  const healthy = healthyApp(seeded(4));
  const more = tokens.map(({ path, colors: [noon, dusk, stark] }) =>
    entry(path, [literal(parseColor(noon), 'base'), literal(parseColor(dusk), 'dusk'), literal(parseColor(stark), 'stark')]),
  );
  const app: App = {
    ...healthy,
    table: { ...healthy.table, tokens: [...healthy.table.tokens, ...more] },
    places: [...healthy.places, ...places(healthy.places[0]?.page ?? '')],
  };
  const painted = paintApp(app);
  const triage = openTriage({ table: app.table, findings: painted.findings, checks: ALL_ACTIVE, served: painted.served });
  for (const { view, samples } of painted.views) triage.add(view, samples.map(turn));
  return triage.close().causes.map(({ cause }) => cause);
}
