// Samples that may need explaining → the same samples with where their colours are written. What was looked up in one theme holds in
// the next one, as long as the same thing paints the place.
import { LEAST_GRAPHIC_CONTRAST } from '../../src/colour/graphic-requirement.ts';
import type { ContrastLevel } from '../../src/colour/text-requirement.ts';
import { requiredContrast } from '../../src/colour/text-requirement.ts';
import type { Note } from '../../src/samples/note.ts';
import type { Paint, WrittenPlace } from '../../src/samples/paint.ts';
import type { Fade, PictureFilter, Sample } from '../../src/samples/sample.ts';
import type { Tab } from '../tab/tab.ts';
import type { RulesLookedUp } from './once-for-rules.ts';
import type { Under, Written } from './where-written.ts';

/** One for each load of a page. */
export interface WrittenBook {
  /** @param look false: only what is known already is noted; a state: rules are looked up as they match in it */
  note(tab: Tab, samples: readonly Sample[], look: boolean | Under): Promise<readonly Sample[]>;
  /** What would be asked for, were the browser able to tell. */
  lacking(tab: Tab, samples: readonly Sample[]): readonly Note[];
  /** Takes samples that say it already. */
  learn(samples: readonly Sample[]): void;
}

/** Places looked up of those that are painted by the same thing in the same way: two tell whether one rule is behind them. */
const MOST_ALIKE = 3;
/** Places of one view that are told by the text of the style sheets (some 2 ms each on a framework of 1.2 MB). */
const MOST_A_VIEW = 96;
/** Filters looked up of one view. */
const MOST_FILTERS = 24;
/** Opacities looked up of one view. */
const MOST_FADES = 12;
/** Of all, places that the browser is asked about; filters come first. */
const MOST_ASKED = 48;
/**
 * A page on which a place takes longer is slow by itself: one with ten thousand nested rules needs 23 s and more for each (measured);
 * others need some 10 ms, and far less than this also where twelve programmes share two cores with the browser (measured).
 */
const SLOW_MS = 2_000;
/** Asking at all costs as much as some places do, most of all on a busy machine. Ours. */
const BEGINNING = 3;

export function openWrittenBook(budgetMs: number, rules: RulesLookedUp): WrittenBook {
  const known = new Map<string, readonly WrittenPlace[]>();
  let leftMs = budgetMs;
  let isSlow = false;
  return {
    note: async (tab, samples, look) => {
      const painted = placesToLookUp(samples);
      const wanted = [...filtersToLookUp(samples), ...fadesToLookUp(samples), ...painted];
      // What may not be asked for at all is left out where the page is slow. The time that is left does not decide: it hangs on what else
      // the machine does, and every night is to find the same.
      const isWorthIt = ({ isStrict }: LookUp): boolean => !isStrict || !isSlow;
      const under = typeof look === 'boolean' ? undefined : look;
      const asked =
        look !== false && canTell(tab, under) ? wanted.filter((place) => !known.has(place.key) && isWorthIt(place)) : [];
      if (asked.length > 0 && leftMs > 0) {
        const from = performance.now();
        const { found, looked } = await rules.whereWritten(tab, asked, { withinMs: leftMs, most: MOST_ASKED, under });
        const tookMs = performance.now() - from;
        leftMs -= tookMs;
        isSlow ||= tookMs > SLOW_MS * (looked + BEGINNING);
        asked.forEach(({ key }, at) => known.set(key, placesOf(found[at] ?? [], tab.url)));
      }
      const byIndex = new Map(painted.map(({ index, key }) => [index, known.get(key) ?? []]));
      return samples.map((sample, index) =>
        sample.kind === 'picture'
          ? { ...sample, filters: sample.filters.map((filter) => withPlaces(filter, known.get(filterKey(filter)) ?? [])) }
          : withFade(withWritten(sample, byIndex.get(index) ?? []), known),
      );
    },
    lacking: (tab, samples) =>
      canTell(tab, undefined) || placesToLookUp(samples).length + filtersToLookUp(samples).length === 0
        ? []
        : [{ code: 'browser-lacks', data: { what: 'matched-rules' } }],
    learn: (samples) => {
      for (const { index, key } of placesToLookUp(samples)) known.set(key, writtenOf(samples[index]));
      for (const filter of turning(samples)) known.set(filterKey(filter), filter.written ?? []);
      for (const fade of fading(samples)) known.set(fadeKey(fade), fade.written ?? []);
    },
  };
}

function canTell({ driver: { can } }: Tab, under: Under | undefined): boolean {
  return can.has('matched-rules') && (under === undefined || can.has('forced-states'));
}

interface PaintedPlace extends LookUp {
  /** Of its sample. */
  readonly index: number;
}

interface LookUp {
  readonly key: string;
  readonly selector: string;
  readonly property: string;
  /** It falls short of level AAA alone, or is a surface that may stand out or be lost. */
  readonly isStrict: boolean;
}

/**
 * What falls short of a contrast, and what is written out: those are the places whose declarations are asked for. What falls short of
 * level AAA alone comes last: whether that is asked is not for this part to know.
 */
function placesToLookUp(samples: readonly Sample[]): readonly PaintedPlace[] {
  const alike = new Map<string, number>();
  const places: PaintedPlace[] = [];
  const isPlain = (sample: Sample): boolean => fallsShort(sample, 'AA') || isWrittenOut(sample);
  const all = [...samples.entries()];
  const strict = all.filter(([, sample]) => !isPlain(sample) && (fallsShort(sample, 'AAA') || mayStand(sample)));
  for (const [index, sample] of [...all.filter(([, one]) => isPlain(one)), ...strict]) {
    const paint = paintOf(sample);
    if (paint === null || places.length === MOST_A_VIEW) continue;
    const kind = `${paint.property} ${JSON.stringify(paint.origin)} ${paint.origin.kind === 'token' ? '' : paint.color}`;
    // Variants of one rule set the same property of their own, each to its own colour.
    const variant = `${kind} ${paint.color}`;
    const count = alike.get(variant) ?? 0;
    alike.set(variant, count + 1);
    if (count < MOST_ALIKE)
      places.push({
        index,
        key: `${paint.on ?? sample.selector}\n${kind}`,
        selector: paint.on ?? sample.selector,
        property: paint.property,
        isStrict: !isPlain(sample),
      });
  }
  return places;
}

/** Of filters that do the same, as of paints; each icon may be turned by a hue of its own. */
function filtersToLookUp(samples: readonly Sample[]): readonly LookUp[] {
  return fewOfEach(
    turning(samples).map((filter) => ({ ...filter, key: filterKey(filter), property: 'filter', value: filter.filter })),
    MOST_FILTERS,
  );
}

/** Of opacities that are equal, as of paints. */
function fadesToLookUp(samples: readonly Sample[]): readonly LookUp[] {
  return fewOfEach(
    fading(samples).map((fade) => ({ ...fade, key: fadeKey(fade), property: 'opacity', value: String(fade.opacity) })),
    MOST_FADES,
  );
}

/** @param most in all */
function fewOfEach(
  places: readonly (Pick<LookUp, 'key' | 'selector' | 'property'> & { readonly value: string })[],
  most: number,
): readonly LookUp[] {
  const alike = new Map<string, Set<string>>();
  const few = places.flatMap(({ key, selector, property, value }) => {
    const selectors = alike.get(value) ?? new Set();
    alike.set(value, selectors);
    if (selectors.has(selector) || selectors.size === MOST_ALIKE) return [];
    selectors.add(selector);
    return [{ key, selector, property, isStrict: false }];
  });
  return few.slice(0, most);
}

/** Those behind a text that falls short. */
function fading(samples: readonly Sample[]): readonly Fade[] {
  return samples.flatMap((sample) =>
    sample.kind === 'text' && sample.fade !== undefined && fallsShort(sample, 'AA') ? [sample.fade] : [],
  );
}

function fadeKey({ selector, opacity }: Fade): string {
  return `${selector}\nopacity ${String(opacity)}`;
}

function withFade(sample: Sample, known: ReadonlyMap<string, readonly WrittenPlace[]>): Sample {
  if (sample.kind !== 'text' || sample.fade === undefined) return sample;
  return { ...sample, fade: fadeWith(sample.fade, known.get(fadeKey(sample.fade)) ?? []) };
}

/** What an earlier look said goes. */
function fadeWith({ written: _, ...fade }: Fade, places: readonly WrittenPlace[]): Fade {
  return places.length === 0 ? fade : { ...fade, written: places };
}

/** Filters that turn a picture over: those alone need explaining. */
function turning(samples: readonly Sample[]): readonly PictureFilter[] {
  return samples.flatMap((sample) => (sample.kind === 'picture' ? sample.filters.filter(({ filter }) => TURNS.test(filter)) : []));
}

const TURNS = /\b(?:invert|hue-rotate)\(/u;

function filterKey({ selector, filter }: PictureFilter): string {
  return `${selector}\nfilter ${filter}`;
}

/** What an earlier look said goes. */
function withPlaces({ written: _, ...filter }: PictureFilter, places: readonly WrittenPlace[]): PictureFilter {
  return places.length === 0 ? filter : { ...filter, written: places };
}

function fallsShort(sample: Sample, level: ContrastLevel): boolean {
  if (sample.kind === 'text') {
    const isJudged = sample.exempt === null && sample.unread === undefined;
    return isJudged && sample.contrast.min < requiredContrast(sample.large, level);
  }
  if (sample.kind !== 'graphic' || sample.exempt !== null || sample.byBrowser === true) return false;
  return sample.contrast < LEAST_GRAPHIC_CONTRAST;
}

/** As a colour, or as numbers that come from properties of which none is known to be a colour. */
function isWrittenOut(sample: Sample): boolean {
  const origin = sample.kind === 'text' ? undefined : paintOf(sample)?.origin;
  return origin?.kind === 'literal' || (origin?.kind === 'derived' && origin.properties.length === 0);
}

/** Such surfaces may glare in another theme, be lost on what is around them, or be too hard a step there. */
function mayStand(sample: Sample): boolean {
  if (sample.kind !== 'surface') return false;
  if (sample.chroma > COLOURFUL || sample.role === 'control') return true;
  const step = Math.abs(sample.lightness - sample.aroundLightness);
  return sample.area >= LEAST_AREA && (step < FAINT || step > HARD);
}

/** Steps of L* below and above which a surface may be lost or too hard, and the share of the viewport it covers then (as separation has it). */
const FAINT = 3;
const HARD = 15;
const LEAST_AREA = 0.002;

/** OKLCH chroma from which a surface is plainly coloured (ours; neon asks for more). */
const COLOURFUL = 0.1;

function paintOf(sample: Sample): Paint | null {
  if (sample.kind === 'picture') return null;
  return sample.kind === 'text' ? sample.ink : sample.paint;
}

function writtenOf(sample: Sample | undefined): readonly WrittenPlace[] {
  return (sample === undefined ? null : paintOf(sample))?.written ?? [];
}

/** What an earlier look said goes. */
function withWritten(sample: Sample, places: readonly WrittenPlace[]): Sample {
  if (sample.kind === 'picture') return sample;
  if (places.length === 0 && writtenOf(sample).length === 0) return sample;
  const rewritten = ({ written: _, ...paint }: Paint): Paint => (places.length === 0 ? paint : { ...paint, written: places });
  return sample.kind === 'text' ? { ...sample, ink: rewritten(sample.ink) } : { ...sample, paint: rewritten(sample.paint) };
}

function placesOf(written: Written, page: string): readonly WrittenPlace[] {
  return written.map(({ property, value, rule, file, line, column }) => ({
    property,
    value,
    rule,
    ...(file === undefined ? {} : { file: fromRoot(file, page) }),
    ...(line === undefined ? {} : { line }),
    ...(column === undefined ? {} : { column }),
  }));
}

/** Ports and hosts change from run to run, paths do not. */
function fromRoot(file: string, page: string): string {
  const { origin } = new URL(page);
  return file.startsWith(`${origin}/`) ? file.slice(origin.length) : file;
}
