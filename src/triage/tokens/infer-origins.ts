// Apps whose build writes tokens out as literals have no properties to trace. There a colour is matched by what it is in all themes
// together: the tuple of its colours mostly fits one token only. Such links are marked as inferred; what fits none is a literal.
import type { Color } from '../../colour/color.ts';
import { toCssText } from '../../colour/format-color.ts';
import { findColor } from '../../colour/parse-color.ts';
import type { Layer, Paint } from '../../samples/paint.ts';
import type { Sample } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';
import type { ServedProperty } from './build-faults.ts';
import type { TableIndex } from './table-index.ts';

export interface Inference {
  /** First all samples of the run, in any order … */
  add(view: ViewRef, samples: Iterable<Sample>): void;
  /** … then each again: the same samples with literals turned into inferred tokens. */
  apply(view: ViewRef, samples: readonly Sample[]): readonly Sample[];
}

/** True when the token files name properties and the pages serve none of them. */
export function isBaked(index: TableIndex, served: Iterable<ServedProperty>): boolean {
  if (index.table.tokens.every((token) => token.properties.length === 0)) return false;
  for (const { name } of served) if (index.tokenOfProperty(name) >= 0) return false;
  return true;
}

export function openInference(index: TableIndex): Inference {
  const byColor = index.table.themes.map((_, theme) => tokensByColor(index, theme));
  /** Tokens that still fit a place, as one list for each distinct set. */
  const fitting = new Map<string, readonly number[]>();
  const texts = new Map<string, string | null>();
  const norm = (text: string): string | null => {
    let found = texts.get(text);
    if (found === undefined) {
      const color = findColor(text);
      texts.set(text, (found = color === null ? null : toCssText(color)));
    }
    return found;
  };
  const NONE: readonly number[] = [];

  return {
    add: (view, samples) => {
      const here = byColor[index.themeAt(view.theme)];
      if (here === undefined) return;
      for (const sample of samples) {
        for (const [place, paint] of paintsOf(view, sample)) {
          if (paint.origin.kind !== 'literal') continue;
          const color = norm(paint.color);
          const now = color === null ? NONE : (here.get(color) ?? NONE);
          const before = fitting.get(place);
          fitting.set(place, before === undefined ? now : before.filter((token) => now.includes(token)));
        }
      }
    },
    apply: (view, samples) => samples.map((sample) => inferred(index, fitting, view, sample)),
  };
}

/** Tokens by their 8-bit colour, roles before the steps they point at. */
function tokensByColor(index: TableIndex, theme: number): ReadonlyMap<string, readonly number[]> {
  const found = new Map<string, number[]>();
  index.table.tokens.forEach((_, token) => {
    const color: Color | null = index.colorOf(theme, token);
    if (color === null) return;
    const text = toCssText(color);
    const known = found.get(text);
    if (known === undefined) found.set(text, [token]);
    else known.push(token);
  });
  const rank = (token: number): number => (index.stepOf(token) === null ? 0 : 1);
  for (const list of found.values()) list.sort((one, other) => rank(one) - rank(other) || one - other);
  return found;
}

function inferred(index: TableIndex, fitting: ReadonlyMap<string, readonly number[]>, view: ViewRef, sample: Sample): Sample {
  if (sample.kind === 'picture') return sample;
  const turn = (paint: Paint, slot: string): Paint => {
    if (paint.origin.kind !== 'literal') return paint;
    const [token] = fitting.get(slotKey(view, sample, slot)) ?? [];
    return token === undefined ? paint : { ...paint, origin: { kind: 'inferred', token: index.pathOf(token) } };
  };
  const turnLayer = (layer: Layer): Layer =>
    layer.paint === undefined ? layer : { ...layer, paint: turn(layer.paint, slotOf(layer)) };
  switch (sample.kind) {
    case 'text':
      return { ...sample, ink: turn(sample.ink, 'own'), layers: sample.layers.map(turnLayer) };
    case 'surface':
    case 'graphic':
      return { ...sample, paint: turn(sample.paint, 'own'), layers: sample.layers.map(turnLayer) };
    case 'shadow':
      return { ...sample, paint: turn(sample.paint, 'own') };
  }
}

function* paintsOf(view: ViewRef, sample: Sample): Generator<readonly [place: string, paint: Paint]> {
  if (sample.kind === 'picture') return;
  yield [slotKey(view, sample, 'own'), sample.kind === 'text' ? sample.ink : sample.paint];
  if (sample.kind === 'shadow') return;
  for (const layer of sample.layers) if (layer.paint !== undefined) yield [slotKey(view, sample, slotOf(layer)), layer.paint];
}

/** A surface is one place for all that lies on it. */
function slotOf(layer: Layer): string {
  return `on ${layer.selector ?? ''}`;
}

function slotKey(view: ViewRef, sample: Sample, slot: string): string {
  const place = slot === 'own' ? `${sample.kind} ${sample.key}` : slot;
  return `${view.page}\n${view.state}\n${view.viewport}\n${place}`;
}
