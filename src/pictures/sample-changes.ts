// The samples of the accepted and of the current capture → what changed at which place. Pixels play no part here yet.
import type { Change } from '../samples/difference.ts';
import type { PageProperty } from '../samples/captured-view.ts';
import type { Layer, Origin, Paint } from '../samples/paint.ts';
import type { Sample } from '../samples/sample.ts';
import type { Rect } from '../samples/view.ts';

export interface Capture {
  readonly samples: readonly Sample[];
  readonly properties: readonly PageProperty[];
}

/** Colours as seen that a recoloured place shows: its own over each of those around it. */
export interface SeenColors {
  readonly own: string;
  readonly around: readonly string[];
}

export interface SeenChange {
  readonly accepted: SeenColors;
  readonly current: SeenColors;
  /** Whether the place's own colour changed or one that lies beneath it. */
  readonly part: 'own' | 'beneath';
}

/** A change at one place. A rect is null on the side where the place is not. CSS px. */
export interface PlacedChange {
  readonly change: Change;
  /** Where its colour comes from is not known: whoever knows better goes first. */
  readonly untraced?: true;
  readonly key: string;
  readonly selector: string;
  readonly accepted: Rect | null;
  readonly current: Rect | null;
  /** Of a recoloured place with flat colours: pixels that show something else are not its doing. */
  readonly seen?: SeenChange;
}

/** Less than this is rounding of the layout engine, CSS px. */
const LEAST_MOVE = 0.5;

/** @param shift how far the row at `y` of the accepted page (CSS px) was pushed down by rows that came in or went */
export function sampleChanges(accepted: Capture, current: Capture, shift: (y: number) => number): readonly PlacedChange[] {
  const tokens = tokenChanges(accepted.properties, current.properties);
  const changes: PlacedChange[] = [];
  const { pairs, gone, come } = samePlaces(accepted.samples, current.samples);
  for (const [before, now] of pairs) changes.push(...changesOf(before, now, shift, tokens));
  for (const before of gone) changes.push({ ...nameOf(before), change: { kind: 'removed' }, accepted: before.rect, current: null });
  for (const now of come) changes.push({ ...nameOf(now), change: { kind: 'added' }, accepted: null, current: now.rect });
  return changes;
}

interface Places {
  readonly pairs: readonly (readonly [before: Sample, now: Sample])[];
  readonly gone: readonly Sample[];
  readonly come: readonly Sample[];
}

/** By key; what is left over by selector, since a key may hold words of the page, and words change. */
function samePlaces(before: readonly Sample[], now: readonly Sample[]): Places {
  const pairs: (readonly [Sample, Sample])[] = [];
  let [left, right] = [before, now];
  for (const nameOfPlace of [(sample: Sample) => sample.key, (sample: Sample) => sample.selector]) {
    const places = new Map(right.map((sample) => [`${sample.kind} ${nameOfPlace(sample)}`, sample]));
    const rest: Sample[] = [];
    const met = new Set<Sample>();
    for (const sample of left) {
      const other = places.get(`${sample.kind} ${nameOfPlace(sample)}`);
      if (other === undefined || met.has(other)) rest.push(sample);
      else {
        pairs.push([sample, other]);
        met.add(other);
      }
    }
    left = rest;
    right = right.filter((sample) => !met.has(sample));
  }
  return { pairs, gone: left, come: right };
}

const nameOf = ({ key, selector }: Sample): { readonly key: string; readonly selector: string } => ({ key, selector });

function changesOf(before: Sample, now: Sample, shift: (y: number) => number, tokens: TokenChanges): readonly PlacedChange[] {
  const place = { ...nameOf(now), accepted: before.rect, current: now.rect };
  const changes: PlacedChange[] = [];
  const wording = before.kind === 'text' && now.kind === 'text' && before.text !== now.text;
  if (wording) changes.push({ ...place, change: { kind: 'text', from: before.text, to: now.text } });
  const move = moveOf(before.rect, now.rect, shift);
  // Other words take other room: that alone is no move.
  if (move !== null && !(wording && move.by[0] === 0 && move.by[1] === 0))
    changes.push({ ...place, change: { kind: 'moved', ...move } });
  const seen = seenIn(before, now);
  const earlier = new Map(paintsOf(before).map((placed) => [placed.where, placed.paint]));
  for (const { where, paint } of paintsOf(now)) {
    const paintBefore = earlier.get(where);
    const change = paintBefore === undefined ? null : paintChange(paintBefore, paint, tokens);
    if (change === null) continue;
    const part = where.startsWith('own ') ? 'own' : 'beneath';
    const untraced = paint.origin.kind === 'unknown' && change.kind === 'recoloured';
    changes.push({
      ...{ ...place, change },
      ...(untraced ? { untraced } : {}),
      ...(seen === null ? {} : { seen: { ...seen, part } }),
    });
  }
  if (before.kind === 'picture') changes.push({ ...place, change: { kind: 'picture' } });
  return changes;
}

function moveOf(
  before: Rect,
  now: Rect,
  shift: (y: number) => number,
): { readonly by: readonly [number, number]; readonly grew: readonly [number, number] } | null {
  const round = (length: number): number => (Math.abs(length) < LEAST_MOVE ? 0 : Math.round(length * 2) / 2);
  // What rows that came in push down has not moved by itself, nor has what stands around them grown; and what stayed in spite of them
  // (a fixed header) has stayed.
  const without = (length: number, pushed: number): number => {
    const own = round(length) === 0 ? 0 : round(length - pushed);
    // Rows are whole and boxes are not: pushed down by 46.5 px, a box lies half a px beside rows that came down by 46. That is one
    // push, told as such.
    return Math.abs(own) < 1 && own !== 0 ? round(length) : own;
  };
  const [down, downBelow] = [shift(before[1]), shift(before[1] + before[3])];
  const by = [round(now[0] - before[0]), without(now[1] - before[1], down)] as const;
  const grew = [round(now[2] - before[2]), without(now[3] - before[3], downBelow - down)] as const;
  return [...by, ...grew].every((length) => length === 0) ? null : { by, grew };
}

interface PlacedPaint {
  /** Tells a paint of the place apart from the others, in both captures alike. */
  readonly where: string;
  readonly paint: Paint;
}

/** All paints that show at a place, its own first. */
function paintsOf(sample: Sample): readonly PlacedPaint[] {
  switch (sample.kind) {
    case 'text':
      return [own(sample.ink), ...layerPaints(sample.layers)];
    case 'surface':
    case 'graphic':
      return [own(sample.paint), ...layerPaints(sample.layers)];
    case 'shadow':
      return [own(sample.paint)];
    case 'picture':
      return [];
  }
}

const own = (paint: Paint): PlacedPaint => ({ where: `own ${paint.property}`, paint });

function layerPaints(layers: readonly Layer[]): readonly PlacedPaint[] {
  return layers.flatMap(({ selector, paint }) =>
    paint === undefined ? [] : [{ where: `beneath ${paint.property} ${selector ?? ''}`, paint }],
  );
}

/** Null where flat colours do not tell: gradients and pictures behind or in the place. */
function seenIn(before: Sample, now: Sample): Omit<SeenChange, 'part'> | null {
  const [accepted, current] = [seenColors(before), seenColors(now)];
  return accepted === null || current === null ? null : { accepted, current };
}

function seenColors(sample: Sample): SeenColors | null {
  switch (sample.kind) {
    case 'text':
      if (sample.layers.some((layer) => layer.kind !== 'color')) return null;
      return { own: sample.color, around: [sample.background, ...sample.backgroundSpread] };
    case 'surface':
      return sample.fill === 'flat' ? { own: sample.color, around: [sample.around] } : null;
    case 'graphic':
      return { own: sample.color, around: [sample.against] };
    case 'shadow':
      return { own: sample.color, around: [sample.beneath] };
    case 'picture':
      return null;
  }
}

/** Custom property → its value before and now, where these differ. */
type TokenChanges = ReadonlyMap<string, { readonly from: string; readonly to: string }>;

export function tokenChanges(before: readonly PageProperty[], now: readonly PageProperty[]): TokenChanges {
  const earlier = new Map(before.map((property) => [`${property.at} ${property.name}`, property.value.trim()]));
  const changes = new Map<string, { readonly from: string; readonly to: string }>();
  for (const { at, name, value } of now) {
    const from = earlier.get(`${at} ${name}`);
    if (from !== undefined && from !== value.trim()) changes.set(name, { from, to: value.trim() });
  }
  return changes;
}

function paintChange(before: Paint, now: Paint, tokens: TokenChanges): Change | null {
  const { property } = now;
  if (before.color === now.color) return null;
  const token = sameToken(before.origin, now.origin, tokens);
  if (token !== undefined) {
    const values = token === null ? undefined : tokens.get(token);
    const { from, to } = values ?? { from: before.color, to: now.color };
    return { kind: 'recoloured', token, property, from, to };
  }
  return { kind: 'rewired', property, from: originWords(before), to: originWords(now) };
}

/** The custom property behind both paints that is nearest to the ramp and changed; null for literals; undefined for other origins. */
function sameToken(before: Origin, now: Origin, tokens: TokenChanges): string | null | undefined {
  if (before.kind === 'token' && now.kind === 'token') {
    if (before.property !== now.property) return undefined;
    // The property points at another step now: then it is the property that changed, whatever became of the steps.
    if (before.step !== now.step || now.step === undefined) return now.property;
    return tokens.has(now.step) || !tokens.has(now.property) ? now.step : now.property;
  }
  if (before.kind === 'derived' && now.kind === 'derived') {
    const shared = now.properties.filter((property) => before.properties.includes(property));
    return shared.find((property) => tokens.has(property)) ?? shared[0];
  }
  if (before.kind === 'inferred' && now.kind === 'inferred') return before.token === now.token ? now.token : undefined;
  return before.kind === now.kind ? null : undefined;
}

function originWords({ origin, color }: Paint): string {
  switch (origin.kind) {
    case 'token':
      return origin.property;
    case 'derived':
      return origin.properties.length === 0 ? color : origin.properties.join(' + ');
    case 'inferred':
      return origin.token;
    case 'literal':
    case 'system':
    case 'unknown':
      return color;
  }
}
