// Pictures of an element with and without keyboard focus → what of it shows the focus (WCAG 2.2 SC 2.4.7, 1.4.11, 2.4.13).
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { LEAST_GRAPHIC_CONTRAST } from '../../src/colour/graphic-requirement.ts';
import { toHex } from '../../src/colour/format-color.ts';
import type { Layer, Paint } from '../../src/samples/paint.ts';
import type { GraphicSample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';
import { decodePng } from '../driver/decode-png.ts';
import type { WireTarget } from '../page/wire/places.ts';
import type { Tab } from '../tab/tab.ts';
import { takePicture } from '../tab/take-picture.ts';
import type { PaintedView } from './painted-view.ts';
import { placeFacts } from './painted-view.ts';
import type { Code, Shot } from './pixels.ts';
import { codeAt, distance, toColor } from './pixels.ts';

/** CSS px around an element where its indicator may be drawn. */
const FOCUS_REACH = 12;
/** Codes; less is rounding. */
const LEAST_CHANGE = 6;
/** An indicator covers at least half of a 1 px outline (ours); less is a stray. */
const LEAST_OUTLINE_SHARE = 0.5;

/** Targets of one state that are looked at. */
const MOST = 40;

/** @param painted as seen while the state held; the page is without it now */
export async function focusSamples(tab: Tab, painted: PaintedView): Promise<readonly GraphicSample[]> {
  const samples: GraphicSample[] = [];
  for (const target of painted.places.targets.slice(0, MOST)) {
    const region = around(target.rect, painted.seen);
    const { scale } = painted.seen;
    const { png } = await takePicture(tab, region, scale);
    const place = { leftPx: Math.round(region[0] * scale), topPx: Math.round(region[1] * scale) };
    const unfocused: Shot = { ...(await decodePng(png, place)), scale };
    samples.push(focusSample(painted, target, { focused: painted.seen, unfocused, region }));
  }
  return samples;
}

/** Whole CSS px, inside the page. */
function around([x, y, width, height]: Rect, page: Shot): Rect {
  const left = Math.max(0, Math.floor(x) - FOCUS_REACH);
  const top = Math.max(0, Math.floor(y) - FOCUS_REACH);
  const right = Math.min(Math.floor(page.widthPx / page.scale), Math.ceil(x + width) + FOCUS_REACH);
  const bottom = Math.min(Math.floor(page.heightPx / page.scale), Math.ceil(y + height) + FOCUS_REACH);
  return [left, top, right - left, bottom - top];
}

export interface FocusPictures {
  readonly focused: Shot;
  readonly unfocused: Shot;
  /** Where to compare; both show it. */
  readonly region: Rect;
}

export function focusSample(painted: PaintedView, target: WireTarget, pictures: FocusPictures): GraphicSample {
  const changes = changesIn(pictures);
  const [, , width, height] = target.rect;
  const perimeterPx = 2 * (width + height) * pictures.focused.scale ** 2;
  const paint: Paint = {
    property: 'outline-color',
    color: target.outlineColor,
    origin: painted.originOf(target.selector, 'outline-color', target.outlineColor),
  };
  const layers = painted.layersOf(target.ground);
  const excepted = isBrowsersOwn(target.outlineStyle, paint, layers);
  const shown = indicatorOf(changes, perimeterPx * LEAST_OUTLINE_SHARE);
  const color = toHex(toColor(shown?.now ?? 0));
  const against = toHex(toColor(shown?.before ?? 0));
  const contrast = shown?.contrast ?? 1;
  return {
    kind: 'graphic',
    ...placeFacts(painted.view, target),
    role: 'focus',
    color,
    against,
    contrast,
    exempt: target.exempt?.reason ?? null,
    ...(target.exempt === undefined ? {} : { why: target.exempt.why }),
    ...(target.outlineStyle === 'auto' && shown !== null ? { byBrowser: true } : {}),
    paint,
    layers,
    opacity: target.opacity ?? 1,
    ...(excepted ? {} : { change: { perimeterShare: perimeterShare(changes, perimeterPx) } }),
  };
}

/** SC 2.4.13, exception: neither the indicator nor the background behind it is modified by the author. */
function isBrowsersOwn(outlineStyle: string, { origin }: Paint, layers: readonly Layer[]): boolean {
  return outlineStyle === 'auto' && origin.kind === 'system' && layers.every(({ paint }) => paint?.origin.kind === 'system');
}

/** Share of a straight outline that curves and corners may spend on softened pixels (ours); a weak line beside a strong one is more. */
const MOST_SOFTENED = 0.25;

/**
 * Area that changes by 3:1, as a share of a 2 CSS px thick perimeter (SC 2.4.13). Pixels that antialiasing made may be ignored
 * (WCAG 2.2, note to contrast ratio): they are left out of the area that is asked for.
 * @param perimeterPx device px of a perimeter 1 CSS px thick
 */
export function perimeterShare(changes: readonly Change[], perimeterPx: number): number {
  const strong = changes.filter((change) => change.contrast >= LEAST_GRAPHIC_CONTRAST);
  const places = new Map(strong.map((change) => [placeName(change.at), change]));
  const changed = new Set(changes.map(({ at }) => placeName(at)));
  const softened = changes.filter(
    (change) => change.contrast < LEAST_GRAPHIC_CONTRAST && isSoftened(change, places, changed),
  ).length;
  const asked = 2 * perimeterPx - (softened <= perimeterPx * MOST_SOFTENED ? softened : 0);
  return strong.length / asked;
}

const NEIGHBOURS = [
  [-1, 0],
  [1, 0],
  [0, -1],
  [0, 1],
] as const;

/** Between a pixel of the indicator and one that did not change, and of a colour between them. */
function isSoftened(change: Change, strong: ReadonlyMap<string, Change>, changed: ReadonlySet<string>): boolean {
  const [x, y] = change.at;
  return NEIGHBOURS.some(([dx, dy]) => {
    const full = strong.get(placeName([x + dx, y + dy]));
    return full !== undefined && !changed.has(placeName([x - dx, y - dy])) && isMixed(change, full.now);
  });
}

/** Codes that a mix may be off by rounding. */
const ROUNDING = 12;

function isMixed({ now, before }: Change, full: Code): boolean {
  const [ink, ground, seen] = [toColor(full), toColor(before), toColor(now)];
  return (['r', 'g', 'b'] as const).every((channel) => {
    const [low, high] = [Math.min(ink[channel], ground[channel]), Math.max(ink[channel], ground[channel])];
    return seen[channel] >= low - ROUNDING / 255 && seen[channel] <= high + ROUNDING / 255;
  });
}

function placeName([x, y]: Change['at']): string {
  return `${String(x)} ${String(y)}`;
}

export interface Change {
  /** Device px from the corner of the region. */
  readonly at: readonly [x: number, y: number];
  readonly now: Code;
  readonly before: Code;
  readonly contrast: number;
}

function changesIn({ focused, unfocused, region }: FocusPictures): readonly Change[] {
  const step = 1 / focused.scale;
  const changes: Change[] = [];
  const known = new Map<string, number>();
  for (let dy = step / 2; dy < region[3]; dy += step) {
    for (let dx = step / 2; dx < region[2]; dx += step) {
      const now = codeAt(focused, region[0] + dx, region[1] + dy);
      const before = codeAt(unfocused, region[0] + dx, region[1] + dy);
      if (distance(now, before) < LEAST_CHANGE) continue;
      const name = `${String(now)} ${String(before)}`;
      const contrast = known.get(name) ?? contrastRatio({ ink: toColor(now), background: toColor(before) });
      known.set(name, contrast);
      changes.push({ at: [Math.floor(dx / step), Math.floor(dy / step)], now, before, contrast });
    }
  }
  return changes;
}

/** The strongest change that covers enough to be an indicator; null when nothing does. */
function indicatorOf(changes: readonly Change[], leastPixels: number): Change | null {
  const ranked = [...changes].sort((one, other) => other.contrast - one.contrast);
  return ranked[Math.floor(Math.max(0, leastPixels - 1))] ?? null;
}
