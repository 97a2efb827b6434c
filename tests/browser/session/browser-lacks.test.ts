// A browser that can do less than Chromium: what is not known for want of it is told, never left out in silence.
import type { Browser } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import type { Capability } from '../../../runner/driver/page-driver.ts';
import { LIMITS } from '../../../runner/tab/limits.ts';
import { Tab } from '../../../runner/tab/tab.ts';
import { openShownInPlace } from '../../../runner/visit/shown-in-place.ts';
import { openRulesLookedUp } from '../../../runner/written/once-for-rules.ts';
import { visitPage } from '../../../runner/visit/visit-page.ts';
import type { State } from '../../../src/plan/configuration.ts';
import type { ViewResult } from '../../../src/samples/captured-view.ts';
import { noteWords } from '../../../src/samples/note-words.ts';
import type { Harbour } from './harness.ts';
import { PLAIN, serve } from './harness.ts';

const PAGE = `<!doctype html><html lang=en><meta charset=utf-8><title>Quay</title>
<style>p { color: #999 } b::before { content: 'gauge'; color: #888 } p:hover { color: #000 }</style>
<p id=faint>faint words of the harbour</p><b>twelve</b>`;

let harbour: Harbour;
let pier: Harbour;
let browser: Browser;

beforeAll(async () => {
  pier = await serve({ '/': '<!doctype html><p>words of the pier</p>' });
  harbour = await serve({ '/': PAGE, '/framed': `<!doctype html><iframe src="${pier.origin}/"></iframe>` });
  browser = await launchBrowser(await findBrowser(process.env));
});
afterAll(async () => {
  await browser.close();
  await harbour.close();
  await pier.close();
});

const REST: State = { name: 'rest', kind: 'rest' };

/** The page as a browser sees it that lacks something. */
async function seenWithout(lacks: readonly Capability[], { state = REST, path = '/' } = {}): Promise<ViewResult> {
  const { signal } = new AbortController();
  const tab = await Tab.open(browser, {
    limits: LIMITS,
    signal,
    drive: (own) => ({ ...own, can: new Set([...own.can].filter((each) => !lacks.includes(each))) }),
  });
  try {
    const names = { page: 'quay', theme: PLAIN.name, state: state.name, viewport: 'desk' };
    const view = { ...names, id: `quay@${names.theme}/${names.state}/desk`, url: `${harbour.origin}${path}` };
    const page = { name: 'quay', path, states: [] };
    const viewport = { name: 'desk', widthCssPx: 800, heightCssPx: 600, scale: 1 };
    const results: ViewResult[] = [];
    await visitPage(
      tab,
      { page, viewport, proof: null, tasks: [{ view, theme: PLAIN, state }] },
      {
        rules: { exempt: [], owners: [], mask: [], stay: [] },
        ruled: [],
        dye: [],
        wearFor: () => null,
        knownFor: () => Promise.resolve(undefined),
        rulesLookedUp: openRulesLookedUp(),
        shownInPlace: openShownInPlace(),
        signedOut: null,
        isOver: () => false,
      },
      (result) => {
        results.push(result);
        return Promise.resolve();
      },
    );
    const [only] = results;
    if (only === undefined) throw new Error('nothing came of the visit');
    return only;
  } finally {
    await tab.close();
  }
}

const toldOf = (result: ViewResult): readonly string[] => (result.status === 'captured' ? result.notes.map(noteWords) : []);
const textsOf = (result: ViewResult): readonly string[] =>
  result.status === 'captured' ? result.samples.flatMap((sample) => (sample.kind === 'text' ? sample.text : [])) : [];

describe('a browser that lacks', () => {
  test('nothing: nothing is told, and all text is read', async () => {
    const result = await seenWithout([]);
    expect(toldOf(result)).toEqual([]);
    expect(textsOf(result)).toContain('gauge');
  });

  test('generated text: it is not among the samples, and that is told', async () => {
    const result = await seenWithout(['generated-text']);
    expect(textsOf(result)).not.toContain('gauge');
    expect(toldOf(result)).toEqual([expect.stringContaining('generated text')]);
  });

  test('matched rules: no place in a file is named, and that is told', async () => {
    const result = await seenWithout(['matched-rules']);
    expect(toldOf(result)).toEqual([expect.stringContaining('which rules match')]);
    expect(JSON.stringify(result.status === 'captured' ? result.samples : '')).not.toContain('"written"');
  });

  test('closed shadow trees: that is told', async () => {
    expect(toldOf(await seenWithout(['closed-trees']))).toEqual([expect.stringContaining('closed shadow trees')]);
  });

  test('frames of another origin: what is in them is not read, and that is told', async () => {
    expect(textsOf(await seenWithout([], { path: '/framed' }))).toContain('words of the pier');
    const result = await seenWithout(['far-frames'], { path: '/framed' });
    expect(textsOf(result)).not.toContain('words of the pier');
    expect(toldOf(result)).toEqual([`a frame of another origin was not looked into: ${pier.origin}/`]);
  });

  test('forced states: a view that needs one fails with the reason', async () => {
    const result = await seenWithout(['forced-states'], { state: { name: 'hover', kind: 'hover', selector: '#faint' } });
    expect(result).toMatchObject({
      status: 'failed',
      code: 'state-unavailable',
      error: expect.stringContaining(':hover') as string,
    });
  });
});
