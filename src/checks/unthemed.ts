// A colour written out as a literal that stayed as it is while the theme changed around it.
// One check with its parameters and all it says, hence the length.
import { cieLightness, deltaEOk, MIDDLE_LIGHTNESS, toOklch } from '../colour/lightness.ts';
import { opaque } from '../colour/color.ts';
import { findColor } from '../colour/parse-color.ts';
import type { Paint } from '../samples/paint.ts';
import type { Sample } from '../samples/sample.ts';
import type { Against, Fault, OptionsOf, Reference, SampleOf, Subject } from './check.ts';
import { defineCheck } from './check.ts';
import { graphicContrastAsked, textContrastAsked } from './contrast-asked.ts';
import { isRecoloured } from './recoloured.ts';
import { nameOf, rounded, showLightness } from './wording.ts';

const parameters = {
  leastChange: {
    default: 25,
    min: 1,
    max: 100,
    unit: 'L*',
    about: 'How much the lightness behind or around a place must differ from the reference theme to count as changed.',
    source: 'ours: light and dark themes differ by 70 and more, tints of one theme by less than 15',
  },
  leastStandOut: {
    default: 15,
    min: 1,
    max: 100,
    unit: 'L*',
    about: 'How much more a surface must differ in lightness from its surroundings than it does in the reference theme.',
    source: 'ours: an accent fill that suits both themes differs less or about as much; a forgotten panel by 80',
  },
  mostChroma: {
    default: 0.08,
    min: 0,
    max: 0.4,
    unit: 'chroma',
    about:
      'Fills and lines more saturated than this (OKLCH) are accents: that one stands out more in the dark is what neon judges.',
    source: 'ours: papers and pastel panels stay below .05, a yellow button is at .17',
  },
  leastTokenArea: {
    default: 0.01,
    min: 0,
    max: 1,
    unit: 'share',
    about:
      'Share of the viewport from which a neutral surface is left behind though a token paints it: the token has no value for this theme.',
    source: 'ours: as in `flipped`; smaller ones (stamps, codes to scan, chips) often keep their paper on purpose',
  },
  leastPeers: {
    default: 2,
    min: 1,
    max: 1000,
    unit: 'number',
    about: 'How many places that draw the same colour through a token must have changed for a coloured literal to be left behind.',
    source: 'ours: one may be chance',
  },
} as const;

type Options = OptionsOf<typeof parameters>;
type Coloured = SampleOf<'text'> | SampleOf<'surface'> | SampleOf<'graphic'>;

/** OKLab distance up to which two colours are one: half of the just noticeable .02 (CSS Color 4 §13.2). */
const SAME = 0.01;
/** Distance from which a peer has changed: more than twice just noticeable (ours). */
const CHANGED = 0.05;
/** OKLCH chroma from which a colour is recognisably of a family; neutrals have no peers (ours). */
const LEAST_CHROMA = 0.04;

export const unthemed = defineCheck({
  id: 'unthemed',
  kinds: ['text', 'surface', 'graphic'],
  title: 'Colours the theme did not reach',
  about:
    'Text, borders, icons and surfaces whose literal colour stayed while the theme changed around them, so that they stand out, cannot be read, or differ from places that share their colour; large neutral surfaces whose token stayed; and frames, of whatever origin, that stayed or that the browser painted. Left alone: pictures, surfaces under "stay", text, icons, controls and small surfaces whose token stayed, translucent layers, fills that suit both themes.',
  guide: {
    why: 'A forgotten panel or label keeps its colour when the theme changes around it: the usual remainder of replacing literals by tokens.',
    computed:
      'The colour is a literal (traced by dye: no custom property moves it), or a large surface has the tone of the other theme through a token or in a frame of another origin, whose colours are not traced; and it is equal to that of the same place in the reference theme within an OKLab distance of 0.01, while the lightness behind or around it changed by `leastChange`; then it must stand out more though it lay near its page there (30 L*), be unreadable, be text whose background turned from light to dark or back, be a line or the edge of a field that went from below 2:1 to 4:1 and more (of a field: unless most edges of fields that tokens paint are at least half as strong), or differ from peers of its colour that did change. A frame is also told where it is clear in the reference theme and painted by the browser here, since its document does not know the scheme of what it lies in (CSS Color Adjust 1 §2).',
    source: 'ΔE OK and its just noticeable difference: CSS Color 4 §13.2; CIE 15 for L*. The bounds are opinions.',
    mend: 'Put a token in place of the literal: `gloam match COLOUR` suggests some. Where a token stayed, give it a value of its own in this theme. If the colour shall stay, name the surface under `stay`.',
  },
  parameters,
  survey: surveyed,
  judge: (sample, against, options, rest): Left | null => {
    const before = against.reference?.samePlace(sample.kind);
    if (before === undefined) {
      const painted = byBrowser(sample, against);
      return painted === null ? null : { sample, before: null, theme: against.reference?.theme ?? '', ...painted };
    }
    const stuck = stuckOf(sample, before, against, options, rest);
    return stuck === null ? null : { sample, before, theme: against.reference?.theme ?? '', ...stuck };
  },
  say: ({ sample, before, theme, because, expected }) => {
    const paint = paintOf(sample);
    const what = before === null ? `is ${sample.color}` : `kept ${sample.color} (${paint.property}) from ${theme}`;
    return {
      message: `${nameOf(sample)} ${what}: it ${because}.`,
      measured: {
        color: sample.color,
        property: paint.property,
        origin: paint.origin.kind,
        ...(sample.kind === 'surface' && before?.kind === 'surface'
          ? {
              lightness: rounded(sample.lightness, 1),
              aroundLightness: rounded(sample.aroundLightness, 1),
              aroundLightnessInReference: rounded(before.aroundLightness, 1),
            }
          : {}),
      },
      expected: { color: expected },
    };
  },
});

interface Stuck {
  readonly level: 'warning' | 'note';
  /** End of the sentence “… kept its colour #… ”. */
  readonly because: string;
  readonly expected: string;
}

interface Left extends Fault<Coloured>, Stuck {
  readonly level: 'warning' | 'note';
  /** Null where nothing was painted there. */
  readonly before: Coloured | null;
  /** The reference. */
  readonly theme: string;
}

/** What is to be known of the whole view. */
interface Rest {
  readonly peers: readonly Peers[];
  /** Contrasts of the edges of fields that tokens paint. */
  readonly edges: readonly number[];
  /** False where there is nothing but a picture. */
  readonly hasOwnColours: boolean;
  /** Not one colour differs from the reference theme. */
  readonly isUntouched: boolean;
}

function surveyed({ samples, reference }: Pick<Subject, 'samples' | 'reference'>): Rest | null {
  if (reference === null) return null;
  const ownColours = hasOwnColours(samples);
  return {
    peers: peersOf(samples, reference),
    edges: samples.flatMap((sample) =>
      sample.kind === 'graphic' && isFieldEdge(sample) && BY_TOKEN.has(sample.paint.origin.kind) ? [sample.contrast] : [],
    ),
    hasOwnColours: ownColours,
    isUntouched: ownColours && !isRecoloured(samples, reference.samples),
  };
}

function stuckOf(sample: Coloured, before: Coloured, against: Against, options: Options, rest: Rest | null): Stuck | null {
  const isSame = distance(sample.color, before.color) <= SAME;
  // A page of the other tone on which not one colour differs: what it draws comes through tokens perhaps, but not through the theme's.
  if (isCanvas(sample) && sample.stay === undefined && (rest?.isUntouched ?? isSame)) {
    const left = ofOtherTone(sample, against);
    if (left !== null) return left;
  }
  if (!isSame || isTranslucent(paintOf(sample))) return null;
  if (!isLiteral(sample) && !isLargeOfOtherTone(sample, against.tone, options.leastTokenArea)) return null;
  return faultOf(sample, before, against, options, rest) ?? leftBehind(sample, rest?.peers ?? [], options.leastPeers);
}

/** The browser paints a frame whose document does not know the scheme of what it lies in (CSS Color Adjust 1 §2): clear before, white now. */
function byBrowser(sample: Coloured, against: Against): Stuck | null {
  if (sample.kind !== 'surface' || sample.role !== 'box' || sample.paint.origin.kind !== 'system') return null;
  if (sample.stay !== undefined || against.tone === against.reference?.tone || sample.tone === against.tone) return null;
  const because = `is painted by the browser, since its document has no background and no color-scheme of ${sample.around} around it`;
  return { level: 'warning', because, expected: `a ${against.tone} frame` };
}

/** The page itself keeps the tone of the reference theme in a theme of the other. */
function ofOtherTone(sample: SampleOf<'surface'>, { tone, reference }: Against): Stuck | null {
  if (tone === reference?.tone || sample.tone === tone) return null;
  return { level: 'warning', because: 'is the whole page: the theme did not reach it', expected: `a ${tone} page` };
}

function isCanvas(sample: Sample): sample is SampleOf<'surface'> {
  return sample.kind === 'surface' && sample.role === 'canvas';
}

/** A page that is nothing but a picture has none. */
function hasOwnColours(samples: readonly Sample[]): boolean {
  const isPicture = samples.some((sample) => sample.kind === 'picture');
  return !isPicture || samples.some((sample) => sample.kind === 'text' || sample.kind === 'graphic');
}

function isColoured(sample: Sample): sample is Coloured {
  return sample.kind === 'text' || sample.kind === 'surface' || sample.kind === 'graphic';
}

function paintOf(sample: Coloured): Paint {
  return sample.kind === 'text' ? sample.ink : sample.paint;
}

const BY_TOKEN: ReadonlySet<Paint['origin']['kind']> = new Set(['token', 'derived', 'inferred']);

/** Written out, or the browser's own; drawings have no declaration to trace, their pixels are all there is. */
function isLiteral(sample: Coloured): boolean {
  const { kind } = paintOf(sample).origin;
  const drawn = sample.kind === 'surface' && sample.role === 'chart' && kind === 'unknown';
  return kind === 'literal' || kind === 'system' || drawn;
}

/**
 * A panel, bar, table row or frame that has the tone of the reference theme's page through a token, or in a document whose colours are not
 * traced.
 */
function isLargeOfOtherTone(sample: Coloured, tone: Subject['tone'], leastTokenArea: number): boolean {
  if (sample.kind !== 'surface' || sample.fill !== 'flat' || (sample.role !== 'box' && sample.role !== 'pseudo')) return false;
  const { kind } = sample.paint.origin;
  return kind !== 'literal' && kind !== 'system' && sample.tone !== tone && sample.area >= leastTokenArea;
}

function faultOf(
  sample: Coloured,
  before: Coloured,
  against: Against,
  { leastChange, leastStandOut, mostChroma }: Options,
  rest: Rest | null,
): Stuck | null {
  if (sample.kind === 'surface' && before.kind === 'surface') {
    if (sample.stay !== undefined || sample.role === 'picture' || sample.fill === 'picture') return null;
    // The thumb of a switch is white in every theme.
    if (sample.role === 'control' && Math.max(sample.rect[2], sample.rect[3]) <= LARGEST_MARK) return null;
    if (sample.role === 'canvas') return rest?.hasOwnColours === false ? null : ofOtherTone(sample, against);
    const moved = Math.abs(sample.aroundLightness - before.aroundLightness);
    const now = Math.abs(sample.lightness - sample.aroundLightness);
    const then = Math.abs(before.lightness - before.aroundLightness);
    if (moved < leastChange || now < then + leastStandOut || sample.chroma > mostChroma) return null;
    if (then > NEAR_ITS_PAGE) return null;
    return {
      level: 'warning',
      because: `now differs by ${showLightness(now)} L* from ${sample.around} around it instead of ${showLightness(then)}`,
      expected: BY_TOKEN.has(paintOf(sample).origin.kind) ? 'a value of the token for this theme' : 'a colour of the theme',
    };
  }
  if (sample.kind === 'text' && before.kind === 'text') {
    if (lightnessChange(sample.background, before.background) < leastChange) return null;
    const turned = toneOf(sample.background) !== toneOf(before.background);
    const asked = textContrastAsked(sample, against.level);
    const isUnread = asked !== null && sample.contrast.min < asked;
    const worse = isUnread && before.contrast.min >= asked;
    if (!worse && !turned) return null;
    const expected = 'a colour of the theme';
    if (worse) return { level: 'warning', because: `can no longer be read on ${sample.background}`, expected };
    return isUnread
      ? { level: 'note', because: `cannot be read on ${sample.background}, nor on ${before.background} there`, expected }
      : { level: 'note', because: `can be read, but the background became ${sample.background}`, expected };
  }
  if (sample.kind === 'graphic' && before.kind === 'graphic') {
    if (lightnessChange(sample.against, before.against) < leastChange) return null;
    const asked = graphicContrastAsked(sample);
    const lost = asked !== null && sample.contrast < asked && before.contrast >= asked;
    // Decorative icons are no lines: a gold star stays gold.
    const isLine = sample.role === 'border' && chromaOf(sample.color) <= mostChroma;
    const isJudged = isLine && (asked === null || (isFieldEdge(sample) && !isAsOthers(sample, rest?.edges ?? [])));
    const glaring = isJudged && sample.contrast >= GLARING && before.contrast < DISCREET;
    if (lost)
      return { level: 'warning', because: `no longer stands out from ${sample.against}`, expected: 'a colour of the theme' };
    return glaring ? { level: 'warning', because: `is a hard line on ${sample.against}`, expected: 'a colour of the theme' } : null;
  }
  return null;
}

/** CSS px: larger controls are buttons and fields (ours; thumbs and ticks of common libraries take 16 to 24). */
const LARGEST_MARK = 28;

/** L*; a panel made for the light page lies near it, a fill further off suits dark pages as well (ours: a grey alert). */
const NEAR_ITS_PAGE = 30;

function chromaOf(color: string): number {
  const found = findColor(color);
  return found === null ? 0 : toOklch(found).chroma;
}

function toneOf(color: string): 'light' | 'dark' | null {
  const found = findColor(color);
  return found === null ? null : cieLightness(opaque(found)) < MIDDLE_LIGHTNESS ? 'dark' : 'light';
}

/** Of a field, not its mark or face: a white thumb stays white. */
function isFieldEdge({ role, key, paint, exempt }: SampleOf<'graphic'>): boolean {
  return role === 'border' && exempt === null && key.endsWith('|edge') && paint.property !== 'background-color';
}

/** Where most fields of the view have an edge at least half as strong, strong edges are meant. */
function isAsOthers({ contrast }: SampleOf<'graphic'>, edges: readonly number[]): boolean {
  return edges.filter((each) => each >= contrast / 2).length * 2 > edges.length;
}

/** A hairline at 1.2:1 is discreet, at 4:1 it is the strongest thing in sight (ours). */
const DISCREET = 2;
const GLARING = 4;

function isTranslucent(paint: Paint): boolean {
  const color = findColor(paint.color);
  return color !== null && color.alpha < 0.95;
}

/** How places that share a colour through tokens in the reference theme fare here. */
interface Peers {
  readonly color: string;
  readonly kind: Coloured['kind'];
  changed: number;
  kept: number;
  /** What the first changed one is here. */
  example: string;
}

function peersOf(samples: readonly Sample[], reference: Reference): readonly Peers[] {
  const groups = new Map<string, Peers>();
  for (const sample of samples) {
    if (!isColoured(sample)) continue;
    const before = reference.find(sample.kind, sample.key);
    if (before === undefined || !isColoured(before)) continue;
    const { kind } = paintOf(sample).origin;
    if (kind !== 'token' && kind !== 'derived') continue;
    const name = `${sample.kind} ${before.color}`;
    const group = groups.get(name) ?? { color: before.color, kind: sample.kind, changed: 0, kept: 0, example: '' };
    groups.set(name, group);
    if (distance(sample.color, before.color) >= CHANGED) {
      group.changed += 1;
      if (group.example === '') group.example = sample.color;
    } else {
      group.kept += 1;
    }
  }
  return [...groups.values()];
}

/** A coloured literal whose peers, drawn through tokens, have all moved on. */
function leftBehind(sample: Coloured, peers: readonly Peers[], leastPeers: number): Stuck | null {
  if (paintOf(sample).origin.kind !== 'literal') return null;
  if (sample.kind === 'surface' && (sample.stay !== undefined || sample.fill === 'picture' || !JUDGED.has(sample.role)))
    return null;
  const color = findColor(sample.color);
  if (color === null || toOklch(color).chroma < LEAST_CHROMA) return null;
  const family = peers.filter((group) => group.kind === sample.kind && distance(group.color, sample.color) <= SAME);
  const changed = family.reduce((sum, group) => sum + group.changed, 0);
  const kept = family.reduce((sum, group) => sum + group.kept, 0);
  if (changed < leastPeers || kept > changed / 4) return null;
  const example = family.find((group) => group.example !== '')?.example ?? '';
  return {
    level: 'warning',
    because: `stayed where ${String(changed)} others of that colour became ${example}`,
    expected: example,
  };
}

const JUDGED: ReadonlySet<SampleOf<'surface'>['role']> = new Set(['box', 'control', 'pseudo']);

function distance(one: string, other: string): number {
  if (one === other) return 0;
  const [a, b] = [findColor(one), findColor(other)];
  return a === null || b === null ? Number.POSITIVE_INFINITY : deltaEOk(a, b);
}

function lightnessChange(one: string, other: string): number {
  const [a, b] = [findColor(one), findColor(other)];
  return a === null || b === null ? 0 : Math.abs(cieLightness(opaque(a)) - cieLightness(opaque(b)));
}
