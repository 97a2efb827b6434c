// Planted faults against what triage says of them: was each found, in its layer, by its name, with the repair a designer would choose;
// how many causes were made of them; and do the repairs leave the token checks as silent as before.
import { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import type { ExplainedCause } from '../../src/triage/tell/causes.ts';
import { graphOfTable } from '../../src/triage/tokens/graph-of-table.ts';
import type { TokenTable } from '../../src/triage/tokens/token-table.ts';
import type { App } from './app-model.ts';
import { paintApp } from './paint-app.ts';
import type { Planted } from './plant.ts';
import type { Kind } from './plant-faults.ts';
import { plantAll } from './plant-faults.ts';
import { triageApp, withChange } from './triage-app.ts';

export interface Score {
  /** Planted faults that show: some finding is gone without them. */
  readonly faults: number;
  readonly causes: number;
  readonly layer: number;
  readonly named: number;
  readonly repair: number;
  /** Token faults that are there after a repair and were not before. */
  readonly tokenFaults: number;
  /** For people: what was said, where it was not right. */
  readonly notes: readonly string[];
}

/** Two kinds that change the same thing: there is but one fault, and which of the two is a matter of order. */
const NONE = { faults: 0, causes: 0, layer: 0, named: 0, repair: 0, tokenFaults: 0 } as const;

export function scorePlants(kinds: readonly Kind[], seed: number): Score {
  const { healthy, app, planted, alone } = plantAll(kinds, seed);
  if (planted.length < alone.flatMap((each) => each.planted).length) return { ...NONE, notes: [] };
  const painted = paintApp(app);
  const triaged = triageApp(app, painted);
  const { causes } = triaged;
  const without = kinds.map((_, at) => idsOf(at === 0 && kinds.length === 1 ? null : (alone[1 - at]?.app ?? null)));
  const ids = idsOf(app);
  const owners = planted.map((each) => alone.findIndex((one) => one.planted.some((other) => isSame(each, other))));
  const shown = planted.filter((_, at) => [...ids].some((id) => without[owners[at] ?? 0]?.has(id) !== true));
  // Each hides the other: which of them a finding is of cannot be told.
  if (shown.length === 0) return { ...NONE, notes: [] };
  const pathOf = (token: number): string => triaged.ground.world.index.pathOf(token);
  const judged = shown.map((each) => {
    const own = painted.findings.flatMap(({ id }, at) =>
      without[owners[planted.indexOf(each)] ?? 0]?.has(id) === true ? [] : [at],
    );
    const shareOf = ({ findings }: ExplainedCause): number => findings.filter((at) => own.includes(at)).length;
    const [main] = causes.toSorted((one, other) => shareOf(other) - shareOf(one));
    const named = causes.filter((one) => isNamed(one, each));
    const right = named.find(({ changes: [first] }) => first !== undefined && each.wouldChoose(first, pathOf));
    return {
      layer: named.length > 0 || main?.cause.layer === each.layer,
      named: named.length > 0,
      repair: right !== undefined,
    };
  });
  const known = new Set([...tokenFaultsOf(healthy.table), ...tokenFaultsOf(app.table)]);
  const mend = (to: App, { changes }: ExplainedCause): App => changes.reduce((now, change) => withChange(now, triaged, change), to);
  // Each repair alone, where what is left of other faults may be told another way; and all of them, after which nothing may be new.
  const others = planted.map(({ of }) => of);
  const alones = causes.flatMap((one) =>
    newFaults(known, mend(app, one)).filter((fault) => !others.some((of) => fault.includes(of))),
  );
  const fresh = [...new Set([...alones, ...newFaults(known, causes.reduce(mend, app))])];
  const count = (of: 'layer' | 'named' | 'repair'): number => judged.filter((each) => each[of]).length;
  const isRight = count('repair') === shown.length && causes.length === shown.length && fresh.length === 0;
  return {
    faults: shown.length,
    causes: causes.length,
    layer: count('layer'),
    named: count('named'),
    repair: count('repair'),
    tokenFaults: fresh.length,
    notes: isRight
      ? []
      : [
          `${kinds.join(' + ')}, seed ${String(seed)}: planted ${shown.map((each) => `${each.layer} ${each.change} ${each.of}`).join(', ')}`,
          ...causes.map(({ cause }) => `  ${cause.layer} ${cause.confidence}: ${cause.why}`),
          ...fresh.map((fault) => `  new: ${fault}`),
        ],
  };
}

export function sumOf(scores: readonly Score[]): Score {
  const sum = (of: Exclude<keyof Score, 'notes'>): number => scores.reduce((total, each) => total + each[of], 0);
  return {
    faults: sum('faults'),
    causes: sum('causes'),
    layer: sum('layer'),
    named: sum('named'),
    repair: sum('repair'),
    tokenFaults: sum('tokenFaults'),
    notes: scores.flatMap(({ notes }) => notes),
  };
}

function idsOf(app: App | null): ReadonlySet<string> {
  if (app === null) return new Set();
  return new Set(paintApp(app).findings.flatMap(({ id, status }) => (status === 'exempt' ? [] : [id])));
}

function isSame(one: Planted, other: Planted): boolean {
  return one.layer === other.layer && one.change === other.change && one.of === other.of;
}

function isNamed({ cause: { layer, repair } }: ExplainedCause, planted: Planted): boolean {
  if (layer !== planted.layer || repair?.change !== planted.change) return false;
  // A place may lie on others that are mended with it: the selector must be among those named.
  return repair.of === planted.of;
}

function newFaults(known: ReadonlySet<string>, { table }: App): readonly string[] {
  return [...tokenFaultsOf(table)].filter((fault) => !known.has(fault));
}

/** Everything that the token checks say, each with the themes it is said of. */
function tokenFaultsOf(table: TokenTable): ReadonlySet<string> {
  const reference = table.themes[table.reference]?.name ?? '';
  const { faults } = checkTokens({ graph: graphOfTable(table), reference });
  return new Set(
    faults.flatMap(({ code, token, others, themes }) =>
      themes.map(
        (theme) =>
          `${code} ${[token, ...(code === 'ramp-reversal' || code === 'ramp-twins' ? others : [])].sort().join(' ')} in ${theme}`,
      ),
    ),
  );
}
