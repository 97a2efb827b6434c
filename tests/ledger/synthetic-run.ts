// Made-up runs of the harbour screens for the tests of the ledger: same seed, same run.
import { PNG } from 'pngjs';
import { findingId } from '../../src/checks/finding-id.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { FindingEntry, NewRun } from '../../src/ledger/records.ts';
import type { CapturedView, ViewResult } from '../../src/samples/captured-view.ts';
import type { Cause, FindingDraft } from '../../src/samples/finding.ts';
import type { Sample, TextSample } from '../../src/samples/sample.ts';
import type { View } from '../../src/samples/view.ts';

export const THEMES = [
  { name: 'noon', tone: 'light' },
  { name: 'dusk', tone: 'dark' },
] as const;

export const PAGES = ['station-list', 'tide-table', 'alarm-log', 'berth-form'] as const;

export function planOf(pages: readonly string[] = PAGES): readonly View[] {
  return pages.flatMap((page) =>
    THEMES.map(({ name }) => ({
      id: `${page}@${name}.rest.desk`,
      page,
      theme: name,
      state: 'rest',
      viewport: 'desk',
      url: `http://127.0.0.1:4000/${page}`,
    })),
  );
}

export function newRun(overrides: Partial<NewRun> = {}): NewRun {
  return {
    id: 'night-1',
    startedAt: '2031-03-04T02:00:00.000Z',
    gloam: '0.1.0',
    browser: 'chromium 156',
    reference: 'noon',
    themes: THEMES,
    views: planOf(),
    ...overrides,
  };
}

/** A small PNG of one colour. */
export function flatPng(red: number, green: number, blue: number): Uint8Array {
  const png = new PNG({ width: 8, height: 8 });
  for (let at = 0; at < png.data.length; at += 4) png.data.set([red, green, blue, 255], at);
  return PNG.sync.write(png);
}

export function textSample(view: string, place: number, changes: Partial<TextSample> = {}): TextSample {
  const paint = {
    property: 'color',
    color: 'rgb(91, 103, 112)',
    origin: { kind: 'token', property: '--mark-quiet', alpha: 1 },
  } as const;
  return {
    kind: 'text',
    view,
    selector: `#reading-${String(place)}`,
    key: `reading-${String(place)}`,
    rect: [10, 20 * place, 80, 16],
    text: `${String(place)}.4 m`,
    color: '#5b6770',
    background: '#f2efe6',
    backgroundSpread: ['#f2efe6'],
    contrast: { min: 5.05, max: 5.05, lowest: 5.0 },
    fontSize: 14,
    fontWeight: 400,
    large: false,
    exempt: null,
    basis: 'pixels',
    ink: paint,
    inkOpacity: 1,
    layers: [],
    ...changes,
  };
}

export function captured(view: View, changes: Partial<CapturedView> = {}): CapturedView {
  const shade = Buffer.from(view.id).reduce((sum, byte) => (sum + byte) % 200, 0);
  const samples: Sample[] = [
    ...[1, 2, 3].map((place) => textSample(view.id, place)),
    { kind: 'picture', view: view.id, selector: '#quay', key: 'quay', rect: [0, 0, 8, 8], medium: 'image', filters: [], luma: [] },
  ];
  return {
    view,
    status: 'captured',
    ms: 120,
    page: { title: `Harbour: ${view.page}`, widthCssPx: 1280, heightCssPx: 900, scale: 1 },
    shot: flatPng(shade, shade, 120),
    samples,
    properties: [{ name: '--mark-quiet', value: '#5b6770', at: 'html' }],
    masks: [[1200, 8, 60, 20]],
    notes: [],
    ...changes,
  };
}

export function failed(view: View): ViewResult {
  return { view, status: 'failed', ms: 4000, code: 'page-http-error', error: `${view.url}: answered 500` };
}

export function draft(place: number, changes: Partial<FindingDraft> = {}): FindingDraft {
  return {
    check: 'text-contrast',
    level: 'error',
    key: `reading-${String(place)}`,
    selector: `#reading-${String(place)}`,
    rect: [10, 20 * place, 80, 16],
    message: `The reading "${String(place)}.4 m" has a contrast of 3.10; 4.5 is needed.`,
    measured: { contrast: 3.1, ink: '#5b6770' },
    expected: { contrast: 4.5 },
    ...changes,
  };
}

/** With the id that the checks give. */
export function entry(view: View, found: FindingDraft, rest: Omit<FindingEntry, 'id' | 'draft'> = {}): FindingEntry {
  return { id: findingId(view, found), draft: found, ...rest };
}

/** Two findings in dusk, none in noon. */
export function findingsOf(view: View): readonly FindingEntry[] {
  return view.theme === 'dusk' ? [entry(view, draft(1)), entry(view, draft(2, { level: 'warning', check: 'glow' }))] : [];
}

export function cause(id: string, changes: Partial<Cause> = {}): Cause {
  return {
    id,
    layer: 'token',
    token: 'mark.quiet',
    chain: [{ property: '--mark-quiet', value: '{silt.400}', file: 'tokens/dusk.json', line: 12 }],
    findings: 4,
    themes: ['dusk'],
    pages: 4,
    confidence: 0.9,
    why: 'mark.quiet points at silt.400 in dusk.',
    ...changes,
  };
}

export interface Night {
  readonly run: Partial<NewRun>;
  readonly result?: (view: View) => ViewResult;
  readonly findings?: (view: View) => readonly FindingEntry[];
}

/** A whole run, from begin to finish. @returns its id */
export async function storeNight(ledger: Ledger, { run, result = captured, findings = findingsOf }: Night): Promise<string> {
  const begun = newRun(run);
  const id = await ledger.beginRun(begun);
  const mine = begun.part === undefined ? begun.views : begun.views.filter((view) => begun.part?.views.includes(view.id));
  for (const view of mine) {
    const outcome = result(view);
    await ledger.storeView(id, outcome);
    if (outcome.status === 'captured') await ledger.storeFindings(id, [{ view, findings: findings(view) }]);
  }
  await ledger.finishRun(id, begun.startedAt.replace('T02:', 'T03:'));
  return id;
}
