// Many small cases of one check on one page, rendered in a light and a dark theme, judged, and told apart again.
import { expect, test } from 'vitest';
import { ALL_CHECKS } from '../../../src/checks/table.ts';
import type { JudgedView } from '../../../src/checks/run-checks.ts';
import { runChecks } from '../../../src/checks/run-checks.ts';
import type { State, Stay, Theme } from '../../../src/plan/configuration.ts';
import type { CheckId, Finding } from '../../../src/samples/finding.ts';
import { captured, renderAll, serve } from '../session/harness.ts';

export interface Case {
  /** A sentence about the place. */
  readonly name: string;
  readonly html: string;
  /** Rules inside the case, nested CSS; `&` is the case itself. */
  readonly css?: string;
  /** The same, in the dark theme only. */
  readonly dusk?: string;
}

export interface Table {
  readonly check: CheckId;
  readonly fires: readonly Case[];
  readonly silent: readonly Case[];
  readonly stay?: readonly Stay[];
  /** Judged in this state instead of at rest; its selector should find one element of each case. */
  readonly state?: Exclude<State, { readonly kind: 'rest' }>;
  readonly options?: Readonly<Record<string, number | string>>;
}

const THEMES: readonly Theme[] = [
  { name: 'noon', tone: 'light', apply: { attributes: [{ on: 'html', name: 'data-theme', value: 'noon' }] }, tokens: {} },
  { name: 'dusk', tone: 'dark', apply: { attributes: [{ on: 'html', name: 'data-theme', value: 'dusk' }] }, tokens: {} },
];

const BASE = `
  :root { --page: #f5f7f9; --face: #ffffff; --sunk: #e9eef1; --ink: #1b2429; --quiet: #52616a; --edge: #c5cfd5; --control: #5d6f78; --brand: #0b5d6b; --on-brand: #ffffff; --fall: rgb(16 24 40 / .25) }
  [data-theme=dusk] { --page: #121212; --face: #1e1e1e; --sunk: #0c0c0c; --ink: #e0e0e0; --quiet: #a3adb2; --edge: #3a4044; --control: #87959c; --brand: #2c7f8c; --on-brand: #ffffff; --fall: rgb(0 0 0 / .5) }
  * { box-sizing: border-box }
  body { margin: 0; background: var(--page); color: var(--ink); font: 16px/1.4 sans-serif }
  section { padding: 24px; margin: 0 0 40px; min-height: 24px }
  button, input, select, textarea { font: inherit; color: inherit }
`;

/** Letters: what differs in digits only counts as alike (separation). */
function nameOf(index: number): string {
  const letter = (n: number): string => String.fromCharCode(97 + n);
  return `case-${letter(Math.floor(index / 26))}${letter(index % 26)}`;
}

function pageOf(cases: readonly Case[]): string {
  const rules = cases.map(({ css = '', dusk = '' }, i) => {
    const id = `#${nameOf(i)}`;
    return `${id} { ${css} }\n[data-theme=dusk] ${id} { ${dusk} }`;
  });
  const sections = cases.map(({ html }, i) => `<section id="${nameOf(i)}">${html}</section>`);
  return `<!doctype html><html lang="en"><title>cases</title><link rel="icon" href="data:,"><style>${BASE}${rules.join('\n')}</style><body>${sections.join('\n')}<script>
    for (const c of document.querySelectorAll('canvas[data-draw]')) {
      const g = c.getContext('2d'); g.fillStyle = c.dataset.draw; g.fillRect(0, 0, c.width, c.height);
    }
    const photo = document.createElement('canvas'); photo.width = 240; photo.height = 160;
    const g = photo.getContext('2d'); let seed = 7;
    const random = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
    for (let y = 0; y < 160; y += 4) for (let x = 0; x < 240; x += 4) {
      g.fillStyle = 'rgb(' + [40 + y, 90 + x / 2, 200 - y].map((v) => v + random() * 40 - 20).join(' ') + ')'; g.fillRect(x, y, 4, 4);
    }
    const photoUrl = photo.toDataURL();
    for (const img of document.querySelectorAll('img[data-photo]')) img.src = photoUrl;
    for (const el of document.querySelectorAll('[data-photo-behind]')) el.style.backgroundImage = 'url("' + photoUrl + '")';
    for (const v of document.querySelectorAll('video[data-photo-poster]')) v.poster = photoUrl;
    for (const c of document.querySelectorAll('canvas[data-photo-drawn]')) c.getContext('2d').drawImage(photo, 0, 0, c.width, c.height);
  </script></body></html>`;
}

/** @returns findings of the check in the dark theme, by number of the case */
async function judge(table: Table, cases: readonly Case[]): Promise<ReadonlyMap<number, readonly Finding[]>> {
  const harbour = await serve({ '/': pageOf(cases) });
  try {
    const results = await renderAll({
      origin: harbour.origin,
      paths: ['/'],
      themes: THEMES,
      states: table.state === undefined ? [] : [table.state],
      configuration: { stay: table.stay ?? [] },
    });
    const state = table.state?.name ?? 'rest';
    const group = results
      .map(captured)
      .filter(({ view }) => view.state === state)
      .map(({ view, samples }): JudgedView => ({ view, samples, tone: view.theme === 'dusk' ? 'dark' : 'light' }));
    const options = table.options === undefined ? {} : { [table.check]: table.options };
    const others = ALL_CHECKS.filter((check) => check.id !== table.check).map((check) => [check.id, 'off'] as const);
    const found = runChecks(group, {
      reference: 'noon',
      checks: { ...Object.fromEntries(others), ...options },
      exempt: [],
      today: '2031-01-01',
      run: 'test',
    }).filter((finding) => finding.theme === 'dusk');
    const numbers = new Map(cases.map((_, i) => [nameOf(i), i]));
    const byCase = new Map<number, Finding[]>();
    for (const finding of found) {
      const number = numbers.get(/^#(case-[a-z]+)/.exec(finding.selector)?.[1] ?? '') ?? -1;
      byCase.set(number, [...(byCase.get(number) ?? []), finding]);
    }
    return byCase;
  } finally {
    await harbour.close();
  }
}

/** Both lists hold at least 15 cases, each of its own kind; one page renders them all. */
export function testCases(table: Table): void {
  const cases = [...table.fires, ...table.silent];
  const judged = judge(table, cases);
  judged.catch(() => undefined);
  test(`${table.check} has at least 15 cases and 15 look-alikes`, () => {
    expect(table.fires.length).toBeGreaterThanOrEqual(15);
    expect(table.silent.length).toBeGreaterThanOrEqual(15);
    expect(new Set(cases.map((one) => one.name)).size).toBe(cases.length);
  });
  test.each(table.fires.map((one, i) => [one.name, i] as const))('found: %s', async (_, i) => {
    const found = (await judged).get(i) ?? [];
    expect(found.map((finding) => finding.check)).toContain(table.check);
  });
  test.each(table.silent.map((one, i) => [one.name, table.fires.length + i] as const))('left alone: %s', async (_, i) => {
    const found = (await judged).get(i) ?? [];
    expect(found.map((finding) => finding.message)).toEqual([]);
  });
  test(`${table.check} says nothing of places outside the cases`, async () => {
    expect(((await judged).get(-1) ?? []).map((finding) => finding.message)).toEqual([]);
  });
}
