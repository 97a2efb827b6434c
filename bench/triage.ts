// Triage of a large run: samples → cases → causes, at growing sizes. Prints seconds, memory and the ratios between sizes; the aim is
// 1,000,000 samples × 5,000 tokens × 8 themes in 20 s and 1 GB, growing about linearly.
import { ALL_CHECKS } from '../src/checks/table.ts';
import type { Color } from '../src/colour/color.ts';
import { fromCodes, opaque } from '../src/colour/color.ts';
import { contrastRatio } from '../src/colour/contrast-ratio.ts';
import { toHex } from '../src/colour/format-color.ts';
import { parseColor } from '../src/colour/parse-color.ts';
import type { CheckId, Finding } from '../src/samples/finding.ts';
import type { Paint } from '../src/samples/paint.ts';
import type { TextSample } from '../src/samples/sample.ts';
import type { ViewRef } from '../src/samples/view.ts';
import { openTriage } from '../src/triage/open-triage.ts';
import type { Definition, TokenEntry, TokenTable } from '../src/triage/tokens/token-table.ts';
import type { ActiveCheck } from '../src/triage/world.ts';

const THEMES = 8;
const RAMPS = 60;
const STEPS = 11;
const TOKENS = 5_000;
const TEXTS_A_VIEW = 250;
/** Every so many-th ink token points at a step too near its surfaces in one dark theme. */
const FAULT_EVERY = 40;
/** Every so many-th ramp has a step in one light theme that is far too light. */
const FAULTY_RAMP_EVERY = 3;
/** Every so many-th use writes out a grey. */
const LITERAL_EVERY = 150;

const isDark = (theme: number): boolean => theme % 2 === 1;
const stepPath = (ramp: number, position: number): string => `hue${ramp}.${position * 100}`;

function stepColor(ramp: number, position: number): Color {
  const grey = Math.round(250 - position * 22.5);
  const tint = (ramp % 5) - 2;
  const code = (v: number): number => Math.min(255, Math.max(0, v));
  return fromCodes(code(grey + tint * 4), grey, code(grey - tint * 3));
}

function tableOf(): TokenTable {
  const tokens: TokenEntry[] = [];
  for (let ramp = 0; ramp < RAMPS; ramp += 1) {
    for (let position = 0; position < STEPS; position += 1) {
      const path = stepPath(ramp, position);
      const definitions = Array.from({ length: THEMES }, (_, theme): Definition => {
        const isFaulty = ramp % FAULTY_RAMP_EVERY === 0 && position === 8 && theme === 2;
        const color = stepColor(ramp, isFaulty ? 4 : position);
        return { kind: 'literal', color, declared: { id: isFaulty ? `${theme} ${path}` : path } };
      });
      tokens.push({ path, properties: [`--${path.replace('.', '-')}`], definitions });
    }
  }
  // Half of the rest are surfaces near the light end, half inks near the dark end; dark themes turn over.
  for (let at = 0; tokens.length < TOKENS; at += 1) {
    const isInk = at % 2 === 1;
    const ramp = (at >> 1) % RAMPS;
    const position = isInk ? 8 + ((at >> 3) % 3) : (at >> 3) % 3;
    const path = `${isInk ? 'mark' : 'face'}.p${at}`;
    const definitions = Array.from({ length: THEMES }, (_, theme): Definition => {
      const isFaulty = isInk && (at >> 1) % FAULT_EVERY === 0 && theme === 1;
      const there = isFaulty ? 7 : isDark(theme) ? STEPS - 1 - position : position;
      return { kind: 'alias', target: stepPath(ramp, there), declared: { id: `${isDark(theme) ? theme : 'base'} ${path}` } };
    });
    tokens.push({ path, properties: [`--${path.replace('.', '-')}`], definitions });
  }
  return {
    themes: Array.from({ length: THEMES }, (_, theme) => ({ name: `theme${theme}`, tone: isDark(theme) ? 'dark' : 'light' })),
    reference: 0,
    tokens,
    ramps: Array.from({ length: RAMPS }, (_, ramp) => ({
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

interface Measured {
  readonly samples: number;
  readonly findings: number;
  readonly cases: number;
  readonly causes: number;
  readonly addMs: number;
  readonly closeMs: number;
  readonly heapMb: number;
  /** Of the process, while it added and closed: steadier than the clock on a shared machine. */
  readonly cpuMs: number;
}

function measure(views: number): Measured {
  const table = tableOf();
  const sources = sourcesOf(table);
  const inks = table.tokens.flatMap(({ path }, at) => (path.startsWith('mark.') ? [at] : []));
  const faces = table.tokens.flatMap(({ path }, at) => (path.startsWith('face.') ? [at] : []));
  const checks: ReadonlyMap<CheckId, ActiveCheck> = new Map(ALL_CHECKS.map((check) => [check.id, { check, options: {} }]));
  const pages = Math.ceil(views / THEMES);
  const viewAt = (at: number): ViewRef => {
    const [page, theme] = [`page${at % pages}`, `theme${Math.floor(at / pages)}`];
    return { id: `${page}@${theme}`, page, theme, state: 'rest', viewport: 'desk' };
  };
  const findings: Finding[] = [];
  for (let at = 0; at < views; at += 1) {
    for (const sample of textsOf(viewAt(at), at % pages, sources, inks, faces)) {
      if (sample.contrast.min < 4.5) findings.push(findingOf(viewAt(at), sample));
    }
  }
  const triage = openTriage({ table, findings, checks, served: [] });
  let addMs = 0;
  let cpuMs = 0;
  const cpu = (): number => process.cpuUsage().user / 1000;
  let peak = 0;
  for (let at = 0; at < views; at += 1) {
    const samples = textsOf(viewAt(at), at % pages, sources, inks, faces);
    const [from, cpuFrom] = [performance.now(), cpu()];
    triage.add(viewAt(at), samples);
    addMs += performance.now() - from;
    cpuMs += cpu() - cpuFrom;
    if (at % 64 === 0) peak = Math.max(peak, process.memoryUsage().heapUsed);
  }
  const [from, cpuFrom] = [performance.now(), cpu()];
  const { causes, ground } = triage.close();
  const closeMs = performance.now() - from;
  cpuMs += cpu() - cpuFrom;
  peak = Math.max(peak, process.memoryUsage().heapUsed);
  return {
    samples: views * TEXTS_A_VIEW,
    findings: findings.length,
    cases: ground.world.cases.length,
    causes: causes.length,
    addMs,
    closeMs,
    heapMb: peak / 2 ** 20,
    cpuMs,
  };
}

/** Each page has its own choice of inks and surfaces, the same in every theme. */
function textsOf(
  view: ViewRef,
  page: number,
  sources: readonly Source[],
  inks: readonly number[],
  faces: readonly number[],
): readonly TextSample[] {
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

export function run(): Promise<void> {
  // The first size warms up and is dropped.
  measure(40);
  const sizes = [500, 1_000, 2_000, 4_000].map((views) => measure(views));
  console.log('samples    findings   cases  causes   add s   close s   all s   cpu s   heap MB   cpu s per 100,000 samples');
  for (const each of sizes) {
    const all = (each.addMs + each.closeMs) / 1000;
    console.log(
      [
        each.samples.toLocaleString('en').padEnd(10),
        each.findings.toLocaleString('en').padStart(8),
        String(each.cases).padStart(7),
        String(each.causes).padStart(7),
        (each.addMs / 1000).toFixed(2).padStart(7),
        (each.closeMs / 1000).toFixed(2).padStart(9),
        all.toFixed(2).padStart(7),
        (each.cpuMs / 1000).toFixed(2).padStart(7),
        each.heapMb.toFixed(0).padStart(9),
        ((each.cpuMs / 1000 / each.samples) * 100_000).toFixed(3).padStart(12),
      ].join(' '),
    );
  }
  return Promise.resolve();
}
