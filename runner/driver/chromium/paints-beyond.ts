// Whether the browser paints what lies below its viewport once it shows more than that: pictures of whole pages then need no change of
// the viewport, which would lay the page out twice and tell it so for each of them.
import type { Browser, CDPSession, Page } from 'playwright';
import { decodePng } from '../decode-png.ts';

/** For the setting of Chromium that this rests on (blink/renderer/core/frame/settings.json5). */
export const PAINTS_BEYOND = 'mainFrameClipsContent=false';

const SIDE = 32;
const PROBE = `<body style="margin:0"><div style="height:${2 * SIDE}px;background:#123456"></div>`;
const EXPECTED = [0x12, 0x34, 0x56];

const asked = new WeakMap<Browser, Promise<boolean>>();

/** Asked once a browser, on the empty page of a new tab; leaves it empty. */
export function paintsBeyond(browser: Browser, page: Page, cdp: CDPSession): Promise<boolean> {
  let answer = asked.get(browser);
  if (answer === undefined) {
    answer = insistently(() => probe(page, cdp)).catch(() => false);
    asked.set(browser, answer);
  }
  return answer;
}

/**
 * Where pictures have to go beyond the viewport, the first one gives the page settings that stay, and with them other fonts for generic
 * families (measured, a browser without windows: `monospace` is DejaVu Sans Mono before and Liberation Mono from then on). So one is taken
 * before anything is laid out.
 */
export async function beforeAllPictures(cdp: CDPSession): Promise<void> {
  const clip = { x: 0, y: 0, width: 1, height: 1, scale: 1 };
  const take = (): Promise<unknown> => cdp.send('Page.captureScreenshot', { format: 'png', captureBeyondViewport: true, clip });
  await insistently(take).catch(() => undefined);
}

/** On a busy machine a browser says now and then that it cannot take a picture (measured: one time in forty). */
const ATTEMPTS = 5;

async function insistently<T>(take: () => Promise<T>): Promise<T> {
  for (let attempt = 1; attempt < ATTEMPTS; attempt += 1) {
    try {
      return await take();
    } catch {
      // Once more.
    }
  }
  return take();
}

async function probe(page: Page, cdp: CDPSession): Promise<boolean> {
  await cdp.send('Emulation.setDeviceMetricsOverride', { width: SIDE, height: SIDE, deviceScaleFactor: 1, mobile: false });
  await page.setContent(PROBE);
  await cdp.send('Emulation.setVisibleSize', { width: SIDE, height: 2 * SIDE });
  const clip = { x: 0, y: SIDE, width: SIDE, height: SIDE, scale: 1 };
  const { data } = await cdp.send('Page.captureScreenshot', { format: 'png', captureBeyondViewport: false, clip });
  await page.setContent('');
  const seen = await decodePng(Buffer.from(data, 'base64'), { leftPx: 0, topPx: SIDE });
  const last = seen.data.length - seen.channels;
  return seen.heightPx === SIDE && EXPECTED.every((code, i) => seen.data[last + i] === code);
}
