// The samples of one view → the same samples under other token values, by the sums of triage. Where those cannot tell (a surface's
// surroundings, a gradient, what lies under a picture), what looked the same in the same view and is known decides; else it stays as it was.
import type { Color, Opaque } from '../colour/color.ts';
import { opaque, TRANSPARENT } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import { findColor } from '../colour/parse-color.ts';
import type { Layer, Paint } from '../samples/paint.ts';
import type { Sample, SurfaceSample } from '../samples/sample.ts';
import type { Case, CaseFilter } from '../triage/cases/case.ts';
import type { PaintReader } from '../triage/cases/paint-ref.ts';
import { readLayers } from '../triage/cases/read-layers.ts';
import type { Painted } from '../triage/cases/read-sample.ts';
import { isPainted, readSample } from '../triage/cases/read-sample.ts';
import { recolor } from '../triage/recolor/recolor.ts';
import { recoloredSample } from '../triage/recolor/recolored-sample.ts';
import { settleCase } from '../triage/cases/settle-case.ts';
import type { TokenMoves } from '../triage/recolor/token-recoloring.ts';
import { refUnder, slotUnder } from '../triage/recolor/token-recoloring.ts';
import { openLikeness } from './likeness.ts';
import type { Likeness } from './likeness.ts';
import type { Unforetold } from './unforetold.ts';

export interface Recoloring {
  /** Of the table that `readPaint` and `moves` number by. */
  readonly theme: number;
  readonly readPaint: PaintReader;
  readonly moves: TokenMoves;
  /** Over the whole page, innermost first. */
  readonly filters: readonly CaseFilter[];
}

/** What became of one sample. */
export type Fate =
  | { readonly kind: 'same' }
  | { readonly kind: 'foretold'; readonly by: 'sums' | 'likeness' }
  | { readonly kind: 'untold'; readonly why: Unforetold };

export interface RecoloredView {
  /** In the order they came in. */
  readonly samples: readonly Sample[];
  readonly fates: readonly Fate[];
}

type Own = Pick<
  Case,
  | 'theme'
  | 'fore'
  | 'foreOpacity'
  | 'facts'
  | 'share'
  | 'back'
  | 'filters'
  | 'isLifted'
  | 'foreFixed'
  | 'backFixed'
  | 'seenFore'
  | 'seenBacks'
>;

interface Read {
  readonly sample: Painted;
  readonly own: Own;
  /** Null layers: a picture, a gradient, or something unread. */
  readonly isLayered: boolean;
}

export function recolorView(samples: readonly Sample[], by: Recoloring): RecoloredView {
  const reads = samples.map((sample) => (isPainted(sample) ? readOne(sample, by) : null));
  const like = openLikeness();
  for (const read of reads) if (read !== null) learn(like, read, by);
  const made = samples.map((sample, at): { readonly sample: Sample; readonly fate: Fate } => {
    const read = reads[at] ?? null;
    return read === null ? { sample, fate: { kind: 'same' } } : recolorOne(read, by, like);
  });
  return { samples: settleSurroundings(made, like), fates: made.map(({ fate }) => fate) };
}

function readOne(sample: Painted, { theme, readPaint, filters }: Recoloring): Read {
  const reading = readSample(sample, { level: 'AA', judges: [], exempt: '' });
  const { ref: fore } = readPaint(theme, reading.paint);
  const back = reading.layers === null ? null : readLayers(theme, reading.layers, readPaint);
  const isShadow = reading.facts.kind === 'shadow';
  const painting = { fore, foreOpacity: reading.opacity, back: back?.layers ?? null, isShadow };
  const settled = settleCase(painting, { fore: colorIn(reading.seenFore), backs: reading.seenBacks.map(colorIn) }, filters);
  return {
    sample,
    own: { ...settled, theme, fore, foreOpacity: reading.opacity, facts: reading.facts },
    isLayered: isShadow || (back !== null && back.layers.length > 0),
  };
}

/** What is certain tells what becomes of a colour in this view. */
function learn(like: Likeness, { sample, own }: Read, by: Recoloring): void {
  if (own.foreFixed || own.backFixed) return;
  const pair = pairUnder(own, by);
  if (pair === null) return;
  const reading = readSample(sample, { level: 'AA', judges: [], exempt: '' });
  if (sample.kind !== 'shadow') like.learn(reading.seenFore, pair.fore);
  const [back] = reading.seenBacks;
  if (back !== undefined) like.learn(back, pair.back);
}

function pairUnder(own: Own, { moves }: Recoloring): { readonly fore: Opaque; readonly back: Opaque } | null {
  const after = recolor(whole(own), { touched: [], colorOf: (one, at) => slotUnder(moves, one, at) });
  if (after.kind === 'unsure') return null;
  const [back] = own.seenBacks;
  if (after.kind === 'pairs') return after.pairs[0] ?? null;
  return back === undefined ? null : { fore: own.seenFore, back };
}

function recolorOne(read: Read, by: Recoloring, like: Likeness): { readonly sample: Sample; readonly fate: Fate } {
  const { own } = read;
  const { moves } = by;
  const colorOf = (one: Case, at: number): Color | null | undefined => slotUnder(moves, one, at);
  if (!own.backFixed) {
    const after = recolor(whole(own), { touched: [], colorOf });
    if (after.kind === 'same') return { sample: read.sample, fate: { kind: 'same' } };
    if (after.kind === 'pairs') return made(read, by, after.pairs, 'sums');
  }
  return byLikeness(read, by, like);
}

/** The colours seen are looked up: elsewhere in the view it is known what became of them. */
function byLikeness(read: Read, by: Recoloring, like: Likeness): { readonly sample: Sample; readonly fate: Fate } {
  const { own, sample } = read;
  const { theme, moves } = by;
  const reading = readSample(sample, { level: 'AA', judges: [], exempt: '' });
  const fore = refUnder(moves, theme, own.fore);
  const backMoves = own.back.some((layer) => refUnder(moves, theme, layer.ref) !== undefined);
  const backs = reading.seenBacks.map((text) => like.find(text));
  const known = backs.every((back) => back !== undefined);
  const backsNow = backs.map((back, at) => back ?? own.seenBacks[at] ?? own.seenFore);
  const backsStay = backs.every((back, at) => back === undefined || sameText(back, reading.seenBacks[at] ?? ''));
  if (fore === undefined && !backMoves && backsStay) return { sample, fate: { kind: 'same' } };
  const untold = (why: Unforetold): { readonly sample: Sample; readonly fate: Fate } => ({ sample, fate: { kind: 'untold', why } });
  if (!known && backMoves) return untold(read.isLayered ? 'ground' : 'picture');
  const through = { ...whole(own), seenBacks: backsNow, back: [], backFixed: true };
  const after = recolor(through, { touched: [], colorOf: (one, at) => (at === -1 ? slotUnder(moves, one, at) : undefined) });
  if (after.kind === 'pairs') return made(read, by, after.pairs, 'likeness');
  if (after.kind === 'same')
    return made(
      read,
      by,
      backsNow.map((back) => ({ fore: own.seenFore, back })),
      'likeness',
    );
  const drawn = like.find(reading.seenFore);
  if (drawn === undefined) return untold(own.fore.kind === 'derived' ? 'mixed' : 'drawn');
  return made(
    read,
    by,
    backsNow.map((back) => ({ fore: drawn, back })),
    'likeness',
  );
}

function made(
  { sample, own }: Read,
  by: Recoloring,
  pairs: readonly { readonly fore: Opaque; readonly back: Opaque }[],
  how: 'sums' | 'likeness',
): { readonly sample: Sample; readonly fate: Fate } {
  const recolored = recoloredSample(own.seenFore, sample, { pairs }, 1) ?? sample;
  return { sample: paintedAnew(recolored, by), fate: { kind: 'foretold', by: how } };
}

/** Edges, dominant colours and surroundings have no paint of their own. */
function settleSurroundings(made: readonly { readonly sample: Sample }[], like: Likeness): readonly Sample[] {
  const textOf = (text: string): string => {
    const then = like.find(text);
    return then === undefined ? text : toCssText(then);
  };
  return made.map(({ sample }) => {
    if (sample.kind !== 'surface') return sample;
    const edge: Pick<SurfaceSample, 'edge'> =
      sample.edge === undefined ? {} : { edge: { ...sample.edge, color: textOf(sample.edge.color) } };
    const palette: Pick<SurfaceSample, 'palette'> =
      sample.palette === undefined ? {} : { palette: sample.palette.map((each) => ({ ...each, color: textOf(each.color) })) };
    return { ...sample, ...edge, ...palette };
  });
}

/** Its declared colours follow too, so that triage finds again what painted it. */
function paintedAnew(sample: Sample, by: Recoloring): Sample {
  switch (sample.kind) {
    case 'text':
      return { ...sample, ink: paintAnew(sample.ink, by), layers: layersAnew(sample.layers, by) };
    case 'graphic':
    case 'surface':
      return { ...sample, paint: paintAnew(sample.paint, by), layers: layersAnew(sample.layers, by) };
    case 'shadow':
      return { ...sample, paint: paintAnew(sample.paint, by) };
    case 'picture':
      return sample;
  }
}

function layersAnew(layers: readonly Layer[], by: Recoloring): readonly Layer[] {
  return layers.map((layer) => (layer.paint === undefined ? layer : { ...layer, paint: paintAnew(layer.paint, by) }));
}

function paintAnew(paint: Paint, { theme, readPaint, moves }: Recoloring): Paint {
  const then = refUnder(moves, theme, readPaint(theme, paint).ref);
  return then === undefined || then === null ? paint : { ...paint, color: toCssText(then) };
}

function colorIn(text: string): Opaque {
  return opaque(findColor(text) ?? TRANSPARENT);
}

function sameText(color: Opaque, text: string): boolean {
  return toCssText(color) === text;
}

/** A case of one sample: what it is told by among others does not matter here. */
function whole(own: Own): Case {
  return {
    ...own,
    id: 0,
    key: '',
    family: '',
    role: 'ink',
    required: 0,
    judged: true,
    exempt: NONE,
    elements: NONE,
    grounds: NONE,
    samples: 1,
    findings: NO_FINDINGS,
    written: NO_WRITTEN,
    faded: NO_FADES,
    wrote: [],
    place: NOWHERE,
  };
}

const NONE: ReadonlySet<never> = new Set<never>();
const NO_FINDINGS: Case['findings'] = new Map();
const NO_WRITTEN: Case['written'] = new Map();
const NO_FADES: Case['faded'] = new Map();
const NOWHERE: Case['place'] = { view: { id: '', page: '', theme: '', state: '', viewport: '' }, sample: null };
