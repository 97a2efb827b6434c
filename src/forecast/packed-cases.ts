// A run's cases → what the report's page needs to work out changes on its own: each case once with its counts, not every sample. And back.
import type { GivenOptions, Judge } from '../checks/check.ts';
import { ALL_CHECKS } from '../checks/table.ts';
import type { ContrastLevel } from '../colour/text-requirement.ts';
import type { CheckId } from '../samples/finding.ts';
import type { Sample } from '../samples/sample.ts';
import type { ViewRef } from '../samples/view.ts';
import type { Case } from '../triage/cases/case.ts';
import { indexTable } from '../triage/tokens/table-index.ts';
import type { TokenTable } from '../triage/tokens/token-table.ts';
import type { World } from '../triage/world.ts';
import { openWorld } from '../triage/world.ts';

type Kept = Omit<Case, 'id' | 'key' | 'family' | 'exempt' | 'elements' | 'grounds' | 'findings' | 'written' | 'wrote' | 'place'>;

export interface PackedCase extends Kept {
  /** Equal for the same things painted in other themes. */
  readonly family: number;
  readonly exempt: readonly CheckId[];
  /** Of surfaces; they tell the same place in the reference theme. */
  readonly elements: readonly number[];
  readonly findings: readonly (readonly [check: CheckId, count: number])[];
  /** Place in the list of views. */
  readonly view: number;
  readonly sample: Sample | null;
}

export interface PackedCases {
  readonly table: TokenTable;
  readonly level: ContrastLevel;
  readonly checks: readonly (readonly [check: CheckId, options: GivenOptions])[];
  readonly views: readonly ViewRef[];
  readonly cases: readonly PackedCase[];
  /** All samples they stand for. */
  readonly samples: number;
}

export function packCases({ index, cases, level }: World, checks: PackedCases['checks']): PackedCases {
  const families = new Map<string, number>();
  const views = new Map<string, { readonly at: number; readonly view: ViewRef }>();
  const viewAt = ({ id, page, theme, state, viewport }: ViewRef): number => {
    const known = views.get(id) ?? { at: views.size, view: { id, page, theme, state, viewport } };
    views.set(id, known);
    return known.at;
  };
  const packed = cases.map(
    ({
      id: _id,
      key: _key,
      grounds: _grounds,
      written: _written,
      wrote: _wrote,
      family,
      exempt,
      elements,
      findings,
      place,
      ...kept
    }): PackedCase => {
      const number = families.get(family) ?? families.size;
      families.set(family, number);
      return {
        ...kept,
        family: number,
        exempt: [...exempt],
        elements: kept.role === 'surface' ? [...elements] : [],
        findings: [...findings].map(([check, list]) => [check, list.length] as const),
        view: viewAt(place.view),
        sample: place.sample === null ? null : withoutLayers(place.sample),
      };
    },
  );
  return {
    table: index.table,
    level,
    checks,
    views: [...views.values()].map(({ view }) => view),
    cases: packed,
    samples: cases.reduce((sum, one) => sum + one.samples, 0),
  };
}

/** The case has them already. */
function withoutLayers(sample: Sample): Sample {
  return 'layers' in sample ? { ...sample, layers: [] } : sample;
}

export function unpackCases({ table, level, checks, views, cases }: PackedCases): World {
  const options = new Map(checks);
  const judges = new Map<CheckId, Judge>(
    ALL_CHECKS.flatMap((check): [CheckId, Judge][] => {
      const own = options.get(check.id);
      return own === undefined ? [] : [[check.id, check.with(own)]];
    }),
  );
  const nowhere: ViewRef = { id: '', page: '', theme: '', state: '', viewport: '' };
  let next = 0;
  return openWorld({
    index: indexTable(table),
    level,
    judges,
    cases: cases.map(({ view, sample, findings, exempt, elements, family, ...kept }, id): Case => ({
      ...kept,
      id,
      key: String(id),
      family: String(family),
      exempt: new Set(exempt),
      elements: new Set(elements),
      grounds: new Set(),
      findings: new Map(findings.map(([check, count]) => [check, Array.from({ length: count }, () => next++)])),
      written: new Map(),
      wrote: [],
      place: { view: views[view] ?? nowhere, sample },
    })),
  });
}
