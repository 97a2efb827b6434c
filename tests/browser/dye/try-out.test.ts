// A small app in a real browser: rendered, checked, explained; then each repair is put on its pages and they are rendered again.
// What was promised must come true, and nothing else.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runChecks } from '../../../src/checks/run-checks.ts';
import { ALL_CHECKS } from '../../../src/checks/table.ts';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { CapturedView } from '../../../src/samples/captured-view.ts';
import type { Finding } from '../../../src/samples/finding.ts';
import type { Triaged } from '../../../src/triage/open-triage.ts';
import { openTriage } from '../../../src/triage/open-triage.ts';
import { openPageTable } from '../../../src/triage/tokens/table-of-page.ts';
import { compareTry, openTryOut } from '../../../src/triage/try-out.ts';
import type { Wear } from '../../../runner/theme/wear.ts';
import type { Harbour } from '../session/harness.ts';
import { renderAll, serve } from '../session/harness.ts';

const THEMES: readonly Theme[] = (['noon', 'dusk'] as const).map((name) => ({
  name,
  tone: name === 'noon' ? 'light' : 'dark',
  apply: { attributes: [{ on: 'html', name: 'data-theme', value: name }] },
  tokens: {},
}));

// Greys of eleven steps; in dusk step 300 is far too dark (planted), and mark-code points at the step of edges (planted). Colours of the
// levels are built from numbers that stay in dusk what they are at noon (planted): lightness in a property of its own, all three numbers
// in one, and a property that follows such a one.
const STEPS = [
  '#fbfcfd',
  '#eff3f4',
  '#dce4e7',
  '#c4cfd5',
  '#a5b6be',
  '#8197a1',
  '#586e78',
  '#495c66',
  '#37474e',
  '#273237',
  '#151d20',
];
const ramp = (steps: readonly string[]): string => steps.map((color, at) => `--silt-${String(at * 100)}:${color}`).join(';');
const CSS = `
html{${ramp(STEPS)};--face-page:var(--silt-100);--face-raised:var(--silt-0);--mark-main:var(--silt-900);--mark-quiet:var(--silt-700);
  --mark-hint:var(--silt-700);--mark-unit:var(--silt-700);--mark-code:var(--silt-700);--edge-firm:var(--silt-400);--fall:0 2px 8px rgb(13 26 34 / 0.2)}
html[data-theme=dusk]{${ramp(STEPS.with(3, '#4d5a60'))};--face-page:var(--silt-1000);--face-raised:var(--silt-900);--mark-main:var(--silt-100);
  --mark-quiet:var(--silt-200);--mark-hint:var(--silt-300);--mark-unit:var(--silt-300);--mark-code:var(--silt-600);--edge-firm:var(--silt-600);
  --fall:0 2px 8px rgb(90 110 120 / 0.6)}
body{margin:0;background:var(--face-page);color:var(--mark-main);font:16px sans-serif}
section{background:var(--face-raised);margin:20px;padding:10px;box-shadow:var(--fall)}
.quiet{color:var(--mark-quiet)} .hint{color:var(--mark-hint)} .unit{color:var(--mark-unit)} .code{color:var(--mark-code)}
@layer pier{.lost{color:#9aa3a8!important}} .faint{opacity:.4}
html{--level-hue:205;--level-light:34%;--surge-rgb:120 40 20;--ebb:0.45 0.09 160;--calm:210 60% 36%;--calm-ink:hsl(var(--calm))}
.level{color:hsl(var(--level-hue) 60% var(--level-light))} .surge{color:rgb(var(--surge-rgb) / .95)}
.ebb{color:oklch(var(--ebb))} .calm{color:var(--calm-ink)}`;
const page = (title: string, inner: string): string =>
  `<!doctype html><meta charset=utf-8><title>${title}</title><style>${CSS}</style><body>
<h1>${title}</h1><section><p>High water at six</p><p class=quiet>Springs</p><p class=hint>Metres above datum</p><p class=unit>m</p><p class=code>TG-014</p></section>
<p class=quiet>Harbour office</p><p class=hint>Times are local</p><p class=unit>kn</p>${inner}`;

let harbour: Harbour;
let views: readonly CapturedView[];
let findings: readonly Finding[];
let triaged: Triaged;

const setup = (): Parameters<typeof renderAll>[0] => ({ origin: harbour.origin, paths: ['/', '/tides'], themes: THEMES });

function captured(results: Awaited<ReturnType<typeof renderAll>>): readonly CapturedView[] {
  return results.flatMap((result) => (result.status === 'captured' ? [result] : []));
}

function check(seen: readonly CapturedView[]): readonly Finding[] {
  const pages = [...new Set(seen.map(({ view }) => view.page))].toSorted();
  return pages.flatMap((name) =>
    runChecks(
      seen
        .filter(({ view }) => view.page === name)
        .map(({ view, samples }) => ({ view, samples, tone: view.theme === 'dusk' ? ('dark' as const) : ('light' as const) })),
      { reference: 'noon', checks: {}, exempt: [], today: '2026-01-01', run: 'one' },
    ),
  );
}

beforeAll(async () => {
  harbour = await serve({
    '/': page('Stations', '<p class=lost>Lost property</p>'),
    '/tides': page(
      'Tides',
      '<div class=faint><p class=quiet>Faint print</p><p class=unit>Faint unit</p></div><p class=level>3.42 m</p><p class=surge>Surge</p><p class=ebb>Ebbing</p><p class=calm>Calm</p>',
    ),
  });
  views = captured(await renderAll(setup()));
  findings = check(views);
  const served = views.flatMap(({ view, properties }) =>
    properties.filter(({ at }) => at === 'html').map(({ name, value }) => ({ theme: view.theme, name, value })),
  );
  const open = openPageTable({ themes: THEMES.map(({ name, tone }) => ({ name, tone })), reference: 'noon' });
  for (const { view, samples } of views) open.add(view, samples);
  const checks = new Map(ALL_CHECKS.map((each) => [each.id, { check: each, options: {} }]));
  const triage = openTriage({ table: open.close(served), findings, checks, served });
  for (const { view, samples } of views) triage.add(view, samples);
  triaged = triage.close();
});

afterAll(async () => {
  await harbour.close();
});

describe('an app that has only style sheets', () => {
  test('all its views were rendered', () => {
    expect(views.length).toBe(4);
  });

  test('a value that is put on changes nothing but its colour: texts are parted and read as without', async () => {
    const read = (seen: readonly CapturedView[]): readonly unknown[] =>
      seen.flatMap(({ view, samples }) =>
        samples.flatMap((sample) =>
          sample.kind === 'text'
            ? [
                {
                  view: view.id,
                  key: sample.key,
                  rect: sample.rect,
                  color: sample.color,
                  on: sample.background,
                  basis: sample.basis,
                },
              ]
            : [],
        ),
      );
    const wear = (): Wear => ({ properties: [{ name: '--edge-unused', color: '#8197a1' }], rules: [] });
    const worn = captured(await renderAll({ ...setup(), request: { wear } }));
    expect(read(worn)).toEqual(read(views));
  });

  test('its planted faults are the causes, each in its layer and place', () => {
    const told = triaged.causes.map(
      ({ cause: { layer, themes, repair } }) => `${layer} ${repair?.change ?? ''} ${repair?.of ?? ''} in ${themes.join('+')}`,
    );
    expect(told.toSorted()).toEqual(
      [
        'ramp value --silt-300 in dusk',
        'token alias --mark-code in dusk',
        'token value --calm in dusk',
        'token value --ebb in dusk',
        'token value --surge-rgb in dusk',
        'token value hsl(var(--level-hue) 60% var(--level-light)) in dusk',
        'token value --fall in dusk',
        'usage style .faint in noon+dusk',
        // It can be read in dusk, but did not follow the theme.
        'usage use .lost in noon+dusk',
      ].toSorted(),
    );
  });
});

test('a colour that is built from numbers gets them as their author writes them, and no more of them than it takes', () => {
  const said = triaged.causes.flatMap(({ cause: { repair } }) =>
    repair?.change === 'value' && repair.components !== undefined ? repair.components : [],
  );
  const told = new Map(said.map(({ property, from, to }) => [property, [from, to] as const]));
  expect([...told.keys()].toSorted()).toEqual(['--calm', '--ebb', '--level-light', '--surge-rgb']);
  expect(told.get('--level-light')).toEqual(['34%', expect.stringMatching(/^\d+%$/u)]);
  expect(told.get('--surge-rgb')).toEqual(['120 40 20', expect.stringMatching(/^\d+ \d+ \d+$/u)]);
  // Hue, and what there is of colour, stay where lightness alone mends.
  expect(told.get('--ebb')).toEqual(['0.45 0.09 160', expect.stringMatching(/^0\.\d+ 0\.09 160$/u)]);
  expect(told.get('--calm')).toEqual(['210 60% 36%', expect.stringMatching(/^210 60% \d+%$/u)]);
});

describe('tried on the live page', () => {
  test('each repair, with those it comes after, mends what it promised and breaks nothing', async () => {
    const outcomes = [];
    for (const explained of triaged.causes) {
      const { wearFor, forecast } = openTryOut(triaged.ground, explained, findings);
      const again = captured(await renderAll({ ...setup(), request: { wear: wearFor } }));
      const { predicted, actual, stayed, appeared } = compareTry(forecast, new Set(again.map(({ view }) => view.id)), {
        before: findings,
        after: check(again),
      });
      outcomes.push({
        of: explained.cause.repair?.of,
        predicted,
        actual,
        stayed: stayed.map(({ message }) => message),
        appeared: appeared.map(({ message }) => message),
      });
    }
    for (const { of, predicted, actual, stayed, appeared } of outcomes) {
      expect({ of, actual, stayed, appeared }).toEqual({ of, actual: predicted, stayed: [], appeared: [] });
      expect(predicted.mended).toBeGreaterThan(0);
    }
  });

  test('a repair that hangs on a planted step says so, and no other does', () => {
    const step = triaged.causes.find(({ cause }) => cause.repair?.of === '--silt-300')?.cause.id;
    const after = triaged.causes.flatMap(({ cause: { repair } }) =>
      repair?.after === undefined ? [] : [[repair.of, repair.after]],
    );
    // The token proposed for `.lost`, and the one that the siblings of --mark-code point at, both lie on the step.
    expect(after.toSorted()).toEqual([
      ['--mark-code', [step]],
      ['.lost', [step]],
    ]);
  });
});
