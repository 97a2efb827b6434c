// Reading, resolving and checking a large set of token files. Prints the median and quartiles of the ratio to the engine's own
// JSON.parse of the same texts (measured in turn), and of the milliseconds of processor time.
import { checkTokens } from '../src/tokens/faults/check-tokens.ts';
import { readTokenFiles } from '../src/tokens/read-token-files.ts';
import { makeTokenFiles } from './token-files.ts';

const ROUNDS = 9;
const WARM_UP = 3;

const files = makeTokenFiles();
const lists = Object.fromEntries(
  [...files.keys()].slice(1).map((file): [string, readonly string[]] => [file.replace('.json', ''), [file]]),
);
const what = { base: ['base.json'], themes: lists };
const readText = (file: string): string | null => files.get(file) ?? null;

/** Processor time of all threads, which a busy machine leaves nearly alone. @returns something that depends on the work too, so that none is left out */
function timed(work: () => number): { readonly ms: number; readonly result: number } {
  const start = process.cpuUsage();
  const result = work();
  const { user, system } = process.cpuUsage(start);
  return { ms: (user + system) / 1000, result };
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

/** Fresh graphs: what checks look at is kept with the graph. */
function checked(): number {
  const { graph } = readTokenFiles(what, { readText });
  return checkTokens({ graph, reference: graph.themes[0] ?? '' }).faults.length;
}

const STEPS_OF_WORK: Readonly<Record<string, () => number>> = {
  'JSON.parse': () => [...files.values()].reduce((sum, text) => sum + lengthOf(JSON.parse(text)), 0),
  'parsing with places': () => readTokenFiles({ base: [...files.keys()], themes: {} }, { readText }).graph.problems.length,
  'reading and resolving all themes': () => readTokenFiles(what, { readText }).graph.tokens.size,
  'reading, resolving and all checks': checked,
};

export function run(): Promise<void> {
  const measured = new Map<string, number[]>(Object.keys(STEPS_OF_WORK).map((name) => [name, []]));
  let consumed = 0;
  for (let round = 0; round < ROUNDS + WARM_UP; round += 1) {
    for (const [name, work] of Object.entries(STEPS_OF_WORK)) {
      const { ms, result } = timed(work);
      consumed += result;
      if (round >= WARM_UP) measured.get(name)?.push(ms);
    }
  }
  const { graph } = readTokenFiles(what, { readText });
  const characters = [...files.values()].reduce((sum, text) => sum + text.length, 0);
  console.log(
    `${String(graph.tokens.size)} tokens, ${String(graph.themes.length)} themes, ${(characters / 1e6).toFixed(1)} million characters (${String(consumed)})`,
  );
  const floor = measured.get('JSON.parse') ?? [];
  for (const [name, all] of measured) {
    const ratios = all.map((ms, i) => ms / (floor[i] ?? NaN));
    console.log(`${name}: ${spread(all, 0)} ms of processor time, ${spread(ratios, 1)} times JSON.parse`);
  }
  return Promise.resolve();
}
