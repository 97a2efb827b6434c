// A made run in eight themes: ramps, tokens that point at them, pages that use the tokens, and faults planted in all three.
import type { Color } from '../src/colour/color.ts';
import { fromCodes, opaque } from '../src/colour/color.ts';
import { contrastRatio } from '../src/colour/contrast-ratio.ts';
import { toHex } from '../src/colour/format-color.ts';
import { parseColor } from '../src/colour/parse-color.ts';
import type { Finding } from '../src/samples/finding.ts';
import type { Paint } from '../src/samples/paint.ts';
import type { TextSample } from '../src/samples/sample.ts';
import type { ViewRef } from '../src/samples/view.ts';
import type { Definition, TokenEntry, TokenTable } from '../src/triage/tokens/token-table.ts';

const THEMES = 8;
const STEPS = 11;
export const TEXTS_A_VIEW = 250;
/** Every so many-th use writes out a grey. */
const LITERAL_EVERY = 150;

export interface MadeSystem {
  readonly ramps: number;
  readonly tokens: number;
  /** Every so many-th ink token points at a step too near its surfaces in one dark theme; 0: none. */
  readonly faultEvery: number;
  /** Every so many-th ramp has a step in one light theme that is far too light; 0: none. */
  readonly faultyRampEvery: number;
  /** Dark themes have steps of their own, lighter by so many codes; 0: one set of steps for all. */
  readonly ownSteps: number;
}

export const LARGE: MadeSystem = { ramps: 60, tokens: 5_000, faultEvery: 40, faultyRampEvery: 3, ownSteps: 0 };

export interface MadeRun {
  readonly table: TokenTable;
  /** Each page has its own choice of inks and surfaces, the same in every theme. */
  readonly viewAt: (at: number) => ViewRef;
  readonly samplesAt: (at: number) => readonly TextSample[];
  /** Of contrast. */
  readonly findings: () => readonly Finding[];
}

/** @param table other values and aliases than those of the system */
export function madeRun(system: MadeSystem, views: number, table = tableOf(system)): MadeRun {
  const sources = sourcesOf(table);
  const inks = table.tokens.flatMap(({ path }, at) => (path.startsWith('mark.') ? [at] : []));
  const faces = table.tokens.flatMap(({ path }, at) => (path.startsWith('face.') ? [at] : []));
  const pages = Math.ceil(views / THEMES);
  const viewAt = (at: number): ViewRef => {
    const [page, theme] = [`page${at % pages}`, `theme${Math.floor(at / pages)}`];
    return { id: `${page}@${theme}`, page, theme, state: 'rest', viewport: 'desk' };
  };
  const samplesAt = (at: number): readonly TextSample[] => textsOf(viewAt(at), at % pages, { sources, inks, faces });
  return {
    table,
    viewAt,
    samplesAt,
    findings: () =>
      Array.from({ length: views }, (_, at) =>
        samplesAt(at).flatMap((sample) => (sample.contrast.min < 4.5 ? [findingOf(viewAt(at), sample)] : [])),
      ).flat(),
  };
}

const isDark = (theme: number): boolean => theme % 2 === 1;
const stepPath = (ramp: number, position: number): string => `hue${ramp}.${position * 100}`;

function stepColor(ramp: number, position: number, lighter: number): Color {
  const grey = Math.round(250 - position * 22.5) + (position > 0 ? lighter : 0);
  const tint = (ramp % 5) - 2;
  const code = (v: number): number => Math.min(255, Math.max(0, v));
  return fromCodes(code(grey + tint * 4), grey, code(grey - tint * 3));
}

function tableOf({ ramps, tokens: most, faultEvery, faultyRampEvery, ownSteps }: MadeSystem): TokenTable {
  const tokens: TokenEntry[] = [];
  for (let ramp = 0; ramp < ramps; ramp += 1) {
    for (let position = 0; position < STEPS; position += 1) {
      const path = stepPath(ramp, position);
      const definitions = Array.from({ length: THEMES }, (_, theme): Definition => {
        const isFaulty = faultyRampEvery > 0 && ramp % faultyRampEvery === 0 && position === 8 && theme === 2;
        const isOwn = ownSteps > 0 && isDark(theme);
        const color = stepColor(ramp, isFaulty ? 4 : position, isOwn ? ownSteps : 0);
        return { kind: 'literal', color, declared: { id: isFaulty || isOwn ? `${theme} ${path}` : path } };
      });
      tokens.push({ path, properties: [`--${path.replace('.', '-')}`], definitions });
    }
  }
  // Half of the rest are surfaces near the light end, half inks near the dark end; dark themes turn over.
  for (let at = 0; tokens.length < most; at += 1) {
    const isInk = at % 2 === 1;
    const ramp = (at >> 1) % ramps;
    const position = isInk ? 8 + ((at >> 3) % 3) : (at >> 3) % 3;
    const path = `${isInk ? 'mark' : 'face'}.p${at}`;
    const definitions = Array.from({ length: THEMES }, (_, theme): Definition => {
      const isFaulty = isInk && faultEvery > 0 && (at >> 1) % faultEvery === 0 && theme === 1;
      const there = isFaulty ? 7 : isDark(theme) ? STEPS - 1 - position : position;
      return { kind: 'alias', target: stepPath(ramp, there), declared: { id: `${isDark(theme) ? theme : 'base'} ${path}` } };
    });
    tokens.push({ path, properties: [`--${path.replace('.', '-')}`], definitions });
  }
  return {
    themes: Array.from({ length: THEMES }, (_, theme) => ({ name: `theme${theme}`, tone: isDark(theme) ? 'dark' : 'light' })),
    reference: 0,
    tokens,
    ramps: Array.from({ length: ramps }, (_, ramp) => ({
      name: `hue${ramp}`,
      steps: Array.from({ length: STEPS }, (__, at) => stepPath(ramp, at)),
    })),
  };
}

interface Source {
  readonly paints: readonly Paint[];
  readonly colors: readonly string[];
}

/** What each token paints in each theme. */
function sourcesOf(table: TokenTable): readonly Source[] {
  const byPath = new Map(table.tokens.map((token) => [token.path, token]));
  const literal = (definition: Definition | null, theme: number): { readonly color: Color; readonly step: string | undefined } => {
    if (definition?.kind !== 'alias') return { color: definition?.color ?? fromCodes(0, 0, 0), step: undefined };
    const target = byPath.get(definition.target);
    return { color: literal(target?.definitions[theme] ?? null, theme).color, step: target?.properties[0] };
  };
  return table.tokens.map((token) => {
    const ends = token.definitions.map((definition, theme) => literal(definition, theme));
    return {
      colors: ends.map(({ color }) => toHex(color)),
      paints: ends.map(({ color, step }) => ({
        property: 'color',
        color: toHex(color),
        origin: { kind: 'token', property: token.properties[0] ?? '', alpha: 1, ...(step === undefined ? {} : { step }) },
      })),
    };
  });
}

interface Painted {
  readonly sources: readonly Source[];
  /** Places of tokens. */
  readonly inks: readonly number[];
  readonly faces: readonly number[];
}

function textsOf(view: ViewRef, page: number, { sources, inks, faces }: Painted): readonly TextSample[] {
  const theme = Number(view.theme.slice(5));
  return Array.from({ length: TEXTS_A_VIEW }, (_, at): TextSample => {
    const use = (page * 37 + at * 11) % 3_000;
    const ink = sources[inks[(use * 7) % inks.length] ?? 0];
    const face = sources[faces[(use * 3) % faces.length] ?? 0];
    const isLiteral = use % LITERAL_EVERY === 0;
    const color = isLiteral ? greyOf(use) : (ink?.colors[theme] ?? '#000000');
    const background = face?.colors[theme] ?? '#ffffff';
    const contrast = contrastOf(color, background);
    return {
      kind: 'text',
      view: view.id,
      selector: `main > p:nth-of-type(${at + 1})`,
      key: `p${at}`,
      rect: [0, at * 20, 200, 18],
      text: 'High water',
      color,
      background,
      backgroundSpread: [background],
      contrast: { min: contrast, max: contrast },
      fontSize: 16,
      fontWeight: 400,
      large: false,
      exempt: null,
      basis: 'computed',
      ink: isLiteral ? { property: 'color', color, origin: { kind: 'literal' } } : (ink?.paints[theme] ?? UNKNOWN),
      inkOpacity: 1,
      layers: [
        {
          selector: `main > section:nth-of-type(${(at % 12) + 1})`,
          kind: 'color',
          paint: face?.paints[theme] ?? UNKNOWN,
          opacity: 1,
        },
      ],
    };
  });
}

/** Reads neither on light nor on dark surfaces. */
function greyOf(use: number): string {
  return toHex(fromCodes(128, 128, 96 + ((use / LITERAL_EVERY) % 20) * 3));
}

const UNKNOWN: Paint = { property: 'color', color: '#000000', origin: { kind: 'unknown', why: 'not traced' } };

const contrasts = new Map<string, number>();

function contrastOf(color: string, background: string): number {
  const key = color + background;
  let known = contrasts.get(key);
  if (known === undefined) {
    known = contrastRatio({ ink: opaque(parseColor(color)), background: opaque(parseColor(background)) });
    contrasts.set(key, known);
  }
  return known;
}

function findingOf(view: ViewRef, sample: TextSample): Finding {
  return {
    id: `${view.id} ${sample.key}`,
    check: 'text-contrast',
    level: 'error',
    key: sample.key,
    selector: sample.selector,
    rect: sample.rect,
    message: '',
    measured: {},
    expected: {},
    view: view.id,
    page: view.page,
    theme: view.theme,
    state: view.state,
    viewport: view.viewport,
    since: 'one',
    status: 'new',
    cause: null,
  };
}
