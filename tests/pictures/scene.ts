// Made-up harbour screens: boxes and words in colours of tokens, drawn pixel by pixel, with the samples a capture would yield. The same
// scene gives the same picture; two scenes that differ in one thing give a pair whose explanation is known.
import type { RgbaPicture } from '../../src/pictures/rgba-picture.ts';
import type { DecodedCapture } from '../../src/pictures/view-difference.ts';
import type { Layer, Paint } from '../../src/samples/paint.ts';
import type { PictureSample, Sample, SurfaceSample, TextSample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';

export interface Thing {
  readonly key: string;
  readonly rect: Rect;
  readonly kind: 'box' | 'words' | 'photo';
  /** Name of the token it is painted with; a colour of its own when it starts with `#`. */
  readonly paint: string;
  /** Of words. */
  readonly text?: string;
  /** Of photos: another number is another photo. */
  readonly photo?: number;
  /** `#key` when absent. */
  readonly selector?: string;
  /** Drawn but not sampled, as small things are. */
  readonly unsampled?: true;
}

export interface Scene {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly tokens: Readonly<Record<string, string>>;
  /** In painting order; the first is the page. */
  readonly things: readonly Thing[];
}

export type Codes = readonly [number, number, number];

export const GLYPH_WIDE = 7;
export const GLYPH_HIGH = 13;

export const codes = (hex: string): Codes => [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as unknown as Codes;

/** Half-covered edges, as glyphs have them: coverage 0–1 of a pixel of a letter, the same for the same letter. */
function coverage(letter: string, x: number, y: number): number {
  if (letter === ' ') return 0;
  const ink = (i: number, j: number): number => {
    if (i < 1 || i > GLYPH_WIDE - 2 || j < 2 || j > GLYPH_HIGH - 3) return 0;
    const bits =
      Math.imul(letter.charCodeAt(0) * 2654435761 + Math.floor(i / 2) * 40503 + Math.floor(j / 3) * 97, 2246822519) >>> 13;
    return bits % 2;
  };
  return (ink(x, y) * 2 + ink(x - 1, y) + ink(x + 1, y)) / 4;
}

export function drawScene({ widthPx, heightPx, tokens, things }: Scene): RgbaPicture {
  const data = new Uint8Array(widthPx * heightPx * 4).fill(255);
  for (const thing of things) {
    const [left, top, width, height] = thing.rect;
    const color = codes(colorOf(thing, tokens));
    for (let y = Math.max(0, top); y < Math.min(heightPx, top + height); y += 1) {
      for (let x = Math.max(0, left); x < Math.min(widthPx, left + width); x += 1) {
        const share = shareAt(thing, x - left, y - top);
        const at = (y * widthPx + x) * 4;
        for (let channel = 0; channel < 3; channel += 1) {
          const below = data[at + channel] ?? 0;
          const code = thing.kind === 'photo' ? photoCode(thing.photo ?? 0, x - left, y - top, channel) : (color[channel] ?? 0);
          data[at + channel] = Math.round(below + (code - below) * share);
        }
      }
    }
  }
  return { widthPx, heightPx, data };
}

function shareAt(thing: Thing, x: number, y: number): number {
  if (thing.kind !== 'words') return 1;
  return coverage((thing.text ?? '')[Math.floor(x / GLYPH_WIDE)] ?? ' ', x % GLYPH_WIDE, y);
}

const photoCode = (photo: number, x: number, y: number, channel: number): number =>
  (Math.imul((x >> 2) * 73 + (y >> 2) * 179 + channel * 31 + photo * 997, 2654435761) >>> 24) & 255;

export const colorOf = (thing: Thing, tokens: Readonly<Record<string, string>>): string =>
  thing.paint.startsWith('#') ? thing.paint : (tokens[thing.paint] ?? '#000000');

/** What a capture of the scene yields besides its picture. */
export function captureOf(scene: Scene): DecodedCapture {
  const { tokens, things } = scene;
  const paintOf = (thing: Thing): Paint => ({
    property: thing.kind === 'words' ? 'color' : 'background-color',
    color: colorOf(thing, tokens),
    origin: thing.paint.startsWith('#') ? { kind: 'literal' } : { kind: 'token', property: thing.paint, alpha: 1 },
  });
  const beneath = (at: number): readonly Thing[] =>
    things.slice(0, at).filter((box) => box.kind === 'box' && contains(box.rect, things[at]?.rect ?? [0, 0, 0, 0]));
  const samples = things.flatMap((thing, at): Sample[] => {
    if (thing.unsampled === true) return [];
    const place = { view: 'view', selector: thing.selector ?? `#${thing.key}`, key: thing.key, rect: thing.rect };
    const ground = beneath(at).at(-1);
    const background = ground === undefined ? '#ffffff' : colorOf(ground, tokens);
    const layers = beneath(at).map((box): Layer => ({ selector: `#${box.key}`, kind: 'color', paint: paintOf(box), opacity: 1 }));
    if (thing.kind === 'words') return [words(place, thing, paintOf(thing), background, layers)];
    if (thing.kind === 'photo') return [photo(place)];
    return [surface(place, paintOf(thing), background, layers)];
  });
  const properties = Object.entries(tokens).map(([name, value]) => ({ name, value, at: 'html' }));
  return { samples, properties, picture: drawScene(scene), masks: [] };
}

type Place = Pick<Sample, 'view' | 'selector' | 'key' | 'rect'>;

function words(place: Place, thing: Thing, ink: Paint, background: string, layers: readonly Layer[]): TextSample {
  return {
    ...{ ...place, kind: 'text', text: thing.text ?? '', color: ink.color, background, backgroundSpread: [background] },
    ...{ contrast: { min: 5, max: 5 }, fontSize: 13, fontWeight: 400, large: false, required: 4.5, exempt: null, verdict: 'pass' },
    ...{ basis: 'pixels', ink, inkOpacity: 1, layers },
  };
}

function surface(place: Place, paint: Paint, around: string, layers: readonly Layer[]): SurfaceSample {
  return {
    ...{
      ...place,
      kind: 'surface',
      color: paint.color,
      around,
      lightness: 50,
      aroundLightness: 50,
      chroma: 0,
      hueDeg: 0,
      area: 0.1,
    },
    ...{ tone: 'dark', fill: 'flat', role: 'box', paint, opacity: 1, layers },
  };
}

function photo(place: Place): PictureSample {
  return { ...place, kind: 'picture', medium: 'image', filters: [], luma: [] };
}

function contains(outer: Rect, inner: Rect): boolean {
  return (
    inner[0] >= outer[0] &&
    inner[1] >= outer[1] &&
    inner[0] + inner[2] <= outer[0] + outer[2] &&
    inner[1] + inner[3] <= outer[1] + outer[3]
  );
}

const line = (key: string, x: number, y: number, text: string, paint = '--mark'): Thing => ({
  ...{ key, kind: 'words', paint, text, rect: [x, y, text.length * GLYPH_WIDE, GLYPH_HIGH] },
});

/** Three cards with readings, a photo of the quay, a small lamp that is not sampled. */
export const HARBOUR: Scene = {
  widthPx: 320,
  heightPx: 300,
  tokens: { '--ground': '#0b1a24', '--card': '#12303f', '--mark': '#d7e3ea', '--quiet': '#7f98a5', '--lamp': '#e0a030' },
  things: [
    { key: 'page', kind: 'box', paint: '--ground', rect: [0, 0, 320, 300] },
    line('title', 16, 12, 'gauges of the north pier'),
    ...[0, 1, 2].flatMap((n): Thing[] => [
      { key: `card-${String(n)}`, kind: 'box', paint: '--card', rect: [16, 40 + n * 56, 200, 48] },
      line(`name-${String(n)}`, 24, 46 + n * 56, ['quay board', 'lock sill', 'outer mole'][n] ?? ''),
      line(`level-${String(n)}`, 24, 66 + n * 56, `level ${String(n)}.4 m`, '--quiet'),
      { key: `lamp-${String(n)}`, kind: 'box', paint: '--lamp', rect: [200, 46 + n * 56, 6, 6], unsampled: true },
    ]),
    { key: 'photo', kind: 'photo', paint: '#000000', rect: [232, 40, 72, 64], photo: 1 },
    line('foot', 16, 270, 'read every six minutes'),
  ],
};

/** The scene with things changed, left out or added. */
export function changed(
  scene: Scene,
  change: {
    readonly tokens?: Readonly<Record<string, string>>;
    readonly thing?: (thing: Thing) => Thing | null;
    readonly more?: readonly Thing[];
    readonly heightPx?: number;
  },
): Scene {
  const things = scene.things.map(change.thing ?? ((thing) => thing)).filter((thing) => thing !== null);
  return {
    ...scene,
    heightPx: change.heightPx ?? scene.heightPx,
    tokens: { ...scene.tokens, ...change.tokens },
    things: [...things, ...(change.more ?? [])],
  };
}

/** Everything at or below `y` pushed down, the page made higher. */
export function pushedDown(scene: Scene, y: number, by: number, more: readonly Thing[] = []): Scene {
  return changed(scene, {
    heightPx: scene.heightPx + by,
    thing: (thing) => {
      const [left, top, width, height] = thing.rect;
      if (thing.key === 'page') return { ...thing, rect: [left, top, width, height + by] };
      return top >= y ? { ...thing, rect: [left, top + by, width, height] } : thing;
    },
    more,
  });
}
