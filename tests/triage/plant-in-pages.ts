// Faults of the page itself. What a designer would choose: the token that the place had, or one that means the same; never a token of a
// part of the screen (a table’s unit, a chart’s label) that merely has the colour.
import { toCssText } from '../../src/colour/format-color.ts';
import type { App, PlaceModel, Source } from './app-model.ts';
import type { Aim, Plant, Planted } from './plant.ts';
import { colorIn, tokenOf, withPlace } from './plant.ts';

/** Text in a token that is meant for edges. Chosen: the ink it had, or another of the roles for text. */
export const plantStrangeUse: Plant = (app, _random, aim) => inked(app, aim, { kind: 'token', path: 'edge.soft' });

/** Text in a grey that no token has. Chosen: the ink it had, or another of the roles for text. */
export const plantGrey: Plant = (app, _random, aim) => inked(app, aim, { kind: 'literal', color: '#9aa3a8' });

/** Text with its colour of the light theme written out. Chosen: a token that has this colour there and is used by the texts beside it. */
export const plantFrozenInk: Plant = (app, _random, aim) => {
  const colorOf = (path: string): string => toCssText(colorIn(aim.table, tokenOf(aim.table, path), 0));
  const color = colorOf(aim.ink);
  const right = [aim.ink, ...TEXT_ROLES].filter((path) => colorOf(path) === color);
  return inked(app, aim, { kind: 'literal', color }, right);
};

/** A surface with its colour of the light theme written out. Chosen: the token it had. */
export const plantUnthemed: Plant = (app, _random, aim) => filled(app, aim, `#${aim.place.page}-card`, 'face.raised');

/** A row under the pointer, its colour written out. Chosen: the row’s own token, never a signal’s tint or the lamp. */
export const plantHover: Plant = (app, _random, aim) => filled(app, aim, `#${aim.place.page}-row`, 'row.hover', '.row:hover');

/** Opacity on a text that reads well without it. Chosen: none. */
export const plantOpacity: Plant = (app, _random, { place }) => ({
  app: withPlace(app, place, (each) => (each.kind === 'text' ? { ...each, opacity: 0.4 } : each)),
  planted: [
    { layer: 'usage', change: 'style', of: place.selector, themes: [], wouldChoose: (change) => change.kind === 'opacity' },
  ],
});

const TEXT_ROLES: readonly string[] = ['mark.quiet', 'mark.hint'];

function inked(app: App, { ink, place }: Aim, source: Source, right = [ink, ...TEXT_ROLES]): ReturnType<Plant> {
  return {
    app: withPlace(app, place, (each) => (each.kind === 'text' ? { ...each, ink: source } : each)),
    planted: [taking(place.selector, right)],
  };
}

function filled(app: App, { table }: Aim, selector: string, path: string, rule?: string): ReturnType<Plant> {
  const color = toCssText(colorIn(table, tokenOf(table, path), 0));
  const change = (place: PlaceModel): PlaceModel =>
    place.kind === 'surface' && place.selector === selector ? { ...place, fill: { kind: 'literal', color } } : place;
  return { app: { ...app, places: app.places.map(change) }, planted: [taking(rule ?? selector, [path])] };
}

function taking(of: string, right: readonly string[]): Planted {
  return {
    layer: 'usage',
    change: 'use',
    of,
    themes: [],
    wouldChoose: (change, pathOf) => change.kind === 'use' && change.inks.length === 0 && right.includes(pathOf(change.token)),
  };
}
