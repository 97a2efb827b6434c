// A store of 625 pages × 8 themes with 160,000 findings a night, written straight through the ledger: one flat picture for all views, so
// that filling takes seconds. `node dist/bench/large-store.js FOLDER` leaves one to look at.
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { PNG } from 'pngjs';
import { findingId } from '../src/checks/finding-id.ts';
import { openLedger } from '../src/ledger/ledger.ts';
import type { Ledger } from '../src/ledger/ledger.ts';
import type { CauseEntry, FindingEntry } from '../src/ledger/records.ts';
import type { View } from '../src/samples/view.ts';

const PAGES = 625;
const THEMES = ['noon', 'dusk', 'stark', 'regatta', 'flip', 'fog', 'ebb', 'lamp'] as const;
const OF_A_VIEW = 32;
const CHECKS = ['text-contrast', 'graphic-contrast', 'unthemed', 'glow', 'separation'] as const;
const CAUSES = 240;
const VIEWS_AT_ONCE = 250;

/** @returns id of the newest run, in which each view has two places that are new and misses two of the night before */
export async function fillLarge(folder: string): Promise<string> {
  await mkdir(folder, { recursive: true });
  await using ledger = await openLedger(folder, { access: 'own' });
  await night(ledger, '2026-11-23T01:00:00Z', 0);
  return await night(ledger, '2026-11-24T01:00:00Z', 2);
}

async function night(ledger: Ledger, at: string, first: number): Promise<string> {
  const views: readonly View[] = Array.from(
    { length: PAGES },
    (_, number) => `berth-${String(number + 1).padStart(3, '0')}`,
  ).flatMap((page) =>
    THEMES.map((theme) => ({
      id: `${page}@${theme}~rest`,
      page,
      theme,
      state: 'rest',
      viewport: 'desk',
      url: `http://127.0.0.1:4100/${page}.html`,
    })),
  );
  const run = await ledger.beginRun({
    startedAt: at,
    gloam: '0.1.0',
    browser: 'Chromium 156',
    reference: 'noon',
    themes: THEMES.map((name) => ({ name, tone: name === 'noon' ? ('light' as const) : ('dark' as const) })),
    views,
  });
  const shot = PNG.sync.write(new PNG({ width: 320, height: 240, fill: true }));
  const found = new Map<number, string[]>();
  for (let from = 0; from < views.length; from += VIEWS_AT_ONCE) {
    const part = views.slice(from, from + VIEWS_AT_ONCE);
    for (const view of part) {
      const page = { title: view.page, widthCssPx: 320, heightCssPx: 240, scale: 1 };
      await ledger.storeView(run, { view, status: 'captured', ms: 200, page, shot, samples: [], properties: [], notes: [] });
    }
    await ledger.storeFindings(
      run,
      part.map((view, index) => ({
        view,
        findings: Array.from({ length: OF_A_VIEW }, (_, place) => entryOf(view, first + place, found, from + index)),
      })),
    );
  }
  await ledger.storeCauses(
    run,
    [...found].map(([number, findings]) => causeOf(number, findings)),
  );
  await ledger.storeCoverage(
    run,
    views.map(({ page, theme }) => ({ page, theme, owner: ownerOf(page), uses: 200, throughTokens: 190 })),
  );
  await ledger.finishRun(run, at);
  return run;
}

const ownerOf = (page: string): string => `crew ${String(Number(page.slice(-3)) % 9)}`;

function entryOf(view: View, place: number, found: Map<number, string[]>, viewAt: number): FindingEntry {
  const check = CHECKS[place % CHECKS.length] ?? CHECKS[0];
  const key = `row${String(place)}>td`;
  const id = findingId(view, { check, key });
  const cause = (viewAt * 7 + place * 13) % CAUSES;
  const there = found.get(cause);
  if (there === undefined) found.set(cause, [id]);
  else there.push(id);
  const contrast = 1.5 + (place % 9) / 4;
  return {
    id,
    draft: {
      check,
      level: place % 3 === 0 ? 'error' : place % 3 === 1 ? 'warning' : 'note',
      key,
      selector: `#board > tbody > tr:nth-of-type(${String(place + 1)}) > td:nth-of-type(${String(1 + (place % 5))})`,
      rect: [8 + (place % 8) * 38, 8 + Math.floor(place / 8) * 40, 30, 14],
      message: `“Gauge ${String(place)} of ${view.page}” has ${contrast.toFixed(2)}:1 on its background; 4.5:1 is needed.`,
      measured: { contrast, ink: '#56717c', background: '#18262e' },
      expected: { contrast: 4.5 },
    },
    owner: ownerOf(view.page),
  };
}

function causeOf(number: number, findings: readonly string[]): CauseEntry {
  const step = `silt.${String(50 + number)}`;
  return {
    cause: {
      id: `cause-${String(number)}`,
      layer: 'ramp',
      step,
      token: `mark.${String(number)}`,
      chain: [{ token: step, value: '#56717c', file: 'tokens/ramps.tokens.json', line: number + 1 }],
      findings: findings.length,
      themes: [...THEMES],
      pages: PAGES,
      confidence: 0.9,
      why: `${step} is too near to the ground it lies on.`,
      repair: { change: 'value', of: step, from: '#56717c', to: '#8fb0bc', themes: ['dusk'], fixes: findings.length, breaks: 0 },
    },
    findings,
  };
}

const [, script, folder] = process.argv;
if (script !== undefined && folder !== undefined && import.meta.url === pathToFileURL(script).href) {
  const from = performance.now();
  const run = await fillLarge(path.resolve(folder));
  console.log(`${run} in ${folder}, filled in ${((performance.now() - from) / 1_000).toFixed(1)} s`);
}
