// The launch criteria of one theme as written → GateCriteria (docs/configuration.md, `gate`).
import type { Ceilings, GateCriteria } from '../plan/configuration.ts';
import { CHECK_IDS } from '../checks/table.ts';
import { LEVELS } from '../samples/finding.ts';
import { defined } from './defined.ts';
import { expectedName } from './nearest-name.ts';
import type { Report } from './report.ts';
import type { ParsedConfiguration } from './schema.ts';

type Rows = ParsedConfiguration['gate'][string];
type At = readonly string[];

/** Members that are no check. */
const OWN_NAMES = [
  'coverage',
  'since',
  'failed',
  'unsettled',
  'alike',
  'thin',
  'loading',
  'asking',
  'idle',
  'accepted',
  'owners',
] as const;

export function toCriteria(theme: string, rows: Rows, report: Report): GateCriteria {
  const at: At = ['gate', theme];
  const { since, failed, unsettled, alike, thin, loading, asking, idle, accepted, owners, ...ceilings } = rows;
  const text = (name: string, value: unknown): string | undefined => {
    if (value === undefined || (typeof value === 'string' && value !== '')) return value;
    report([...at, name], JSON.stringify(value), 'the id of a run, or "previous"');
    return undefined;
  };
  const views = (name: string, value: unknown): number | undefined => {
    if (value === undefined || isCount(value)) return value;
    report([...at, name], JSON.stringify(value), COUNT);
    return undefined;
  };
  if (accepted !== undefined && typeof accepted !== 'boolean')
    report([...at, 'accepted'], JSON.stringify(accepted), 'true or false');
  if (owners !== undefined && typeof owners !== 'object')
    report([...at, 'owners'], JSON.stringify(owners), 'owner names, each with ceilings of its own');
  return {
    ...toCeilings(at, ceilings, OWN_NAMES, report),
    ...defined({
      since: text('since', since),
      failed: views('failed', failed),
      unsettled: views('unsettled', unsettled),
      alike: views('alike', alike),
      thin: views('thin', thin),
      loading: views('loading', loading),
      asking: views('asking', asking),
      idle: views('idle', idle),
      accepted: accepted === true ? true : undefined,
      owners:
        typeof owners === 'object'
          ? Object.fromEntries(
              Object.entries(owners).map(([owner, own]) => [
                owner,
                toCeilings([...at, 'owners', owner], own, ['coverage'], report),
              ]),
            )
          : undefined,
    }),
  };
}

const COUNT = 'a whole number from 0 up';

function isCount(value: unknown): value is number {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0;
}

function toCeilings(at: At, rows: Rows, ownNames: readonly string[], report: Report): Ceilings {
  const most: Ceilings['most'][number][] = [];
  let coverage: number | undefined;
  for (const [name, value] of Object.entries(rows)) {
    const shown = JSON.stringify(value);
    if (name === 'coverage') {
      if (typeof value !== 'number' || value < 0 || value > 1) report([...at, name], shown, 'a share from 0 to 1');
      else coverage = value;
      continue;
    }
    const [check = '', level] = name.split(':');
    const knownCheck = CHECK_IDS.find((id) => id === check) ?? (check === '*' ? '*' : undefined);
    const knownLevel = LEVELS.find((l) => l === level);
    if (knownCheck === undefined) report([...at, name], 'no such check', expectedName(check, [...CHECK_IDS, '*', ...ownNames]));
    else if (level !== undefined && knownLevel === undefined)
      report([...at, name], `level "${level}"`, `one of ${LEVELS.join(', ')}`);
    else if (!isCount(value)) report([...at, name], shown, COUNT);
    else most.push({ check: knownCheck, ...defined({ level: knownLevel }), count: value });
  }
  return { most, ...defined({ coverage }) };
}
