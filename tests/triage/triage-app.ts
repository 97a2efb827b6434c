// The app as data → its causes, and the app with a cause's changes made: for tests.
import type { Change } from '../../src/triage/recolor/change.ts';
import type { Triaged } from '../../src/triage/open-triage.ts';
import { openTriage } from '../../src/triage/open-triage.ts';
import type { PaintRef } from '../../src/triage/cases/paint-ref.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import type { App, PlaceModel, Source } from './app-model.ts';
import type { PaintedApp } from './paint-app.ts';
import { ALL_ACTIVE } from './paint-app.ts';

export function triageApp(app: App, painted: PaintedApp, views = painted.views): Triaged {
  const triage = openTriage({ table: app.table, findings: painted.findings, checks: ALL_ACTIVE, served: painted.served });
  for (const { view, samples } of views) triage.add(view, samples);
  return triage.close();
}

/** What somebody would do who believed the cause. Uses are changed where the page has the same source on the same surface. */
export function withChange(app: App, triaged: Triaged, change: Change): App {
  const { world } = triaged.ground;
  const paths = (token: number): string => world.index.pathOf(token);
  switch (change.kind) {
    case 'value':
    case 'alias': {
      const tokens = app.table.tokens.map((token) => {
        if (token.path !== paths(change.token)) return token;
        const definitions = token.definitions.map((definition, theme) => {
          if (definition === null || !change.themes.includes(theme)) return definition;
          const declared = { id: `mended ${theme}` };
          return change.kind === 'value'
            ? { kind: 'literal' as const, color: change.color, declared }
            : { kind: 'alias' as const, target: paths(change.target), declared };
        });
        return { ...token, definitions };
      });
      return { ...app, table: { ...app.table, tokens } };
    }
    case 'rebuild':
      return { ...app, stale: new Map() };
    case 'use': {
      const source: Source = { kind: 'token', path: paths(change.token) };
      const keys = new Set(change.site.cases.flatMap((id) => world.cases[id]?.place.sample?.selector ?? []));
      return { ...app, places: app.places.map((place) => used(place, { keys, ref: change.site.ref, source, paths })) };
    }
    case 'opacity': {
      const inks = new Set(change.site.cases.flatMap((id) => world.cases[id]?.place.sample?.selector ?? []));
      return {
        ...app,
        places: app.places.map((place) => (place.kind === 'text' && inks.has(place.selector) ? { ...place, opacity: 1 } : place)),
      };
    }
    case 'indicator':
    case 'outline':
    case 'alpha':
    case 'unglow':
    case 'filter':
    case 'add':
      return app;
  }
}

function used(
  place: PlaceModel,
  use: {
    readonly keys: ReadonlySet<string>;
    readonly ref: PaintRef;
    readonly source: Source;
    readonly paths: (token: number) => string;
  },
): PlaceModel {
  const { source } = use;
  const isIt = (own: Source): boolean =>
    own.kind === 'literal'
      ? use.ref.kind === 'literal' && toCssText(use.ref.color) === own.color
      : use.ref.kind === 'token' && use.paths(use.ref.token) === own.path && use.keys.has(place.selector);
  switch (place.kind) {
    case 'text':
    case 'graphic':
      return isIt(place.ink) ? { ...place, ink: source } : place;
    case 'surface':
      return isIt(place.fill) ? { ...place, fill: source } : place;
    case 'shadow':
      return isIt(place.fall) ? { ...place, fall: source } : place;
  }
}
