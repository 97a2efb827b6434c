// Views that are as they were: taken over from the last run, and nothing that changed is taken for unchanged.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { folderWith, gloam } from './gloam.ts';
import { facts, night } from './night-facts.ts';

function quay(): string {
  const page = (body: string): string =>
    `<!doctype html><html lang="en"><meta charset="utf-8"><title>Quay</title><link rel="stylesheet" href="quay.css"><body>${body}</body></html>`;
  return folderWith({
    'site/index.html': page('<h1>Quay</h1><p id="weak">Low water at noon</p><canvas width="80" height="20"></canvas>'),
    'site/board.html': page(
      '<h1>Board</h1><p id="clock">12:00</p><script>setInterval(() => { clock.textContent = "12:00" }, 400)</script>',
    ),
    'site/quay.css':
      ':root { --silt: #999; --mark: var(--silt) }\n.dusk { --silt: #555 }\nbody { background: #fff; color: #111 }\n.dusk body { background: #111; color: #eee }\n#weak { color: var(--mark) }\n',
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: [{ path: '/', states: ['pressed'] }, '/board.html'],
      // Three: the second is proved against a fresh load, and the third must not show that.
      themes: {
        noon: { tone: 'light' },
        dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } },
        deep: { tone: 'dark', apply: { class: { add: ['dusk', 'deep'] } } },
      },
      states: { pressed: { hover: '#weak' } },
    }),
  });
}

/** In two themes. */
function onePage(html: string): string {
  return folderWith({
    'site/index.html': html,
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
    }),
  });
}

test('a night without changes is taken over; what changed is read anew, also where the picture is the same', async () => {
  const folder = quay();
  const css = path.join(folder, 'site/quay.css');
  const sheet = readFileSync(css, 'utf8');
  expect((await night(folder)).unchanged).toBe(0);
  const before = await facts(folder);
  // The board writes the same text anew all the time: it is the same page. What is seen under a pointer is compared as well.
  expect((await night(folder)).unchanged).toBe(9);
  expect(await facts(folder)).toEqual(before);

  // Read anew because it is asked for, the result is the same.
  expect((await night(folder, '--anew')).unchanged).toBe(0);
  expect(await facts(folder)).toEqual(before);

  // Another token of the same value: no pixel tells, the style sheet does.
  writeFileSync(css, sheet.replace('#weak { color: var(--mark) }', '#weak { color: var(--silt) }'));
  expect((await night(folder)).unchanged).toBe(0);
  expect((await facts(folder))['causes']?.join('\n')).not.toContain('--mark');

  // A line more: nothing but the place where it is written is another.
  writeFileSync(css, sheet);
  await night(folder);
  writeFileSync(css, `\n${sheet}`);
  expect((await night(folder)).unchanged).toBe(9);
  const moved = await facts(folder);
  expect(moved).not.toEqual(before);
  expect((await night(folder, '--anew')).unchanged).toBe(0);
  expect(await facts(folder)).toEqual(moved);

  // A token's value in the dark themes is nothing to the light one's views.
  writeFileSync(css, sheet.replace('#555', '#757575'));
  expect((await night(folder)).unchanged).toBe(3);
  const turned = await facts(folder);
  expect((await night(folder, '--anew')).unchanged).toBe(0);
  expect(await facts(folder)).toEqual(turned);

  // Another configuration: other findings, without reading any page anew where the pages do not depend on it.
  const config = path.join(folder, 'gloam.config.json');
  const text = readFileSync(config, 'utf8');
  writeFileSync(config, text.replace('"themes"', '"checks":{"text-contrast":"off"},"themes"'));
  expect((await night(folder)).unchanged).toBe(9);
  expect((await facts(folder))['causes']).toEqual([]);
}, 240_000);

test('a theme that left something behind is proved again on the nights after, also where only a token changed', async () => {
  // A chart that takes its colour once, when it is drawn.
  const chart = '<script>chart.style.background = getComputedStyle(document.documentElement).getPropertyValue("--mark")</script>';
  const page = (body: string): string =>
    `<!doctype html><html lang="en"><meta charset="utf-8"><title>Quay</title><link rel="stylesheet" href="quay.css"><body><p>Low water</p>${body}`;
  const dusk = { tone: 'dark', apply: { class: { add: ['dusk'] } } };
  const folder = folderWith({
    'site/index.html': page(`<div id="chart" style="width: 200px; height: 60px"></div>${chart}`),
    'site/board.html': page(''),
    'site/quay.css': ':root { --mark: #102030 }\n.dusk { --mark: #e8a33d; background: #0b3d4f }\np { color: var(--mark) }\n',
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/', '/board.html'],
      themes: { noon: { tone: 'light' }, dusk, deep: { tone: 'dark', apply: { class: { add: ['dusk', 'deep'] } } } },
    }),
  });
  const proofs = async (...more: readonly string[]): Promise<unknown> => {
    const { code, stdout } = await gloam(folder, 'run', '--json', '--time', ...more);
    expect(code).toBe(0);
    const { time } = JSON.parse(stdout) as { readonly time: readonly { readonly stage: string; readonly times: number }[] };
    return time.find(({ stage }) => stage === 'proving')?.times;
  };
  expect(await proofs()).toBe(2);
  const css = path.join(folder, 'site/quay.css');
  writeFileSync(css, readFileSync(css, 'utf8').replace('#e8a33d', '#e8a34d'));
  // Of the board it is known that nothing stays behind.
  expect(await proofs()).toBe(1);
  const turned = await facts(folder);
  expect(await proofs('--anew')).toBe(2);
  expect(await facts(folder)).toEqual(turned);
}, 240_000);

test('ids that a library makes up at each load make no view another, and its places keep their findings', async () => {
  const page = (one: string, other: string): string =>
    `<!doctype html><html lang="en"><meta charset="utf-8"><title>Quay</title><style>
    p, label, input { color: #999; border: 1px solid #ccc } .dusk { background: #111; color: #eee } .card_8fb7ebe7 { color: #aaa }</style>
    <body><section id="${one}" aria-labelledby="${one}-title"><p id="${one}-title">Low water</p></section>
    <label for="${other}">Berth</label><input id="${other}" name="${other}" aria-describedby="${other}-none"><p class="card_8fb7ebe7">Springs</p>`;
  const folder = onePage(page('k3x9q2mf', 'tide-p7d2w8za'));
  const file = path.join(folder, 'site/index.html');
  expect((await night(folder)).unchanged).toBe(0);
  const before = await facts(folder);
  writeFileSync(file, page('b8w1z5qd', 'tide-m4r6t9xy'));
  expect((await night(folder)).unchanged).toBe(2);
  // Read anew, nothing has another name.
  expect((await night(folder, '--anew')).unchanged).toBe(0);
  expect(await facts(folder)).toEqual(before);
  expect(before['samples']?.join()).not.toMatch(/k3x9q2mf|p7d2w8za/u);
  // Which rules hold goes by classes, also where a build makes them up.
  writeFileSync(file, page('b8w1z5qd', 'tide-m4r6t9xy').replaceAll('8fb7ebe7', '9ac3d0e1'));
  expect((await night(folder)).unchanged).toBe(0);
}, 240_000);

test('ids that components count up in the order in which they load make no view another, and are no names of places', async () => {
  // Two kinds of fields count together; which code comes first differs. The steps are numbered by the author.
  const page = (first: 'depth' | 'berth'): string =>
    `<!doctype html><html lang="en"><meta charset="utf-8"><title>Quay</title><style>p { color: #999 } .dusk { background: #111; color: #eee }</style>
    <body><p id="step-1">Moor</p><p id="step-2">Pay</p><tide-depth></tide-depth><tide-berth></tide-berth><tide-depth></tide-depth><script>
    let fields = 0;
    for (const kind of ${first === 'depth' ? "['depth', 'berth']" : "['berth', 'depth']"}) customElements.define('tide-' + kind, class extends HTMLElement {
      connectedCallback() {
        const id = 'field-' + fields++;
        this.id = 'tide-' + kind + '-' + fields;
        this.attachShadow({ mode: 'open' }).innerHTML =
          '<style>input { border: 1px solid #ccc } label { color: #aaa }</style><label for="' + id + '">' + kind + '</label><input id="' + id + '" aria-describedby="' + id + '-hint">';
      }
    })</script>`;
  const folder = onePage(page('depth'));
  expect((await night(folder)).unchanged).toBe(0);
  const before = await facts(folder);
  writeFileSync(path.join(folder, 'site/index.html'), page('berth'));
  expect((await night(folder)).unchanged).toBe(2);
  expect((await night(folder, '--anew')).unchanged).toBe(0);
  expect(await facts(folder)).toEqual(before);
  expect(before['samples']?.join()).not.toMatch(/field-\d|tide-(?:depth|berth)-\d/u);
  expect(before['samples']?.join()).toContain('#step-2');
}, 240_000);

test('what nobody sees is nothing to a view: comments, scripts, nonces, tokens against forgery', async () => {
  // Templating libraries of web components write comments with a number of the load into what they render.
  const page = (n: number, more = ''): string =>
    `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="csrf-token" content="${String(n)}"><title>Quay</title>
    <script nonce="${String(n)}">const request = ${String(n)};${more}</script><style>\n#weak { color: #999 } .dusk { background: #111; color: #eee }</style>
    <body><p id="weak">Low water</p><!-- ${String(n)} --><form><input type="hidden" name="seal" value="${String(n)}"><input aria-label="Berth" value="4"></form>
    <tide-card>Springs</tide-card><script>document.querySelector('tide-card').attachShadow({ mode: 'open' }).innerHTML = '<!--part$${String(n)}$--><slot></slot>'</script>`;
  const folder = onePage(page(1));
  const file = path.join(folder, 'site/index.html');
  expect((await night(folder)).unchanged).toBe(0);
  writeFileSync(file, page(2));
  expect((await night(folder)).unchanged).toBe(2);
  // A longer script moves the line of the style below it.
  writeFileSync(file, page(3, '\n\n'));
  expect((await night(folder)).unchanged).toBe(2);
  const moved = await facts(folder);
  expect((await night(folder, '--anew')).unchanged).toBe(0);
  expect(await facts(folder)).toEqual(moved);
  expect(moved['causes']?.join()).toContain('"line":5');
  // One hidden field more: which field is the second is another matter.
  writeFileSync(file, page(3).replace('<form>', '<form><input type="hidden" name="seal">'));
  expect((await night(folder)).unchanged).toBe(0);
  writeFileSync(file, page(3).replace('value="4"', 'value="5"'));
  expect((await night(folder)).unchanged).toBe(0);
  writeFileSync(
    file,
    page(3).replace('value="4"', 'value="5"').replace('<title>', '<meta name="color-scheme" content="light"><title>'),
  );
  expect((await night(folder)).unchanged).toBe(0);
}, 240_000);

test('a page that says for ever that it is loading is taken over with the doubt, and read anew once it says so no more', async () => {
  const page = (attribute: string): string =>
    `<!doctype html><html lang="en"><meta charset="utf-8"><title>Quay</title><link rel="stylesheet" href="quay.css"><body><p>Low water</p><section ${attribute}><p>Berths</p></section>`;
  const folder = folderWith({
    'site/index.html': page('aria-busy="true"'),
    'site/quay.css': 'body { background: #fff; color: #111 } .dusk body { background: #111; color: #eee }',
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
    }),
  });
  const doubts = async (): Promise<string> => (await gloam(folder, 'gate')).stdout;
  expect((await night(folder)).unchanged).toBe(0);
  expect(await doubts()).toContain('still loading: section');
  expect((await night(folder)).unchanged).toBe(2);
  expect(await doubts()).toContain('still loading: section');
  writeFileSync(path.join(folder, 'site/index.html'), page('aria-busy="false"'));
  expect((await night(folder)).unchanged).toBe(0);
  expect(await doubts()).not.toContain('still loading');
}, 240_000);

test('what samples are only judged by is no reason to read them: exemptions with their selectors, owners, levels, options', async () => {
  const settings = {
    app: { serve: 'site' },
    pages: ['/'],
    themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
  };
  const style =
    '<style>:root { background: #fff; color: #111 } .dusk { background: #111; color: #eee } #weak { color: #999 } #fair { color: #6a6a6a } .dusk #fair { color: #999 }</style>';
  const folder = folderWith({
    'site/index.html': `<!doctype html><html lang="en"><meta charset="utf-8"><title>Quay</title>${style}<body><div id="board"><p id="weak">Low water</p></div><p id="fair">High water</p>`,
    'gloam.config.json': JSON.stringify(settings),
  });
  /** With the findings, but for since when they are known. */
  const all = async (): Promise<unknown> => {
    const known = await facts(folder);
    const findings = readFileSync(path.join(folder, 'out', 'findings.ndjson'), 'utf8')
      .trim()
      .split('\n');
    const told = findings.map((line) => JSON.parse(line || '{}') as { readonly status?: string });
    return { ...known, findings: told.map((one) => ({ ...one, since: '', status: one.status === 'exempt' })) };
  };
  expect((await night(folder)).unchanged).toBe(0);
  let before = await all();
  for (const edit of [
    { exempt: [{ selector: '#board', checks: ['text-contrast'], themes: ['noon'], why: 'a word mark' }] },
    {
      exempt: [
        { selector: 'h2', why: 'none' },
        { selector: 'p', why: 'all of them' },
      ],
      owners: [{ selector: '#fair', owner: 'gauges' }],
    },
    { checks: { 'text-contrast': { level: 'AAA' }, unthemed: { leastChange: 10 } }, owners: [{ selector: 'p', owner: 'charts' }] },
  ]) {
    writeFileSync(path.join(folder, 'gloam.config.json'), JSON.stringify({ ...settings, ...edit }));
    expect((await night(folder)).unchanged, JSON.stringify(edit)).toBe(2);
    const judged = await all();
    expect(judged).not.toEqual(before);
    // Read anew because it is asked for, the result is the same.
    expect((await night(folder, '--anew')).unchanged).toBe(0);
    expect(await all()).toEqual(judged);
    before = judged;
  }
}, 240_000);
