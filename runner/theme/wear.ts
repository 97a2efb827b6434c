// Puts changed colours on a live page: custom properties everywhere, and rules for single elements.
import type { Note } from '../../src/samples/note.ts';
import { recoloredSheet } from '../origins/dye-sheet.ts';
import type { Tab } from '../tab/tab.ts';

export interface Wear {
  /** Colours for custom properties; what else a value holds (the lengths of a shadow) stays. */
  readonly properties: readonly { readonly name: string; readonly color: string }[];
  readonly rules: readonly { readonly within: string; readonly css: string }[];
}

/** Takes off what was worn before. @returns notes on what could not be put on */
export async function putWearOn(tab: Tab, wear: Wear | null): Promise<readonly Note[]> {
  const { properties = [], rules = [] } = wear ?? {};
  await tab.call('wear', { everywhere: '', rules: [] });
  const everywhere = properties.length === 0 ? '' : await sheetFor(tab, properties);
  const { missing } = await tab.call('wear', { everywhere, rules });
  return missing.map((at) => ({ code: 'not-worn', at, data: {} }));
}

async function sheetFor(tab: Tab, properties: Wear['properties']): Promise<string> {
  // Names and kinds of properties are read from what was collected last.
  await tab.call('collect', { rules: { exempt: [], owners: [], stay: [], mask: [] } });
  const { properties: found } = await tab.call('findProperties', { known: properties.map(({ name }) => name) });
  const known = new Map(found.map((property) => [property.name, property]));
  return recoloredSheet(
    properties.map(
      ({ name, color }) =>
        [known.get(name) ?? { name, kind: 'color', value: '', declared: false, leaf: true, rootOnly: false }, color] as const,
    ),
  );
}
