// Findings and samples of a run → the few causes behind them. Samples are streamed; nothing here knows browser, store or files.
import type { ActiveCheck, World } from './world.ts';
import { openWorld } from './world.ts';
import type { Judge } from '../checks/check.ts';
import type { CheckId, Finding } from '../samples/finding.ts';
import { namesInUse } from '../samples/name-chain.ts';
import type { Origin } from '../samples/paint.ts';
import type { Sample } from '../samples/sample.ts';
import type { ViewRef } from '../samples/view.ts';
import type { BuildFault, ServedProperty } from './tokens/build-faults.ts';
import { findBuildFaults, hangsOnStale, staleTokens } from './tokens/build-faults.ts';
import type { Ground } from './propose/candidate.ts';
import type { ExplainedCause } from './tell/causes.ts';
import { causeOf } from './tell/causes.ts';
import { chooseFromBelow } from './choose/from-below.ts';
import type { IsExempt } from './cases/collect-cases.ts';
import { openCases } from './cases/collect-cases.ts';
import type { DriftExplanations } from './tell/drift-causes.ts';
import { driftCauses } from './tell/drift-causes.ts';
import { openGround } from './propose/open-ground.ts';
import { withOtherStates } from './choose/other-states.ts';
import { openPaintReader } from './cases/paint-ref.ts';
import { withOneToken } from './choose/one-token.ts';
import { splitByRule } from './choose/split-by-rule.ts';
import { indexTable } from './tokens/table-index.ts';
import type { TokenTable } from './tokens/token-table.ts';
import { withTokenFaults } from './tell/token-file-causes.ts';
import { withOrder } from './tell/hangs-on.ts';
import { unknownCauses } from './tell/unknown-causes.ts';

export interface TriageInput {
  readonly table: TokenTable;
  /** Of all views of the run. Exempt ones get no cause. */
  readonly findings: readonly Finding[];
  /** Where pictures were compared; findings `drift` that nothing is told of get no cause. */
  readonly drift?: DriftExplanations;
  /** The checks that were on, with their options. */
  readonly checks: ReadonlyMap<CheckId, ActiveCheck>;
  /** Whether an exemption of the configuration covers what a check may find at a sample; none does unless given. */
  readonly isExempt?: IsExempt;
  /** Custom properties as the pages compute them. */
  readonly served: Iterable<ServedProperty>;
}

export interface Triage {
  /** All samples of the run, view by view, in any order. */
  add(view: ViewRef, samples: Iterable<Sample>): void;
  /** What causes are looked for in, without looking. */
  world(): World;
  close(): Triaged;
}

export interface Triaged {
  /** Those that mend most come first. */
  readonly causes: readonly ExplainedCause[];
  readonly buildFaults: readonly BuildFault[];
  readonly ground: Ground;
}

export function openTriage(input: TriageInput): Triage {
  const index = indexTable(input.table);
  const buildFaults = findBuildFaults(index, input.served);
  const stale = staleTokens(buildFaults, input.table.themes.length);
  const { findings } = input;
  const judges = new Map<CheckId, Judge>([...input.checks].map(([id, { check, options }]) => [id, check.with(options)]));
  const level = input.checks.get('text-contrast')?.options['level'] === 'AAA' ? 'AAA' : 'AA';
  const readPaint = openPaintReader(index, hangsOnStale(index, buildFaults));
  const isExempt = input.isExempt ?? (() => false);
  const collector = openCases({ index, readPaint, findings, judges: [...judges.values()], level, isExempt });
  const exempt = new Set<number>();
  const exemptPlaces = new Set(findings.flatMap(({ status, view, key }) => (status === 'exempt' ? [`${view}\n${key}`] : [])));
  function* watched(view: ViewRef, samples: Iterable<Sample>): Generator<Sample> {
    for (const sample of samples) {
      const origin = exemptPlaces.has(`${view.id}\n${sample.key}`) && sample.kind !== 'picture' ? originOf(sample) : null;
      if (origin?.kind === 'token') for (const name of namesInUse(origin)) exempt.add(index.tokenOfProperty(name));
      yield sample;
    }
  }
  return {
    add: (view, samples) => {
      collector.add(view, watched(view, samples));
    },
    world: () => openWorld({ index, cases: collector.close(), judges, level }),
    close: () => {
      const world = openWorld({ index, cases: collector.close(), judges, level });
      const ground = openGround(world, exempt);
      const choice = chooseFromBelow(ground, (theme, token) => stale[theme]?.has(token) === true);
      const split = splitByRule(choice.explanations).map((each) => withOneToken(ground, each));
      const { explanations: ruled, unexplained } = withOtherStates(findings, {
        explanations: split,
        unexplained: choice.unexplained,
      });
      const known = withOrder(
        ground,
        ruled,
        ruled.map((each) => causeOf(ground, findings, each)),
      );
      const seen = [...known, ...unknownCauses(ground, findings, unexplained, choice.onLeft)];
      const drifted = driftCauses(index, findings, input.drift ?? new Map());
      const causes = [...withTokenFaults(index, seen, findings), ...drifted];
      return { causes: causes.toSorted(byFindings), buildFaults, ground };
    },
  };
}

function originOf(sample: Exclude<Sample, { readonly kind: 'picture' }>): Origin {
  return (sample.kind === 'text' ? sample.ink : sample.paint).origin;
}

function byFindings(one: ExplainedCause, other: ExplainedCause): number {
  return other.cause.findings - one.cause.findings || (one.cause.id < other.cause.id ? -1 : 1);
}
