// Pages that fight back, each beside two healthy neighbours that must come out right, and each within a small time of its own.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { limitsWithin } from '../../../runner/tab/limits.ts';
import { noteWords } from '../../../src/samples/note-words.ts';
import type { ViewResult } from '../../../src/samples/captured-view.ts';
import type { Harbour } from './harness.ts';
import { captured, renderAll, serve, texts } from './harness.ts';
import { ANSWERS, FLOODS, TRICKS, acceptSockets } from './hostile-table.ts';
import type { Hostile } from './hostile-table.ts';

const ALL: readonly Hostile[] = [...FLOODS, ...TRICKS];
/** Healthy pages take a twentieth of it, also beside a flood. */
const VIEW_MS = 6_000;
/** For a healthy page that was late: tests beside this one may hold the processor for as long as they like. */
const PATIENT_MS = 20_000;

let harbour: Harbour;
const results = new Map<string, ViewResult>();

beforeAll(async () => {
  const pages = Object.fromEntries(ALL.map(({ path, answer }) => [path, answer]));
  // A healthy page before and after each, so that every one of them has two beside it.
  const healthy = Object.fromEntries(
    Array.from({ length: ALL.length + 1 }, (_, n) => [`/ok-${String(n)}`, ANSWERS['/ok-before'] ?? '']),
  );
  harbour = await serve({ ...pages, ...ANSWERS, ...healthy }, acceptSockets);
  const paths = [...ALL.flatMap(({ path }, n) => [`/ok-${String(n)}`, path]), `/ok-${String(ALL.length)}`];
  await renderThem(paths, VIEW_MS);
  // Late is not harmed: a healthy page whose time was over is asked again with more of it, beside the neighbour before it.
  const late = paths.filter((path, n) => n % 2 === 0 && isLate(results.get(path)));
  for (const path of late)
    await renderThem([...paths.slice(Math.max(0, paths.indexOf(path) - 1), paths.indexOf(path)), path], PATIENT_MS);
}, 900_000);

async function renderThem(paths: readonly string[], viewMs: number): Promise<void> {
  const found = await renderAll({
    origin: harbour.origin,
    paths,
    // As configured by default: on a busy machine a healthy page may need its second try.
    configuration: { retries: 1 },
    ownBrowser: true,
    request: { workers: 2, limits: limitsWithin(viewMs) },
  });
  for (const result of found) results.set(`/${result.view.page}`, result);
}

const LATE: readonly string[] = ['view-out-of-time', 'page-timeout'];
const isLate = (result: ViewResult | undefined): boolean => result?.status === 'failed' && LATE.includes(result.code);
afterAll(() => harbour.close());

const isRight = (result: ViewResult | undefined): void => {
  const ours = texts(result).filter(({ text }) => text === 'Level' || text === 'Tide');
  expect(ours.length).toBeGreaterThan(0);
  for (const one of ours) expect([one.color, one.background]).toEqual(['#e8a33d', '#0b3d4f']);
};

describe('each hostile page yields a view or a sentence', () => {
  test.each(ALL)('$path: $about', (odd) => {
    const result = results.get(odd.path);
    if (result?.status === 'failed') {
      if (odd.either !== true) expect(odd.codes).toContain(result.code);
      // A sentence, not a stack of functions.
      expect(result.error).not.toMatch(/\n|\bat \w+ \(|gloam-page|<anonymous>/u);
      if (odd.reason !== undefined) expect(result.error).toMatch(odd.reason);
      return;
    }
    expect(odd.codes, `${odd.path} was captured`).toBeUndefined();
    const view = captured(result);
    for (const note of odd.notes ?? []) expect(view.notes.map(noteWords)).toContainEqual(expect.stringMatching(note));
    if (odd.bare !== true && odd.either !== true) isRight(result);
  });
});

describe('its neighbours are as they are alone', () => {
  test.each(ALL.map(({ path }, n) => ({ path, n })))('beside $path', ({ n }) => {
    isRight(results.get(`/ok-${String(n)}`));
    isRight(results.get(`/ok-${String(n + 1)}`));
  });
});
