// Check boxes, radio buttons and switches that a page draws itself: where their mark is, and which declaration paints it. What they are told
// by is asked for by WCAG 2.2 SC 1.4.11; who paints it is known of these pages, since they were written for it.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { GraphicSample } from '../../../src/samples/sample.ts';
import type { Harbour } from '../session/harness.ts';
import { captured, renderAll, serve } from '../session/harness.ts';

const SHEET = `:root{--page:#fff;--ring:#767676;--on:#0b5d6b;--tick:#fff}body{margin:20px;background:var(--page);font:16px sans-serif}`;
const page = (css: string, html: string): string => `<!doctype html><title>Board</title><style>${SHEET}${css}</style>${html}`;

const PAGES = {
  generated: page(
    'button{position:relative;width:20px;height:20px;padding:0;border:0;background:none}button::before{content:"";position:absolute;inset:0;box-shadow:inset 0 0 0 2px var(--ring)}',
    '<button role="checkbox" aria-checked="false" aria-label="Read by hand"></button>',
  ),
  round: page(
    ':root{--ring:#949494}i{display:block;width:14px;height:14px;border-radius:50%;box-shadow:inset 0 0 0 1px var(--ring)}[role=radio]{width:14px}',
    '<div role="radio" aria-checked="false" aria-label="Fathoms" tabindex="0"><i></i></div>',
  ),
  row: page(
    '.row{display:flex;justify-content:space-between;width:600px}.track{width:36px;height:20px;background:var(--on);border-radius:0}',
    '<div class="row" role="switch" aria-checked="true" tabindex="0"><span>Alarms by night</span><span class="track"></span></div>',
  ),
  hidden: page(
    '[role=switch]{position:relative;width:44px;height:24px;padding:0;border:0;background:var(--on)}.words{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}.thumb{position:absolute;left:22px;top:2px;width:20px;height:20px;background:var(--tick)}',
    '<button role="switch" aria-checked="true"><span class="words">Alarms by night</span><span class="thumb"></span></button>',
  ),
  beside: page(
    'label{position:relative;display:inline-block;width:24px;height:24px}input{position:absolute;inset:0;margin:0;width:24px;height:24px;appearance:none}.box{position:absolute;inset:0;border:2px solid var(--ring)}',
    '<label><span class="box"></span><input type="checkbox" aria-label="Read by hand"></label>',
  ),
  drawn: page(
    '[role=checkbox]{display:inline-block;width:24px;height:24px;background:var(--on)}svg{display:block;stroke:var(--tick)}',
    '<div role="checkbox" aria-checked="true" aria-label="Read by hand" tabindex="0"><svg width="24" height="24" viewBox="0 0 24 24" fill="none" stroke-width="4"><path d="M4 12h16"/></svg></div>',
  ),
} as const;

let harbour: Harbour;
const graphics = new Map<string, readonly GraphicSample[]>();

beforeAll(async () => {
  harbour = await serve(Object.fromEntries(Object.entries(PAGES).map(([name, html]) => [`/${name}`, html])));
  for (const result of await renderAll({ origin: harbour.origin, paths: Object.keys(PAGES).map((name) => `/${name}`) })) {
    const { samples, view } = captured(result);
    graphics.set(
      view.page,
      samples.filter((sample) => sample.kind === 'graphic'),
    );
  }
});
afterAll(() => harbour.close());

function markOf(name: keyof typeof PAGES, kind: 'mark' | 'inside'): GraphicSample {
  const found = graphics.get(name)?.find(({ key }) => key.endsWith(`|${kind}`));
  if (found === undefined) throw new Error(`no ${kind} on ${name}`);
  return found;
}

describe('marks of controls', () => {
  test('what of the mark lies behind what is drawn in it is known', () => {
    const { layers, paint } = markOf('hidden', 'inside');
    expect(paint.origin).toMatchObject({ kind: 'token', property: '--tick' });
    expect(layers.at(-1)).toMatchObject({ kind: 'color', paint: { origin: { kind: 'token', property: '--on' } } });
  });

  test('the ring of a generated box', () => {
    const { color, paint } = markOf('generated', 'mark');
    expect(color).toBe('#767676');
    expect(paint).toMatchObject({ property: 'box-shadow', origin: { kind: 'token', property: '--ring' } });
    expect(paint.on).toMatch(/::before$/u);
  });

  test('a thin round ring within the control, in the colour that it is declared in', () => {
    const { color, paint } = markOf('round', 'mark');
    expect(color).toBe('#949494');
    expect(paint).toMatchObject({ property: 'box-shadow', origin: { kind: 'token', property: '--ring' } });
  });

  test('of a row with words only the track', () => {
    const { rect, color, paint } = markOf('row', 'mark');
    expect(rect.slice(2)).toEqual([36, 20]);
    expect(color).toBe('#0b5d6b');
    expect(paint).toMatchObject({ property: 'background-color', origin: { kind: 'token', property: '--on' } });
  });

  test('with words for assistive technology alone the whole track, and the thumb in it', () => {
    expect(markOf('hidden', 'mark').rect.slice(2)).toEqual([44, 24]);
    const { color, against, paint } = markOf('hidden', 'inside');
    expect([color, against]).toEqual(['#ffffff', '#0b5d6b']);
    expect(paint).toMatchObject({ property: 'background-color', origin: { kind: 'token', property: '--tick' } });
  });

  test('a box that is laid beside the control', () => {
    const { color, paint } = markOf('beside', 'mark');
    expect(color).toBe('#767676');
    expect(paint).toMatchObject({ origin: { kind: 'token', property: '--ring' } });
  });

  test('a tick that is drawn', () => {
    const { color, against, paint } = markOf('drawn', 'inside');
    expect([color, against]).toEqual(['#ffffff', '#0b5d6b']);
    expect(paint).toMatchObject({ property: 'stroke', origin: { kind: 'token', property: '--tick' } });
  });
});
