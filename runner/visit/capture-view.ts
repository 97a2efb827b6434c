// A page that rests in its theme and state → picture and samples of one view.
import { pageUnsettled } from '../../src/errors/capture-errors.ts';
import type { CapturedView } from '../../src/samples/captured-view.ts';
import type { Note } from '../../src/samples/note.ts';
import { noteWords } from '../../src/samples/note-words.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { Pixels } from '../../src/pictures/pixels.ts';
import { decodePng } from '../driver/decode-png.ts';
import { withFarFrames } from '../tab/far-frames.ts';
import { withParts } from '../tab/frame-pictures.ts';
import type { CaptureWishes } from './capture-wishes.ts';
import { fingerprintOf, sameness } from './fingerprint.ts';
import { markedAnew } from './marked-anew.ts';
import { asksFor } from '../origins/asks.ts';
import { paintingProperties } from '../origins/painting-properties.ts';
import { openTracing } from '../origins/trace-origins.ts';
import type { Collected, WirePage, WireText } from '../page/wire/wire.ts';
import { readerVersion } from '../page-code.ts';
import { paintedSamples } from '../painted/painted-samples.ts';
import type { PaintedView } from '../painted/painted-view.ts';
import { samePixels } from '../tab/same-pixels.ts';
import { settleAfterChange } from '../theme/settle.ts';
import type { Tab } from '../tab/tab.ts';
import type { Picture } from '../tab/take-picture.ts';
import { takePicture } from '../tab/take-picture.ts';
import { formulas } from '../text/formula.ts';
import { chainOf, layersOf } from '../text/layers.ts';
import { placePseudo } from '../text/place-pseudo.ts';
import { readText } from '../text/read-text.ts';
import type { TextFacts } from '../text/text-samples.ts';
import { misjudged, textSamples } from '../text/text-samples.ts';

/** Clocks tick and tickers turn: a view whose text changed while it was read is read again, this often. */
const ATTEMPTS = 3;

/** A view without its duration, and what was seen of it, for those who look again. */
export interface SeenView {
  readonly captured: Omit<CapturedView, 'ms'>;
  /** Samples of an earlier run say where colours were written then: they have to be looked up anew. */
  readonly linesMoved: boolean;
  /** Places whose picture was taken apart and put in. */
  readonly pieced: readonly Rect[];
  /** Null where nothing was looked at, because the view is still the same. */
  readonly painted: PaintedView | null;
}

export async function captureView(tab: Tab, wishes: CaptureWishes, restless: readonly Note[]): Promise<SeenView> {
  for (let attempt = 1; ; attempt += 1) {
    const { moved, ...seen } = await readView(tab, wishes, restless);
    if (!moved || attempt === ATTEMPTS) return seen;
  }
}

async function readView(
  tab: Tab,
  wishes: CaptureWishes,
  restless: readonly Note[],
): Promise<SeenView & { readonly moved: boolean }> {
  const { view, viewport, rules } = wishes;
  const { scale } = viewport;
  const size = await tab.call('size', null);
  const { width } = size;
  const most = Math.floor(tab.limits.heightPx / scale);
  const height = Math.min(size.height, most);
  const cut: readonly Note[] =
    size.height > most ? [{ code: 'cut-off', data: { heightCssPx: size.height, capturedCssPx: most } }] : [];
  const whole: Rect = [0, 0, width, height];

  const isNew = wishes.known === undefined;
  const isSteady = wishes.beside !== undefined && restless.length === 0;
  // The page is read while its picture is compressed, and asked for its custom properties while that is decoded.
  const collect = (): Promise<Collected> => tab.watch.time('reading', () => tab.call('collect', { rules, downToCssPx: most }));
  const [first, early, source] = await Promise.all([
    takeWhole(tab, whole, scale, isNew),
    isNew ? collect() : null,
    isSteady ? tab.watch.time('source', () => tab.call('source', { origin: new URL(view.url).origin })) : null,
  ]);
  const { png } = first.picture;
  const { limits } = tab;
  const fingerprint = source === null ? undefined : fingerprintOf({ wishes, reader: await readerVersion(), limits, source, png });
  const same = sameness(wishes.known?.fingerprint, fingerprint);
  if (wishes.known !== undefined && fingerprint !== undefined && same !== null) {
    const known = await wishes.known.read();
    const samples = same.marksMoved ? markedAnew(known.samples, await tab.call('marks', { rules })) : known.samples;
    const captured = { view, status: 'captured', shot: png, ...known, samples, fingerprint, reused: true } as const;
    return { captured, linesMoved: same.linesMoved, pieced: [], painted: null, moved: false };
  }
  if (!isNew) first.decoded().catch(() => undefined);
  const collected = early ?? (await collect());
  const placed = { ...collected, text: await withPseudo(tab, collected.text) };
  const { page, text, places, farFrames, unread, parts } = await tab.watch.time('reading', () =>
    withFarFrames(tab, placed, wishes),
  );
  const { title } = page;
  const toTrace = { known: wishes.dye, canvas: text.canvas };
  const tracing = await tab.watch.time('tracing', () => openTracing(tab, asksFor(text, places), toTrace));
  const still = await stillPicture(tab, first, { page, whole, scale, restless });
  const { moving } = still;
  const { png: shot, ...pixels } =
    parts.length === 0 ? { ...still.pixels, png: still.picture.png } : await withParts(still.pixels, parts, scale);
  const masked = [...page.masked, ...moving];

  const formulaOf = formulas(text.grounds, text.canvas);
  const sight = { tab, normal: pixels, scale, masked };
  const { readings, moved, lifted } = await tab.watch.time('text', () => readText(sight, text.runs, formulaOf));
  const [traced] = await tab.watch.time('tracing', () => Promise.all([tracing.trace(), lifted]));
  const { originOf } = traced;
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
  const others = await tab.watch.time('surfaces', () => paintedSamples(painted));
  const beneath = await layersBelow(tab, misjudged({ text, readings, formulaOf }));
  const samples = [...textSamples({ view: view.id, text, readings, formulaOf, originOf, beneath }), ...others];
  const captured: SeenView['captured'] = {
    view,
    status: 'captured',
    page: { title, widthCssPx: width, heightCssPx: height, scale },
    shot,
    ...(masked.length === 0 ? {} : { masks: masked }),
    // A second picture was taken where something might move; what frames of another origin are made of is not hashed.
    ...(fingerprint !== undefined && farFrames.length === 0 && Buffer.compare(still.picture.png, png) === 0 ? { fingerprint } : {}),
    samples,
    properties: paintingProperties(traced, places),
    notes: [
      ...restless,
      ...(page.loading === null ? [] : [{ code: 'still-loading' as const, at: page.loading, data: {} }]),
      ...moving.map(movesForEver),
      ...unread,
      ...lacking(tab, collected.text),
      ...traced.notes,
      ...cut,
    ],
  };
  const grew = collected.page.width !== width || collected.page.height !== size.height;
  return { captured, linesMoved: false, pieced: parts.map(({ rect }) => rect), painted, moved: moved || grew };
}

async function layersBelow(tab: Tab, runs: readonly number[]): Promise<TextFacts['beneath']> {
  if (runs.length === 0) return new Map();
  const layers = await tab.call('beneath', { runs });
  return new Map(runs.map((run, i) => [run, layers[i] ?? []]));
}

/** What this browser does not tell of the page. */
function lacking({ driver: { can } }: Tab, { pseudo }: WireText): readonly Note[] {
  return [
    ...(can.has('closed-trees') ? [] : [{ code: 'browser-lacks', data: { what: 'closed-trees' } } as const]),
    ...(can.has('generated-text') || pseudo.length === 0
      ? []
      : [{ code: 'browser-lacks', data: { what: 'generated-text' } } as const]),
  ];
}

/** Generated text is placed by the layout tree; only pages that have some pay for it. */
async function withPseudo(tab: Tab, text: WireText): Promise<WireText> {
  if (text.pseudo.length === 0 || !tab.driver.can.has('generated-text')) return text;
  const placed = await placePseudo(tab, text.pseudo);
  const { runs, grounds } = await tab.call('placePseudo', { placed });
  return { ...text, grounds, runs: [...text.runs, ...runs] };
}

/** A picture, and its pixels as soon as they are wanted. */
interface Whole {
  readonly picture: Picture;
  readonly decoded: () => Promise<Pixels>;
}

/** @param ahead decode at once, while the page is still being read */
async function takeWhole(tab: Tab, whole: Rect, scale: number, ahead: boolean): Promise<Whole> {
  const picture = await tab.watch.time('picture', () => takePicture(tab, whole, scale));
  let decoding: Promise<Pixels> | null = null;
  const decoded = (): Promise<Pixels> => {
    decoding ??= tab.watch.time('decoding', () => decodePng(picture.png, { leftPx: 0, topPx: 0 }));
    return decoding;
  };
  if (ahead) decoded().catch(() => undefined);
  return { picture, decoded };
}

interface Wanted {
  readonly page: WirePage;
  readonly whole: Rect;
  readonly scale: number;
  readonly restless: readonly Note[];
}

interface Still {
  readonly picture: Picture;
  readonly pixels: Pixels;
  /** Canvases that moved from picture to picture while all else stood still. */
  readonly moving: readonly Rect[];
}

function movesForEver(rect: Rect): Note {
  return { code: 'canvas-moves', data: { rect } };
}

/** Pages that gave a reason for doubt are looked at twice. @throws GloamError `unsettled` when more of them moves than canvases */
async function stillPicture(tab: Tab, first: Whole, wanted: Wanted): Promise<Still> {
  const { page, whole, scale, restless } = wanted;
  let one = { picture: first.picture, pixels: await first.decoded() };
  if (restless.length === 0 && page.restlessPlaces.length === 0) return { ...one, moving: [] };
  const take = async (): Promise<typeof one> => {
    const { picture, decoded } = await takeWhole(tab, whole, scale, true);
    return { picture, pixels: await decoded() };
  };
  for (let attempt = 1; ; attempt += 1) {
    const two = await take();
    const moved = samePixels(one.pixels, two.pixels, page.masked, scale);
    if (moved === null) return { ...two, moving: [] };
    if (attempt === 2) {
      const { canvases } = page;
      if (samePixels(one.pixels, two.pixels, [...page.masked, ...canvases], scale) === null) {
        const masksBut = (canvas: Rect): readonly Rect[] => [...page.masked, ...canvases.filter((other) => other !== canvas)];
        const moving = canvases.filter((canvas) => samePixels(one.pixels, two.pixels, masksBut(canvas), scale) !== null);
        // Where they overlap, none can be told apart.
        return { ...two, moving: moving.length === 0 ? canvases : moving };
      }
      const more = restless.length === 0 ? '' : `; ${restless.map(noteWords).join('; ')}`;
      throw pageUnsettled(tab.url, `pixels still move at ${moved.x}, ${moved.y} px${more}`);
    }
    await settleAfterChange(tab);
    one = await take();
  }
}
