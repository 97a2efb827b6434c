import { expect, test } from 'vitest';
import type { Paint } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { Reference } from '../../src/checks/check.ts';
import { findingId } from '../../src/checks/finding-id.ts';
import { ALL_CHECKS } from '../../src/checks/table.ts';
import type { Cause, Finding } from '../../src/samples/finding.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { openTriage } from '../../src/triage/open-triage.ts';
import type { TokenTable } from '../../src/triage/tokens/token-table.ts';
import { picture, surface, textRun, view } from '../checks/made-samples.ts';
import { ALL_ACTIVE } from './paint-app.ts';

// Derived: invert(1) turns every channel v into 1 − v (Filter Effects 1), so white is seen as black and #1b2a33 as #e4d5cc.

const value = (color: string, id: string): TokenTable['tokens'][number]['definitions'][number] => ({
  kind: 'literal',
  color: parseColor(color),
  declared: { id },
});
const TABLE: TokenTable = {
  themes: [
    { name: 'noon', tone: 'light' },
    { name: 'flip', tone: 'dark' },
  ],
  reference: 0,
  ramps: [],
  tokens: [
    { path: '--page', properties: ['--page'], definitions: [value('#ffffff', 'a'), value('#ffffff', 'b')] },
    { path: '--ink', properties: ['--ink'], definitions: [value('#1b2a33', 'c'), value('#1b2a33', 'd')] },
  ],
};

type Seen = Readonly<Record<'noon' | 'flip', readonly Sample[]>>;

function triaged(seen: Seen, table: TokenTable): readonly Cause[] {
  const find: Reference['find'] = (kind, key) =>
    seen.noon.find((sample): sample is Extract<Sample, { kind: typeof kind }> => sample.kind === kind && sample.key === key);
  const findings = (['noon', 'flip'] as const).flatMap((theme) =>
    ALL_CHECKS.flatMap((check) =>
      check
        .with()
        .run({
          view: view(theme),
          tone: theme === 'noon' ? 'light' : 'dark',
          samples: seen[theme],
          reference: theme === 'noon' ? null : { theme: 'noon', tone: 'light', samples: seen.noon, find },
        })
        .map((draft): Finding => {
          const id = findingId(view(theme), draft);
          const where = { page: 'quay', theme, state: 'rest', viewport: 'desk' };
          return { ...draft, id, view: view(theme).id, ...where, since: 'n1', status: 'new', cause: null };
        }),
    ),
  );
  const triage = openTriage({ table, findings, checks: ALL_ACTIVE, served: [] });
  for (const theme of ['noon', 'flip'] as const) triage.add(view(theme), seen[theme]);
  return triage.close().causes.map(({ cause }) => cause);
}

function causesOf(seen: Seen): readonly string[] {
  return triaged(seen, TABLE).map(({ repair, findings: count }) =>
    repair === undefined
      ? 'none'
      : `${repair.from} of ${repair.of}: ${String(repair.fixes)} of ${String(count)}, breaks ${String(repair.breaks)}`,
  );
}

const token = (property: string, color: string, name: string) =>
  ({ property, color, origin: { kind: 'token', property: name, alpha: 1 } }) as const;
const page = (painted: string): Sample => {
  const paint = token('background-color', '#ffffff', '--page');
  const place = { key: 'html|canvas', selector: 'html', role: 'canvas', area: 1 } as const;
  const canvas: Paint = { property: 'background-color', color: '#ffffff', origin: { kind: 'system' } };
  return surface({
    color: painted,
    around: painted,
    ...place,
    paint,
    layers: [{ selector: null, kind: 'color', opacity: 1, paint: canvas }],
  });
};
const words = (ink: string, on: string): Sample =>
  textRun({
    ...{ color: ink, background: on, key: 'p', selector: 'p', ink: token('color', '#1b2a33', '--ink') },
    layers: [{ selector: 'html > body', kind: 'color', opacity: 1, paint: token('background-color', '#ffffff', '--page') }],
  });
const photo = (at: number, selector: string, filtered: boolean): Sample =>
  picture({
    key: `photo${String(at)}`,
    selector: `figure:nth-of-type(${String(at)}) > img`,
    filters: filtered ? [{ selector, filter: 'invert(1)', origin: 'author' }] : [],
  });

test('two photos side by side with one filter are one cause', () => {
  const photos = (filtered: boolean): readonly Sample[] =>
    [1, 2].map((at) => photo(at, `figure:nth-of-type(${String(at)}) > img`, filtered));
  expect(causesOf({ noon: photos(false), flip: photos(true) })).toEqual(['filter: invert(1) of figure > img: 2 of 2, breaks 0']);
});

test('a filter on the root is the cause of the picture it turned, though without it nothing would follow the theme', () => {
  const noon = [page('#ffffff'), words('#1b2a33', '#ffffff'), photo(1, 'html', false)];
  const flip = [page('#000000'), words('#e4d5cc', '#000000'), photo(1, 'html', true)];
  expect(causesOf({ noon, flip })).toEqual(['filter: invert(1) of html: 1 of 1, breaks 0']);
});

test('a filter is named by the rule that sets it, with the property that holds it', () => {
  const written = [
    { property: 'filter', value: 'var(--turn)', rule: '.photo', file: '/quay.css', line: 7 },
    { property: '--turn', value: 'invert(1)', rule: '[data-look=flip]', file: '/quay.css', line: 3 },
  ];
  const photos = (isTurned: boolean): readonly Sample[] =>
    [1, 2].map((at) => {
      const selector = `figure:nth-of-type(${String(at)}) > img`;
      const filter = { selector, filter: 'invert(1)', origin: 'author', ...(at === 2 ? { written } : {}) } as const;
      return picture({ key: `photo${String(at)}`, selector, filters: isTurned ? [filter] : [] });
    });
  const [cause] = triaged({ noon: photos(false), flip: photos(true) }, TABLE);
  expect(cause).toMatchObject({
    findings: 2,
    property: 'filter',
    chain: [
      { property: 'filter', value: 'var(--turn)', file: '/quay.css', line: 7 },
      { property: '--turn', value: 'invert(1)', file: '/quay.css', line: 3 },
    ],
    repair: { change: 'style', of: '.photo', from: 'filter: invert(1)', to: 'filter: none' },
  });
  expect(cause?.why).toMatch(/^filter: invert\(1\) on \.photo inverts what it shows in flip/u);
});

test('a value is written for the theme that declares it, not for one that only shares its declarations', () => {
  const shared = (path: string, color: string): TokenTable['tokens'][number] => ({
    path,
    properties: [path],
    definitions: [value(color, path), value(color, path)],
  });
  // A ramp whose fourth step is lighter than its third.
  const steps = ['#ffffff', '#d0d0d0', '#9c9c9c', '#b8b8b8', '#484848', '#2c2c2c', '#141414'].map((color, at) =>
    shared(`silt.${String(at)}`, color),
  );
  const table = {
    ...TABLE,
    ramps: [{ name: 'silt', steps: steps.map(({ path }) => path) }],
    tokens: [shared('--page', '#ffffff'), ...steps],
  };
  const faint = (ink: string, on: string): Sample => {
    const paint = token('background-color', '#ffffff', '--page');
    const layers = [{ selector: 'html > body', kind: 'color', opacity: 1, paint } as const];
    return textRun({ color: ink, background: on, key: 'p', selector: 'p', ink: token('color', '#b8b8b8', 'silt.3'), layers });
  };
  const [cause] = triaged({ noon: [faint('#b8b8b8', '#ffffff')], flip: [faint('#b8b8b8', '#ffffff')] }, table);
  expect(cause).toMatchObject({
    themes: ['noon', 'flip'],
    findings: 2,
    repair: { change: 'value', of: 'silt.3', themes: ['noon'] },
  });
});
