// gloam tokens beside a stored run: uses, pairs and names from the pages; declared pairs; and the page it writes, opened from disk in a real browser.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { openBrowser } from '../ui/report.ts';
import { folderWith, gloam, page } from './gloam.ts';

const grey = (level: number): unknown => ({ $type: 'color', $value: { colorSpace: 'srgb', components: [level, level, level] } });
const step = (path: string): unknown => ({ $value: `{${path}}` });
const steps = (levels: readonly number[]): unknown => Object.fromEntries(levels.map((level, i) => [String(i * 100), grey(level)]));

/** A hostile name: it must not end the element the facts stand in. */
const ODD = '</script><script>name="broken"</script>';

function quay(): string {
  const css = `html { --silt-0: #fff; --silt-100: #ccc; --silt-200: #333; --silt-300: #000;
    --lamp-calm: var(--silt-200); --lamp-line: var(--silt-100); --lamp-wick: var(--silt-200);
    --face-deck: var(--silt-0); --mark-main: var(--silt-200); --mark-weak: var(--silt-100); --stray: #123456 }
    html.dusk { --face-deck: var(--silt-300) }
    body { background: var(--face-deck); color: var(--mark-main); margin: 0 } .weak { color: var(--mark-weak) }
    .dot { display: inline-block; width: 6px; height: 6px; border-radius: 50%; background: var(--lamp-calm) }
    .rule::before { content: ''; display: block; height: 1px; background: var(--lamp-line) }
    .bead { display: inline-block; width: 10px; height: 10px; background: var(--lamp-wick) }`;
  return folderWith({
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
      tokens: { base: ['base.tokens.json'], themes: { dusk: ['dusk.tokens.json'] } },
    }),
    'base.tokens.json': JSON.stringify({
      silt: steps([1, 0.8, 0.2, 0]),
      face: { deck: step('silt.0') },
      lamp: { calm: step('silt.200'), line: step('silt.100'), wick: step('silt.200'), out: step('silt.200') },
      mark: { main: step('silt.200'), weak: step('silt.100'), idle: step('silt.300'), [ODD]: step('silt.300') },
    }),
    'dusk.tokens.json': JSON.stringify({ face: { deck: step('silt.300') } }),
    'site/index.html': page(
      '<h1>Quay</h1><p>Low water</p><p class="weak">at noon</p><i class="dot"></i><i class="bead"></i><div class="rule"></div>',
      css,
    ),
  });
}

interface Report {
  readonly run: string | null;
  readonly counts: { readonly mostUsed: readonly { readonly token: string; readonly uses: number }[] };
  readonly pairs: readonly {
    readonly ink: string;
    readonly surface: string;
    readonly required: number;
    readonly declared: number | null;
    readonly themes: object;
  }[];
  readonly faults: readonly {
    readonly code: string;
    readonly token: string;
    readonly themes: readonly string[];
    readonly message: string;
  }[];
  readonly names: { readonly missing: readonly { readonly token: string }[]; readonly unknown: readonly string[] };
}

test('uses, pairs and names come from the newest run; the page opens from disk and asks nothing of the network', async () => {
  const folder = quay();
  const before = JSON.parse((await gloam(folder, 'tokens', '--json')).stdout) as Report;
  expect(before.run).toBeNull();
  expect(before.pairs).toEqual([]);

  expect((await gloam(folder, 'run', '--export', 'out', '--samples')).code).toBe(0);
  const ended = await gloam(folder, 'tokens', '--json', '--page', 'sheet.html');
  expect(ended.code).toBe(0);
  const report = JSON.parse(ended.stdout) as Report;
  // Counted on the page: two texts on the deck in the plain ink, one in the weak one. Contrasts derived: WCAG 2 of #333 and #ccc on #fff.
  expect(report.counts.mostUsed[0]).toMatchObject({ token: 'mark.main', uses: 2 });
  expect(report.pairs).toEqual([
    expect.objectContaining({ ink: 'mark.main', surface: 'face.deck', uses: 2, required: 4.5 }),
    expect.objectContaining({ ink: 'mark.weak', surface: 'face.deck', uses: 1, required: 4.5 }),
  ]);
  expect(report.pairs[1]?.themes).toMatchObject({ noon: { verdict: 'fail' }, dusk: { verdict: 'pass' } });
  const faults = report.faults.map(({ code, token, themes }) => `${code} ${token} ${themes.join(',')}`);
  expect(faults).toContain('pair-contrast mark.weak noon');
  expect(faults).toContain('pair-contrast mark.main dusk');
  // A dot of 6 px, a hairline and a bead of 10 px are no samples; what paints them is used all the same.
  const unused = faults.filter((fault) => fault.startsWith('never-used') && !fault.includes('script'));
  expect(unused.toSorted()).toEqual(['never-used lamp.out noon,dusk', 'never-used mark.idle noon,dusk']);
  const selectors = readFileSync(path.join(folder, 'out', 'samples.ndjson'), 'utf8').matchAll(/"selector":"([^"]*)"/gu);
  expect([...selectors].map(([, selector = '']) => selector).filter((each) => /> i|::before/u.test(each))).toEqual([]);
  expect(report.names.missing.map(({ token }) => token).sort()).toEqual([`mark.${ODD}`, 'lamp.out', 'mark.idle'].sort());
  expect(report.names.unknown).toEqual(['--stray']);

  const file = path.join(folder, 'sheet.html');
  expect(readFileSync(file, 'utf8')).not.toContain(ODD);
  const browser = await openBrowser();
  try {
    const grounds: string[] = [];
    for (const colorScheme of ['light', 'dark'] as const) {
      const tab = await browser.newPage({ colorScheme });
      const asked: string[] = [];
      const wrong: string[] = [];
      tab.on('request', (request) => asked.push(request.url()));
      tab.on('pageerror', (error) => wrong.push(error.message));
      tab.on('console', (message) => {
        if (message.type() === 'error') wrong.push(message.text());
      });
      await tab.goto(pathToFileURL(file).href);
      await tab.locator('.plot-place svg').nth(2).waitFor();
      expect(asked.filter((url) => !url.startsWith('data:'))).toEqual([pathToFileURL(file).href]);
      expect(wrong).toEqual([]);
      expect(await tab.title()).toBe('Tokens');
      // What was judged is said, not only what is wrong.
      expect(await tab.locator('main > p').first().textContent()).toMatch(/^1 ramp, .* judged/);
      expect(await tab.locator('#pairs tbody tr').count()).toBe(2);
      // Derived: neighbours reach 1.6 at least, every two steps two apart 12.6 at least.
      expect(await tab.locator('#distances tbody tr').first().locator('th, td').allTextContents()).toEqual([
        ...['silt', 'itself', '2 / 2 / 2', '2 / 2 / 2'],
      ]);
      expect(await tab.locator('#faults').textContent()).toContain('mark.weak on face.deck has a contrast of');
      expect(await tab.locator('#ramps table caption').allTextContents()).toEqual([
        'Steps of silt in noon',
        'Steps of silt in dusk',
      ]);
      grounds.push(await tab.evaluate('getComputedStyle(document.documentElement).backgroundColor'));
      await tab.close();
    }
    expect(grounds[0]).not.toBe(grounds[1]);
  } finally {
    await browser.close();
  }
});

test('declared pairs stand beside those of pages; a weak one is a finding of the run, a weak one of pages only is not', async () => {
  const folder = quay();
  const file = path.join(folder, 'gloam.config.json');
  const configuration = JSON.parse(readFileSync(file, 'utf8')) as { tokens: object };
  const declare = (...pairs: readonly object[]): void => {
    writeFileSync(file, JSON.stringify({ ...configuration, tokens: { ...configuration.tokens, pairs } }));
  };

  declare({ ink: 'mark.mian', on: 'face.deck' });
  for (const name of ['tokens', 'run']) {
    const refused = await gloam(folder, name);
    expect(refused.code).toBe(2);
    expect(refused.stderr).toContain('tokens.pairs[0].ink: found "mark.mian", which names no token; expected "mark.main"?');
  }

  // Derived: WCAG 2 of #000 on #fff is 21, on itself 1.
  declare({ ink: 'mark.idle', on: 'face.deck' }, { ink: 'mark.main', on: 'face.*', as: 'large' });
  expect((await gloam(folder, 'run', '--export', 'out')).code).toBe(0);
  const findings = readFileSync(path.join(folder, 'out/findings.ndjson'), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as { check: string; theme: string; message: string; measured: object })
    .filter(({ message }) => message.includes(' on face.deck has a contrast of'));
  expect(findings).toEqual([
    expect.objectContaining({
      check: 'token-fault',
      theme: 'dusk',
      message: 'mark.idle on face.deck has a contrast of 1.00 in dusk; it needs 4.5. silt.100 would do.',
      measured: expect.objectContaining({ code: 'pair-contrast', layer: 'token', file: 'base.tokens.json', line: 1 }) as unknown,
    }),
    expect.objectContaining({ check: 'token-fault', theme: 'dusk', message: expect.stringMatching(/^mark\.main /) as unknown }),
  ]);

  const { stdout } = await gloam(folder, 'tokens');
  expect(stdout).toContain('Pairs of ink and surface: 2 declared, 2 met on pages; 3 too weak in a theme (marked !)');
  const rows = stdout.split('\n').map((line) => line.trim().split(/\s{2,}/));
  expect(rows).toContainEqual(['ink', 'surface', 'told by', 'needs', 'noon', 'dusk']);
  expect(rows).toContainEqual(['mark.idle', 'face.deck', 'declared', '4.5', '21.00', '1.00!']);
  expect(rows).toContainEqual(['mark.main', 'face.deck', 'declared, 2 places', '4.5', '12.63', '1.66!']);
  expect(rows).toContainEqual(['mark.weak', 'face.deck', '1 place', '4.5', '1.60!', '13.07']);
  const report = JSON.parse((await gloam(folder, 'tokens', '--json')).stdout) as Report;
  expect(report.pairs.map(({ ink, declared, required }) => [ink, declared, required])).toEqual([
    ['mark.idle', 4.5, 4.5],
    ['mark.main', 3, 4.5],
    ['mark.weak', null, 4.5],
  ]);
  expect(report.faults.find(({ token, code }) => token === 'mark.main' && code === 'pair-contrast')?.message).toContain(
    'it needs 4.5 at places on pages, though 3 is declared.',
  );
});

test('a page that cannot be written is told', async () => {
  const ended = await gloam(quay(), 'tokens', '--page', 'nowhere/sheet.html');
  expect(ended.code).toBe(2);
  expect(ended.stderr).toContain('cannot be written');
});
