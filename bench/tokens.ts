// Reading token files: 20,000 tokens in 8 themes, half of the groups overridden in each theme. Prints the median and quartiles of the
// ratio to the engine's own JSON.parse of the same texts (measured in turn, so that a busy machine slows both), and seconds.
// Run with: node dist/bench/tokens.js
import { checkTokens } from '../src/tokens/faults/check-tokens.ts';
import { readTokenFiles } from '../src/tokens/read-token-files.ts';

const TOKENS = 20_000;
const THEMES = 8;
const RAMPS = 60;
const STEPS = 11;
const IN_GROUP = 40;
const ROUNDS = 15;
const WARM_UP = 4;

/** Numerical Recipes' linear congruence: the same files on every machine. */
function randomFrom(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** A hundredth of 0–1 from light to dark, with a tint. */
function stepValue(ramp: number, step: number): unknown {
  const grey = 0.97 - step * 0.087;
  const tint = ((ramp % 7) - 3) * 0.015;
  return { $value: { colorSpace: 'srgb', components: [grey + tint, grey, grey - tint].map((v) => Math.min(1, Math.max(0, v))) } };
}

function makeFiles(): ReadonlyMap<string, string> {
  const random = randomFrom(7);
  const alias = (): unknown => ({ $value: `{hue${String(random(RAMPS))}.${String(random(STEPS) * 100)}}` });
  const base: Record<string, unknown> = {};
  for (let ramp = 0; ramp < RAMPS; ramp += 1) {
    const steps = Array.from({ length: STEPS }, (_, step): [string, unknown] => [String(step * 100), stepValue(ramp, step)]);
    base[`hue${String(ramp)}`] = { $type: 'color', ...Object.fromEntries(steps) };
  }
  const groups = Math.ceil((TOKENS - RAMPS * STEPS) / IN_GROUP);
  const partsOf = (group: number, every: number): [string, unknown] => [
    `part${String(group)}`,
    // Every third token refers to its neighbour, which refers to a ramp.
    Object.fromEntries(
      Array.from({ length: IN_GROUP }, (_, i): [string, unknown] => [
        `t${String(i)}`,
        i % 3 === 2 ? { $value: `{part${String(group)}.t${String(i - 1)}}` } : alias(),
      ]).filter((_, i) => i % every === 0),
    ),
  ];
  for (let group = 0; group < groups; group += 1) Object.assign(base, Object.fromEntries([partsOf(group, 1)]));
  const files = new Map([['base.json', JSON.stringify(base, null, 2)]]);
  for (let theme = 0; theme < THEMES; theme += 1) {
    const parts = Array.from({ length: groups / 2 }, (_, i) => partsOf(i * 2, 2));
    files.set(`theme${String(theme)}.json`, JSON.stringify(Object.fromEntries(parts), null, 2));
  }
  return files;
}

const files = makeFiles();
const lists = Object.fromEntries(
  [...files.keys()].slice(1).map((file): [string, readonly string[]] => [file.replace('.json', ''), [file]]),
);
const what = { base: ['base.json'], themes: lists };
const readText = (file: string): string | null => files.get(file) ?? null;

/** @returns milliseconds, and something that depends on the work, so that none is left out */
function timed(work: () => number): { readonly ms: number; readonly result: number } {
  const start = performance.now();
  const result = work();
  return { ms: performance.now() - start, result };
}

function lengthOf(value: unknown): number {
  return typeof value === 'object' && value !== null ? Object.keys(value).length : 0;
}

function quantile(values: readonly number[], at: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.round((sorted.length - 1) * at)] ?? NaN;
}

const spread = (values: readonly number[], digits: number): string =>
  `${quantile(values, 0.5).toFixed(digits)} (${quantile(values, 0.25).toFixed(digits)} to ${quantile(values, 0.75).toFixed(digits)})`;

export function run(): Promise<void> {
  const parse: number[] = [];
  const read: number[] = [];
  let consumed = 0;
  for (let round = 0; round < ROUNDS + WARM_UP; round += 1) {
    const a = timed(() => [...files.values()].reduce((sum, text) => sum + lengthOf(JSON.parse(text)), 0));
    const b = timed(() => readTokenFiles(what, { readText }).graph.tokens.size);
    consumed += a.result + b.result;
    if (round < WARM_UP) continue;
    parse.push(a.ms);
    read.push(b.ms);
  }
  const { graph } = readTokenFiles(what, { readText });
  const colours = timed(() => {
    let count = 0;
    for (const theme of graph.themes) for (const path of graph.tokens.keys()) if (graph.colorOf(path, theme) !== null) count += 1;
    return count;
  });
  const checks = timed(() => checkTokens({ graph, reference: graph.themes[0] ?? '' }).faults.length);

  const characters = [...files.values()].reduce((sum, text) => sum + text.length, 0);
  console.log(
    `${String(graph.tokens.size)} tokens, ${String(graph.themes.length)} themes, ${(characters / 1e6).toFixed(1)} million characters (${String(consumed)})`,
  );
  console.log(
    `reading and resolving all themes: ${spread(read, 0)} ms, ${spread(
      read.map((ms, i) => ms / (parse[i] ?? NaN)),
      1,
    )} times JSON.parse`,
  );
  console.log(`every colour in every theme: ${String(colours.result)} in ${colours.ms.toFixed(0)} ms`);
  console.log(`all checks: ${String(checks.result)} faults in ${checks.ms.toFixed(0)} ms`);
  return Promise.resolve();
}
