import { describe, expect, test } from 'vitest';
import { toHex } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Repair } from '../../src/samples/finding.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { openTriage } from '../../src/triage/open-triage.ts';
import { explainLines } from '../../src/triage/tell/explain-lines.ts';
import type { TokenTable } from '../../src/triage/tokens/token-table.ts';
import { openPageTable } from '../../src/triage/tokens/table-of-page.ts';
import type { App, PlaceModel } from './app-model.ts';
import { entry, healthyApp, literal } from './healthy-app.ts';
import type { PaintedApp } from './paint-app.ts';
import { ALL_ACTIVE, paintApp } from './paint-app.ts';
import { seeded } from './seeded.ts';

// A healthy app, painted with its tokens, and tokens beside them that the page builds from numbers: what a page with such style sheets
// serves, and what is looked up there. Derived: colours are what CSS Color 4 makes of the numbers (tests/colour/built-color.test.ts).

interface BuiltPlace {
  readonly name: string;
  /** As a rule writes it. */
  readonly written: string;
  /** Colours at noon and in dusk. */
  readonly colors: readonly [noon: string, dusk: string];
  /** Property with all its numbers: a dye moves it, but leaves no marker. */
  readonly dyed?: string;
  /** Ground in all themes; the page's own unless set. */
  readonly on?: string;
}

interface Told {
  readonly table: TokenTable;
  readonly repairs: readonly Repair[];
  readonly lines: readonly string[];
}

/** @param numbers properties with their texts at noon and in dusk */
function told(places: readonly BuiltPlace[], numbers: Readonly<Record<string, readonly [noon: string, dusk: string]>>): Told {
  const healthy = healthyApp(seeded(4));
  const page = healthy.places[0]?.page ?? '';
  const app: App = {
    ...healthy,
    table: {
      ...healthy.table,
      tokens: [
        ...healthy.table.tokens,
        ...places.map(({ name, colors: [noon, dusk] }) =>
          entry(name, [literal(parseColor(noon), 'base'), literal(parseColor(dusk), 'dusk'), literal(parseColor(noon), 'base')]),
        ),
      ],
    },
    places: [
      ...healthy.places,
      ...places.map(({ name, on }): PlaceModel => ({
        kind: 'text',
        page,
        selector: `#${name}`,
        ink: { kind: 'token', path: name },
        on: [on === undefined ? { kind: 'token', path: 'face.page' } : { kind: 'literal', color: on }],
        opacity: 1,
        large: false,
      })),
    ],
  };
  const painted = built(paintApp(app), places, numbers);
  const themes = app.table.themes;
  const open = openPageTable({ themes, reference: 'noon' });
  for (const { view, samples } of painted.views) open.add(view, samples);
  const table = open.close(painted.served);
  const triage = openTriage({ table, findings: painted.findings, checks: ALL_ACTIVE, served: painted.served });
  for (const { view, samples } of painted.views) triage.add(view, samples);
  const { causes } = triage.close();
  return {
    table,
    repairs: causes.flatMap(({ cause: { repair } }) => repair ?? []),
    lines: causes.flatMap(({ cause }) => explainLines(cause).map(({ text }) => text)),
  };
}

/** The places' own tokens become functions, which are looked up where something is wrong. */
function built(app: PaintedApp, places: readonly BuiltPlace[], numbers: Parameters<typeof told>[1]): PaintedApp {
  const failing = new Set(app.findings.map(({ view, key }) => `${view} ${key}`));
  const turn = (sample: Sample): Sample => {
    const place = places.find(({ name }) => sample.selector === `#${name}`);
    if (place === undefined || sample.kind !== 'text') return sample;
    const wrong = failing.has(`${sample.view} ${sample.key}`);
    const written = wrong ? { written: [{ property: 'color', value: place.written, rule: `.${place.name}` }] } : {};
    const origin = { kind: 'derived', properties: place.dyed === undefined ? [] : [place.dyed] } as const;
    return { ...sample, ink: { ...sample.ink, origin, ...written } };
  };
  const own = new Set(places.map(({ name }) => `--${name}`));
  const served = Object.entries(numbers).flatMap(([name, [noon, dusk]]) =>
    ['noon', 'dusk', 'stark'].map((theme) => ({ theme, name, value: theme === 'dusk' ? dusk : noon })),
  );
  return {
    ...app,
    views: app.views.map(({ view, samples }) => ({ view, samples: samples.map(turn) })),
    served: [...app.served.filter(({ name }) => !own.has(name)), ...served],
  };
}

// hsl(205 60% 30%) is #1f547a, hsl(205 60% 34%) is #235f8b.
const LEVEL: BuiltPlace = { name: 'level', written: 'hsl(var(--h) 60% var(--l))', colors: ['#1f547a', '#235f8b'] };
const NUMBERS = { '--h': ['205', '205'], '--l': ['30%', '34%'] } as const;

describe('a colour that a rule builds from properties', () => {
  test('is a token of its own, in every theme what its numbers make', () => {
    const { table } = told([LEVEL], NUMBERS);
    const token = table.tokens.find(({ path }) => path === LEVEL.written);
    expect(token?.properties).toEqual([]);
    const colors = token?.definitions.map((each) => (each?.kind === 'literal' ? toHex(each.color) : null));
    expect(colors).toEqual(['#1f547a', '#235f8b', '#1f547a']);
  });

  test('is mended by its lightness where that stands in a property', () => {
    const { repairs, lines } = told([LEVEL], NUMBERS);
    expect(repairs).toMatchObject([
      {
        change: 'value',
        of: LEVEL.written,
        from: '#235f8b',
        breaks: 0,
        themes: ['dusk'],
        components: [{ property: '--l', from: '34%' }],
      },
    ]);
    const [repair] = repairs;
    const to = repair?.change === 'value' ? (repair.components?.[0]?.to ?? '') : '';
    expect(lines).toContain(
      `give --l the value ${to} instead of 34% (dusk), which makes ${LEVEL.written} ${repair?.to ?? ''} instead of #235f8b`,
    );
  });

  test('is not, where another colour built from the same property would break; then it says what it is built from', () => {
    // In dusk a plate stays light: ink of lightness 34 % can be read on it, lighter ink cannot.
    const plate = { name: 'plate', written: 'hsl(20 60% var(--l))', on: '#f4f4f4' };
    // hsl(20 60% 30%) is #7a3d1f, hsl(20 60% 34%) is #8b4523. At noon another plate is dark: that is where the rule was looked up.
    const dark: BuiltPlace = { ...plate, name: 'dark-plate', on: '#303030', colors: ['#7a3d1f', '#8b4523'] };
    const { repairs, lines } = told([LEVEL, { ...plate, colors: ['#7a3d1f', '#8b4523'] }, dark], NUMBERS);
    const level = repairs.find(({ of }) => of === LEVEL.written);
    expect(level).toMatchObject({ change: 'value', from: '#235f8b', breaks: 0 });
    expect(level).not.toHaveProperty('components');
    expect(lines.join('\n')).toContain(`${LEVEL.written} (#235f8b, built from --h and --l) is too dark in dusk`);
  });
});

test('three numbers in one property are one token, whatever their function adds', () => {
  // rgb(130 50 20) is #823214.
  const surge: BuiltPlace = { name: 'surge', written: 'rgba(var(--surge), 1)', colors: ['#782814', '#823214'], dyed: '--surge' };
  const { table, repairs } = told([surge], { '--surge': ['120, 40, 20', '130, 50, 20'] });
  expect(table.tokens.find(({ path }) => path === '--surge')).toMatchObject({ properties: ['--surge'], isBare: true });
  expect(table.ramps.flatMap(({ steps }) => steps)).not.toContain('--surge');
  expect(repairs).toMatchObject([{ of: '--surge' }]);
});
