// Cases, paints and tables from a few facts: for tests that ask one step of triage alone.
import type { Opaque } from '../../src/colour/color.ts';
import { opaque } from '../../src/colour/color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Case, CaseLayer } from '../../src/triage/cases/case.ts';
import type { PaintRef } from '../../src/triage/cases/paint-ref.ts';
import type { TableIndex } from '../../src/triage/tokens/table-index.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import type { Definition, RampEntry, TokenEntry } from '../../src/triage/tokens/token-table.ts';

export const shown = (text: string): Opaque => opaque(parseColor(text));

export const written = (text: string, local?: string): PaintRef => ({
  ...{ kind: 'literal', color: parseColor(text) },
  ...(local === undefined ? {} : { local }),
});

export const token = (at: number, text: string, alpha = 1): PaintRef & { readonly kind: 'token' } => ({
  ...{ kind: 'token', token: at, alpha, color: parseColor(text), inferred: false },
});

export const layer = (ref: PaintRef, over: Partial<CaseLayer> = {}): CaseLayer => ({ ref, opacity: 1, blend: 'normal', ...over });

/** Black text on a white page, unless told otherwise. */
export function made(facts: Partial<Case> = {}): Case {
  return {
    ...{ id: 0, key: 'k', family: 'f', theme: 0, role: 'ink', fore: written('#000000'), foreOpacity: 1, share: 1 },
    ...{ back: [layer(written('#ffffff'))], foreFixed: false, backFixed: false, seenFore: shown('#000000'), filters: [] },
    ...{ isLifted: false, seenBacks: [shown('#ffffff')], required: 4.5, judged: true, exempt: new Set(), samples: 1 },
    facts: { kind: 'text', edged: false, standing: '' },
    ...{ elements: new Set(), grounds: new Set(), findings: new Map(), written: new Map(), faded: new Map(), wrote: [] },
    place: { view: { id: 'v', page: 'quay', theme: 'noon', state: 'rest', viewport: 'desk' }, sample: null },
    ...facts,
  };
}

/** Of each token one definition a theme: a colour, the path of another in braces, or nothing; `where` names what two themes share. */
export function tableOf(
  tokens: Readonly<Record<string, readonly (string | null)[]>>,
  more: { readonly ramps?: readonly RampEntry[]; readonly shared?: readonly string[]; readonly composite?: readonly string[] } = {},
): TableIndex {
  const { ramps = [], shared = [], composite = [] } = more;
  const definitionOf = (path: string, text: string | null, theme: number): Definition | null => {
    if (text === null) return null;
    const declared = { id: shared.includes(path) ? path : `${path} ${String(theme)}`, file: `${path}.json`, line: theme + 1 };
    return text.startsWith('{')
      ? { kind: 'alias', target: text.slice(1, -1), declared }
      : { kind: 'literal', color: parseColor(text), declared };
  };
  return indexTable({
    themes: [
      { name: 'noon', tone: 'light' },
      { name: 'dusk', tone: 'dark' },
    ],
    reference: 0,
    ramps,
    tokens: Object.entries(tokens).map(([path, values]): TokenEntry => ({
      path,
      properties: [`--${path.replaceAll('.', '-')}`],
      ...(composite.includes(path) ? { isComposite: true } : {}),
      definitions: values.map((text, theme) => definitionOf(path, text, theme)),
    })),
  });
}
