// An app without token files: the custom properties its pages had in the last whole run stand in for tokens, in every theme.
import type { Color } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import { openLedger } from '../ledger/ledger.ts';
import { storeExists, type StorePlace } from '../ledger/store-at.ts';
import type { Configuration } from '../plan/configuration.ts';
import type { CustomProperty } from '../tokens/css/read-custom-properties.ts';
import { readCustomProperties } from '../tokens/css/read-custom-properties.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import type { ServedProperty } from '../triage/tokens/build-faults.ts';
import { pageWide, standIns } from '../triage/tokens/page-wide.ts';
import { openPageTable } from '../triage/tokens/table-of-page.ts';
import type { TokenEntry } from '../triage/tokens/token-table.ts';
import { allOf, lastRun } from './choose-run.ts';

/** @returns null where no run is stored, or its pages have no custom property that is a colour */
export async function pageTokens(store: StorePlace, configuration: Configuration): Promise<TokenGraph | null> {
  if (!(await storeExists(store))) return null;
  await using ledger = await openLedger(store, { access: 'read' });
  const run = (await lastRun(ledger))?.run;
  if (run === undefined) return null;
  const { reference, ramps } = configuration;
  const table = openPageTable({ themes: run.themes, reference, ...(ramps === undefined ? {} : { ramps }) });
  const served: ServedProperty[] = [];
  const fallenBack: ServedProperty[] = [];
  for await (const view of allViews()) {
    table.add(view, (await ledger.samplesOf(run.id, view.id)).samples);
    const properties = await ledger.propertiesOf(run.id, view.id);
    // What only a component sets, for itself, is not there for others.
    for (const [name, value] of pageWide(properties)) served.push({ theme: view.theme, name, value });
    for (const [name, value] of standIns(properties)) fallenBack.push({ theme: view.theme, name, value });
  }
  const { tokens } = table.close(served, fallenBack);
  // A shadow or border has a colour in it, but is none: it can stand in for no colour.
  const colors = tokens.filter(({ isComposite }) => isComposite !== true);
  const names = new Set(colors.map(({ path: name }) => name));
  if (names.size === 0) return null;
  const declared = new Map(
    run.themes.map(({ name: theme }, at) => [
      theme,
      colors.flatMap(({ path: name, definitions }): readonly CustomProperty[] => {
        const definition = definitions[at];
        if (definition === null || definition === undefined) return [];
        if (definition.kind === 'literal') return [{ name, value: toCssText(definition.color) }];
        if (names.has(definition.target)) return [{ name, value: `var(${definition.target})` }];
        const color = colorAtEnd(tokens, name, at);
        return color === null ? [] : [{ name, value: toCssText(color) }];
      }),
    ]),
  );
  return readCustomProperties(declared, ramps === undefined ? {} : { ramps });

  async function* allViews() {
    const views = await allOf((request) => ledger.views(run?.id ?? '', request));
    for (const view of views) if (view.status === 'captured') yield view;
  }
}

/** @param at index of the theme */
function colorAtEnd(tokens: readonly TokenEntry[], name: string, at: number): Color | null {
  const seen = new Set<string>();
  for (let next = name; !seen.has(next);) {
    seen.add(next);
    const definition = tokens.find(({ path }) => path === next)?.definitions[at];
    if (definition === null || definition === undefined) return null;
    if (definition.kind === 'literal') return definition.color;
    next = definition.target;
  }
  return null;
}
