// What was foretold, held against what was found on the live pages with the same values.
import type { CheckId, Finding } from '../samples/finding.ts';
import type { Sample } from '../samples/sample.ts';
import type { SampleVerdict } from '../samples/sample-verdict.ts';

export interface AgreementOfCheck {
  readonly check: CheckId;
  /** Foretold and found. */
  readonly both: number;
  readonly onlyForetold: number;
  readonly onlyFound: number;
}

export interface Agreement {
  readonly views: number;
  /** Texts and graphics that are in both, and how many of them have the same verdict. */
  readonly verdicts: { readonly compared: number; readonly equal: number; readonly unmatched: number };
  readonly findings: readonly AgreementOfCheck[];
  readonly onlyForetold: readonly Finding[];
  readonly onlyFound: readonly Finding[];
}

/** Shares of what agrees, 0–1; 1 where there was nothing to compare. */
export function sharesOf({ verdicts, findings }: Agreement): { readonly verdicts: number; readonly findings: number } {
  const both = findings.reduce((sum, each) => sum + each.both, 0);
  const all = findings.reduce((sum, each) => sum + each.both + each.onlyForetold + each.onlyFound, 0);
  return {
    verdicts: verdicts.compared === 0 ? 1 : verdicts.equal / verdicts.compared,
    findings: all === 0 ? 1 : both / all,
  };
}

/** Verdicts of the texts and graphics of one view, by place. */
export type Verdicts = ReadonlyMap<string, SampleVerdict['verdict']>;

export function verdictsOf(
  samples: readonly Sample[],
  verdictOn: (sample: Extract<Sample, { kind: 'text' | 'graphic' }>) => SampleVerdict,
): Verdicts {
  return new Map(
    samples.flatMap((sample): [string, SampleVerdict['verdict']][] =>
      sample.kind === 'text' || sample.kind === 'graphic' ? [[`${sample.kind} ${sample.key}`, verdictOn(sample).verdict]] : [],
    ),
  );
}

export function compareVerdicts(foretold: Verdicts, found: Verdicts): Agreement['verdicts'] {
  const places = [...foretold.keys()].filter((place) => found.has(place));
  return {
    compared: places.length,
    equal: places.filter((place) => foretold.get(place) === found.get(place)).length,
    unmatched: foretold.size + found.size - 2 * places.length,
  };
}

/** @param foretold @param found without exempt ones, of the same views */
export function agreementOf(
  views: number,
  verdicts: readonly Agreement['verdicts'][],
  { foretold, found }: { readonly foretold: readonly Finding[]; readonly found: readonly Finding[] },
): Agreement {
  const [ours, theirs] = [foretold, found].map((list) => new Set(list.map(({ id }) => id)));
  const onlyForetold = foretold.filter(({ id }) => theirs?.has(id) !== true);
  const onlyFound = found.filter(({ id }) => ours?.has(id) !== true);
  const countOf = (list: readonly Finding[], check: CheckId): number => list.filter((each) => each.check === check).length;
  const checks = [...new Set([...foretold, ...found].map(({ check }) => check))].sort();
  return {
    views,
    verdicts: {
      compared: verdicts.reduce((sum, { compared }) => sum + compared, 0),
      equal: verdicts.reduce((sum, { equal }) => sum + equal, 0),
      unmatched: verdicts.reduce((sum, { unmatched }) => sum + unmatched, 0),
    },
    findings: checks.map((check) => {
      const alone = countOf(onlyForetold, check);
      return { check, both: countOf(foretold, check) - alone, onlyForetold: alone, onlyFound: countOf(onlyFound, check) };
    }),
    onlyForetold,
    onlyFound,
  };
}
