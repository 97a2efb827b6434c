import { describe, expect, test } from 'vitest';
import { explainLines } from '../../src/triage/tell/explain-lines.ts';
import type { App, PlaceModel } from './app-model.ts';
import { healthyApp } from './healthy-app.ts';
import { paintApp } from './paint-app.ts';
import { tokenOf, withToken } from './plant.ts';
import { seeded } from './seeded.ts';
import { triageApp } from './triage-app.ts';

// Derived: what is wrong was put in by hand; what else must change follows from the colours of the ramp.

const healthy = healthyApp(seeded(4));
const page = healthy.places[0]?.page ?? '';
const token = (path: string) => ({ kind: 'token', path }) as const;

function causesOf(app: App): ReturnType<typeof triageApp>['causes'] {
  return triageApp(app, paintApp(app)).causes;
}

function replaced(selector: string, kind: PlaceModel['kind'], change: (place: PlaceModel) => PlaceModel): App {
  const places = healthy.places.map((place) => (place.selector === selector && place.kind === kind ? change(place) : place));
  return { ...healthy, places };
}

test('a surface that takes its inks along says so: in the repair, and in a line of its own', () => {
  // A head bar that must stay dark took the row’s light surface, and the row’s dark ink with it.
  const bar = replaced(`#${page}-head`, 'surface', (place) =>
    place.kind === 'surface' ? { ...place, fill: token('row.hover') } : place,
  );
  const places = bar.places.map((place) =>
    place.kind === 'text' && place.selector.startsWith(`#${page}-head-`)
      ? { ...place, ink: token('row.mark'), on: [token('row.hover')] }
      : place,
  );
  // What is written on the bar lies on the bar’s own element.
  const [cause] = causesOf({ ...bar, places: places.map((place) => onBar(place)) });
  expect(cause?.cause.repair).toMatchObject({ change: 'use', from: 'row.hover', to: 'head.face' });
  expect(cause?.cause.repair?.also).toMatchObject([{ of: `text on #${page}-head`, from: 'row.mark' }]);
  expect(cause?.cause.repair?.also?.[0]?.to).toMatch(/^head\./);
  const lines = cause === undefined ? [] : explainLines(cause.cause);
  expect(lines.filter(({ kind }) => kind === 'repair').map(({ text }) => text)[1]).toMatch(
    /^and let text on .* use head\.\w+ instead of row\.mark$/,
  );
});

function onBar(place: PlaceModel): PlaceModel {
  return place.kind === 'text' && place.selector.startsWith(`#${page}-head-`) ? { ...place, ground: `#${page}-head` } : place;
}

test('ink that no theme but the reference can show is the ink’s matter, not that of the card under it', () => {
  const place = healthy.places.find(
    (each) => each.kind === 'text' && each.on.some((on) => on.kind === 'token' && on.path === 'face.raised'),
  );
  // Reads at about 6 on the light card and at less than 3 on the dark one; no token is near it.
  const app = replaced(place?.selector ?? '', 'text', (each) =>
    each.kind === 'text' ? { ...each, ink: { kind: 'literal', color: '#7a2f9e' } } : each,
  );
  const [cause, ...others] = causesOf(app);
  expect(others).toEqual([]);
  // Purple says something that no ink of the set does.
  expect(cause?.cause).toMatchObject({ layer: 'gap', repair: { change: 'add', of: 'face.raised', from: '#7a2f9e' } });
});

describe('what cannot be mended without breaking something', () => {
  test('is a cause all the same, and says what it breaks', () => {
    // The ring is too dark in dusk; on one middling panel every lighter one would fail: 3:1 against #a0a0a0 asks for a luminance below .084.
    const ring = tokenOf(healthy.table, 'focus.ring');
    const dark = { kind: 'alias' as const, target: 'silt.1000', declared: { id: 'dusk focus.ring' } };
    const app = withToken(healthy, { ...ring, definitions: ring.definitions.with(1, dark) });
    const panel: PlaceModel = {
      kind: 'graphic',
      page,
      selector: '#panel-link',
      role: 'focus',
      ink: token('focus.ring'),
      on: [{ kind: 'literal', color: '#a0a0a0' }],
    };
    const [cause, ...others] = causesOf({ ...app, places: [...app.places, panel] });
    expect(others).toEqual([]);
    expect(cause?.cause).toMatchObject({ layer: 'token', repair: { of: 'focus.ring', breaks: 1 } });
    expect(cause?.cause.why).toContain('breaks 1 place (#panel-link)');
    expect(cause?.cause.confidence).toBeLessThanOrEqual(0.5);
  });
});

test('a token that is exempt where it is used is offered to nobody', () => {
  const { ground } = triageApp(healthy, paintApp(healthy));
  const { index } = ground.world;
  expect(ground.usage.as('surface').has(index.tokenAt('face.raised'))).toBe(true);
  expect(ground.usage.as('surface').has(index.tokenAt('lamp.alarm'))).toBe(false);
});
