// A page that rests in its theme and state → picture and samples of one view.
import type { ContrastLevel } from '../src/colour/text-requirement.ts';
import { pageUnsettled } from '../src/errors/capture-errors.ts';
import type { Viewport } from '../src/plan/configuration.ts';
import type { CapturedView } from '../src/samples/captured-view.ts';
import type { Rect, View } from '../src/samples/view.ts';
import type { Pixels } from '../src/pictures/pixels.ts';
import { decodePng } from './decode-png.ts';
import { asksFor } from './origins/asks.ts';
import { traceOrigins } from './origins/trace-origins.ts';
import type { Rules, WirePage, WireText } from './page/wire.ts';
import { paintedSamples } from './painted/painted-samples.ts';
import type { PaintedView } from './painted/painted-view.ts';
import { samePixels } from './same-pixels.ts';
import { settleAfterChange } from './settle.ts';
import type { Tab } from './tab.ts';
import type { Picture } from './take-picture.ts';
import { takePicture } from './take-picture.ts';
import { formulas } from './text/formula.ts';
import { chainOf, layersOf } from './text/layers.ts';
import { placePseudo } from './text/place-pseudo.ts';
import { readText } from './text/read-text.ts';
import type { TextFacts } from './text/text-samples.ts';
import { misjudged, textSamples } from './text/text-samples.ts';

export interface CaptureWishes {
  readonly view: View;
  readonly viewport: Viewport;
  readonly level: ContrastLevel;
  readonly rules: Rules;
  readonly configured: TextFacts['configured'];
  /** Custom properties to trace besides those that the page names. */
  readonly dye: readonly string[];
}

/** Clocks tick and tickers turn: a view whose text changed while it was read is read again, this often. */
const ATTEMPTS = 3;

/** A view without its duration, and what was seen of it, for those who look again. */
export interface Seen {
  readonly captured: Omit<CapturedView, 'ms'>;
  readonly painted: PaintedView;
}

export async function captureView(tab: Tab, wishes: CaptureWishes, restless: readonly string[]): Promise<Seen> {
  for (let attempt = 1; ; attempt += 1) {
    const { moved, ...seen } = await readView(tab, wishes, restless);
    if (!moved || attempt === ATTEMPTS) return seen;
  }
}

async function readView(tab: Tab, wishes: CaptureWishes, restless: readonly string[]): Promise<Seen & { readonly moved: boolean }> {
  const { view, viewport, level, rules, configured } = wishes;
  const { scale } = viewport;
  const size = await tab.call('size', null);
  const { width } = size;
  const most = Math.floor(tab.limits.heightPx / scale);
  const height = Math.min(size.height, most);
  const cut = size.height > most ? [`the page is ${size.height} px high; only its first ${most} px were captured`] : [];
  const whole: Rect = [0, 0, width, height];

  // The page is read while its picture is compressed, and traced while that is decoded.
  const [first, collected] = await Promise.all([
    takeWhole(tab, whole, scale),
    tab.watch.time('reading', () => tab.call('collect', { rules })),
  ]);
  const text = await withPseudo(tab, collected.text);
  const { places } = collected;
  const traced = await tab.watch.time('tracing', () => traceOrigins(tab, asksFor(text, places), wishes.dye));
  const { originOf } = traced;
  const { picture, pixels } = await stillPicture(tab, first, { page: collected.page, whole, scale, restless });

  const formulaOf = formulas(text.grounds, text.canvas);
  const sight = { tab, normal: pixels, scale, masked: collected.page.masked };
  const reading = tab.watch.time('text', () => readText(sight, text.runs, formulaOf));
  const painted: PaintedView = {
    view: view.id,
    places,
    canvas: text.canvas,
    seen: { ...pixels, scale },
    viewport: { width: viewport.widthCssPx, height: viewport.heightCssPx },
    leastShare: tab.limits.surfaceShare,
    originOf,
    layersOf: (ground) => layersOf(text.canvas, chainOf(places.grounds, ground), originOf),
  };
  // While the browser takes further pictures of text.
  const [{ readings, moved }, others] = await alongside(reading, () => tab.watch.time('surfaces', () => paintedSamples(painted)));
  const beneath = await layersBelow(tab, misjudged({ text, readings, formulaOf }));
  const samples = [...textSamples({ view: view.id, level, text, readings, formulaOf, originOf, beneath, configured }), ...others];
  const captured: Seen['captured'] = {
    view,
    status: 'captured',
    page: { title: collected.page.title, widthCssPx: width, heightCssPx: height, scale },
    shot: picture.png,
    samples,
    properties: traced.served,
    notes: [...restless, ...collected.page.notes, ...traced.notes, ...cut],
    ...(collected.page.masked.length === 0 ? {} : { masks: collected.page.masked }),
  };
  const grew = collected.page.width !== width || collected.page.height !== size.height;
  return { captured, painted, moved: moved || grew };
}

async function layersBelow(tab: Tab, runs: readonly number[]): Promise<TextFacts['beneath']> {
  if (runs.length === 0) return new Map();
  const layers = await tab.call('beneath', { runs });
  return new Map(runs.map((run, i) => [run, layers[i] ?? []]));
}

/** Generated text is placed by the layout tree; only pages that have some pay for it. */
async function withPseudo(tab: Tab, text: WireText): Promise<WireText> {
  if (text.pseudo.length === 0) return text;
  const placed = await placePseudo(tab, text.pseudo);
  const { runs, grounds } = await tab.call('placePseudo', { placed });
  return { ...text, grounds, runs: [...text.runs, ...runs] };
}

/** A picture, and its pixels as soon as they are wanted. */
interface Whole {
  readonly picture: Picture;
  readonly decoding: Promise<Pixels>;
}

async function takeWhole(tab: Tab, whole: Rect, scale: number): Promise<Whole> {
  const picture = await tab.watch.time('picture', () => takePicture(tab, whole, scale));
  const decoding = tab.watch.time('decoding', () => decodePng(picture.png, { leftPx: 0, topPx: 0 }));
  decoding.catch(() => undefined);
  return { picture, decoding };
}

/** Does `work` while `begun` goes on; should it throw, that is waited for, so that nothing is left on the page. */
async function alongside<A, B>(begun: Promise<A>, work: () => Promise<B>): Promise<readonly [A, B]> {
  try {
    const done = await work();
    return [await begun, done];
  } catch (error) {
    await begun.catch(() => undefined);
    throw error;
  }
}

interface Wanted {
  readonly page: WirePage;
  readonly whole: Rect;
  readonly scale: number;
  readonly restless: readonly string[];
}

/** Pages that gave a reason for doubt are looked at twice. @throws GloamError `unsettled` when their pixels move */
async function stillPicture(tab: Tab, first: Whole, wanted: Wanted): Promise<{ picture: Picture; pixels: Pixels }> {
  const { page, whole, scale, restless } = wanted;
  let one = { picture: first.picture, pixels: await first.decoding };
  if (restless.length === 0 && page.restlessPlaces.length === 0) return one;
  const take = async (): Promise<typeof one> => {
    const { picture, decoding } = await takeWhole(tab, whole, scale);
    return { picture, pixels: await decoding };
  };
  for (let attempt = 1; ; attempt += 1) {
    const two = await take();
    const moved = samePixels(one.pixels, two.pixels, page.masked, scale);
    if (moved === null) return two;
    if (attempt === 2) {
      const more = restless.length === 0 ? '' : `; ${restless.join('; ')}`;
      throw pageUnsettled(tab.url, `pixels still move at ${moved.x}, ${moved.y} px${more}`);
    }
    await settleAfterChange(tab);
    one = await take();
  }
}
