// A stored run → what it knows of the lines that literals are written on: the surface they lie on, and what their cause proposes.
import type { Standard } from '../checks/verdict-on-sample.ts';
import { verdictOnSample } from '../checks/verdict-on-sample.ts';
import type { WrittenFacts } from '../literals/suggest.ts';
import type { Cause, ChainLink } from '../samples/finding.ts';
import { namesInUse } from '../samples/name-chain.ts';
import type { Paint } from '../samples/paint.ts';
import type { Sample } from '../samples/sample.ts';
import type { ViewRef } from '../samples/view.ts';

export interface WrittenBook {
  readonly add: (view: ViewRef, samples: Iterable<Sample>) => void;
  /** @param color of the literal, CSS text @param file path of a source file; style sheets are known by their path from the root of the app */
  readonly factsAt: (file: string, line: number, color: string) => WrittenFacts | undefined;
}

interface Line {
  readonly file: string;
  /** Tokens of what lies beneath; null where it is none. */
  readonly surfaces: Set<string | null>;
  required: number;
}

/** @param tokensOf custom property → its tokens @param standard what the run judged by */
export function openWrittenFacts(
  causes: readonly Cause[],
  tokensOf: ReadonlyMap<string, readonly string[]>,
  standard: Standard,
): WrittenBook {
  const lines = new Map<number, Line[]>();
  const told = toldBy(causes);

  return {
    add: (view, samples) => {
      for (const sample of samples) {
        if (sample.kind !== 'text' && sample.kind !== 'graphic') continue;
        const paint = sample.kind === 'text' ? sample.ink : sample.paint;
        const place = paint.origin.kind === 'literal' ? paint.written?.at(-1) : undefined;
        if (place?.file === undefined || place.line === undefined) continue;
        const line = lineAt(place.file, place.line);
        line.surfaces.add(surfaceOf(sample.layers.at(-1)?.paint));
        line.required = Math.max(line.required, verdictOnSample(sample, view, standard).required ?? 0);
      }
    },
    factsAt: (file, line, color) => {
      const met = (lines.get(line) ?? []).find((each) => isSameFile(file, each.file));
      // Several literals of a line may have causes: which is meant is told by its colour.
      const causes = (told.get(line) ?? []).filter((each) => isSameFile(file, each.file));
      const cause = causes.find(({ told: { from } }) => from === color) ?? causes[0];
      if (met === undefined && cause === undefined) return undefined;
      const [surface, more] = [...(met?.surfaces ?? [])];
      return {
        ...(surface === undefined || surface === null || more !== undefined ? {} : { surface }),
        ...(met === undefined || met.required === 0 ? {} : { required: met.required }),
        ...(cause === undefined ? {} : { told: cause.told }),
      };
    },
  };

  function lineAt(file: string, line: number): Line {
    const here = lines.get(line) ?? [];
    lines.set(line, here);
    const known = here.find((each) => each.file === file);
    if (known !== undefined) return known;
    const fresh: Line = { file, surfaces: new Set(), required: 0 };
    here.push(fresh);
    return fresh;
  }

  function surfaceOf(paint: Paint | undefined): string | null {
    return paint?.origin.kind === 'token'
      ? (namesInUse(paint.origin).flatMap((name) => tokensOf.get(name) ?? [])[0] ?? null)
      : null;
  }
}

interface ToldAt {
  readonly file: string;
  readonly told: NonNullable<WrittenFacts['told']>;
}

/** Causes that lie in how a place uses colours: the literal at the end of their chain, and what should stand there. */
function toldBy(causes: readonly Cause[]): ReadonlyMap<number, readonly ToldAt[]> {
  const told = new Map<number, ToldAt[]>();
  for (const cause of causes) {
    const place = cause.chain.findLast(({ file, line }) => file !== undefined && line !== undefined);
    if (place?.file === undefined || place.line === undefined) continue;
    const said = saidBy(cause, place);
    if (said === null) continue;
    const here = told.get(place.line) ?? [];
    told.set(place.line, here);
    here.push({ file: place.file, told: said });
  }
  return told;
}

function saidBy({ id, layer, repair }: Cause, place: ChainLink): ToldAt['told'] | null {
  if (repair === undefined || (layer !== 'usage' && layer !== 'gap')) return null;
  const by = `cause ${id} of the last run`;
  switch (repair.change) {
    case 'use':
      return { token: repair.to, by: `${by} says so`, from: repair.from };
    case 'add':
      return { token: null, by: `${by} says so`, from: repair.from };
    case 'style': {
      // A shadow that should go; what else a style changes is no colour that is written there.
      const { property, to } = repair.style;
      if (to !== 'none' || place.property !== property || place.value === repair.style.from) return null;
      return { token: null, by: `${by} takes it away`, from: place.value, without: `${property}: ${to}` };
    }
    case 'value':
    case 'alias':
    case 'rebuild':
      return null;
  }
}

/** `site/styles/app.css` and `/styles/app.css` are one: the app is served from a folder of the sources. */
function isSameFile(source: string, served: string): boolean {
  const path = served.replace(/^\/+/, '').replace(/[?#].*$/, '');
  const own = source.replace(/\\/g, '/').replace(/^\.\//, '');
  return own === path || own.endsWith(`/${path}`) || path.endsWith(`/${own}`);
}
