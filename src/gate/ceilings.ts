// Criteria on numbers of findings and on the share of colours through tokens, for a whole theme or one owner's part of it.
import type { Ceilings } from '../plan/configuration.ts';
import { LEVELS } from '../samples/finding.ts';
import type { Cause } from '../samples/finding.ts';
import type { GateFacts, GateFinding, GateKind } from './facts.ts';
import type { Criterion, Link } from './verdict.ts';
import { viewParts } from './view-parts.ts';
import { causeTitle, checkTitle, counted, percent } from './words.ts';
import { isCounted } from '../samples/what-counts.ts';

/** Links a criterion carries at most; the rest is behind them. */
const MOST_LINKS = 5;

type Ceiling = Ceilings['most'][number];

export function sumOf(kinds: readonly GateKind[]): number {
  return kinds.reduce((sum, { count }) => sum + count, 0);
}

/** @param owner limits everything to what that owner looks after; undefined: all */
export function ceilingCriteria(ceilings: Ceilings, facts: GateFacts, owner?: string): readonly Criterion[] {
  const findings = facts.findings.filter((kind) => isCounted(kind) && (owner === undefined || kind.owner === owner));
  const prefix = owner === undefined ? { id: '', name: '' } : { id: `owner:${owner}:`, name: `${owner}: ` };
  const rows = ceilings.most.map((row) => {
    const criterion = countCriterion(row, findings, facts);
    return { ...criterion, id: prefix.id + criterion.id, name: prefix.name + criterion.name };
  });
  if (ceilings.coverage === undefined) return rows;
  const coverage = coverageCriterion(ceilings.coverage, facts, owner);
  return [...rows, { ...coverage, id: prefix.id + coverage.id, name: prefix.name + coverage.name }];
}

function countCriterion(row: Ceiling, findings: readonly GateKind[], facts: GateFacts): Criterion {
  const id = row.level === undefined ? row.check : `${row.check}:${row.level}`;
  const name = checkTitle(row.check, row.level);
  const { since } = facts;
  const ceiling = row.count === 0 ? 'none' : `at most ${counted(row.count, 'finding')}`;
  const needed = since === null ? ceiling : `${ceiling} that run ${since} did not have`;
  if (row.check !== '*' && facts.off.includes(row.check)) {
    const step = `switch ${row.check} on, or take it out of the criteria`;
    return {
      id,
      name,
      met: false,
      needed,
      found: 'the check is switched off, so nothing was looked for',
      distance: 1,
      step,
      links: [],
    };
  }
  const all = findings.filter(
    (f) => (row.check === '*' || f.check === row.check) && (row.level === undefined || f.level === row.level),
  );
  const against = all.filter((kind) => !wasThere(kind));
  const excess = sumOf(against) - row.count;
  const base = { id, name, needed, found: foundWords(all, against, since) };
  if (excess <= 0) return { ...base, met: true, distance: 0, step: '', links: [] };
  const plan = leastMending(against, excess, facts);
  const parts = [
    ...(plan.causes.length > 0 ? [counted(plan.causes.length, 'cause')] : []),
    ...(plan.findings > 0 ? [counted(plan.findings, 'finding')] : []),
  ];
  const links: Link[] = [
    ...plan.causes.map((cause): Link => ({ kind: 'cause', id: cause.id, label: causeTitle(cause) })),
    ...plan.first.map((f): Link => ({
      kind: 'finding',
      id: f.id,
      label: `${f.view} ${f.selector}: ${f.message}`,
      at: viewParts(f),
    })),
  ];
  return {
    ...base,
    met: false,
    distance: plan.causes.length + plan.findings,
    step: `${counted(excess, 'finding')} too many: mend ${parts.join(' and ')}`,
    ...firstOf([...links], plan.causes.length + plan.findings),
  };
}

/** The compared run had the same findings, at this level or a more severe one. */
function wasThere({ then, level }: GateKind): boolean {
  return then !== null && LEVELS.indexOf(then) <= LEVELS.indexOf(level);
}

function foundWords(all: readonly GateKind[], against: readonly GateKind[], since: string | null): string {
  const [every, counting] = [sumOf(all), sumOf(against)];
  if (every === 0) return 'none';
  if (since === null) {
    const fresh = sumOf(all.filter((kind) => kind.status === 'new'));
    return fresh > 0 && fresh < every ? `${counted(every, 'finding')}, ${String(fresh)} of them new` : counted(every, 'finding');
  }
  const unseen = sumOf(against.filter((kind) => !kind.seen));
  const had = every - counting;
  return [
    counted(counting, 'finding'),
    ...(unseen > 0 ? [`${String(unseen)} of them in views not captured then`] : []),
    ...(had > 0 ? [`${had.toLocaleString('en-GB')} more that it had already`] : []),
  ].join(', ');
}

/**
 * The fewest causes, and findings without one, that are worth at least `excess` findings.
 * Causes share no finding, so taking the largest first is the least there can be.
 */
function leastMending(
  kinds: readonly GateKind[],
  excess: number,
  { causes, views }: Pick<GateFacts, 'causes' | 'views'>,
): { readonly causes: readonly Cause[]; readonly findings: number; readonly first: readonly GateFinding[] } {
  const byId = new Map(causes.map((cause) => [cause.id, cause]));
  const groups = new Map<Cause, number>();
  const loose: GateKind[] = [];
  for (const kind of kinds) {
    const cause = kind.cause === null ? undefined : byId.get(kind.cause);
    if (cause === undefined) loose.push(kind);
    else groups.set(cause, (groups.get(cause) ?? 0) + kind.count);
  }
  const chosen: Cause[] = [];
  let left = excess;
  for (const [cause, worth] of [...groups].sort((a, b) => b[1] - a[1] || a[0].id.localeCompare(b[0].id))) {
    if (left <= 0) break;
    chosen.push(cause);
    left -= worth;
  }
  const findings = Math.min(Math.max(0, left), sumOf(loose));
  const place = new Map(views.map(({ id }, index) => [id, index]));
  const first = loose
    .flatMap((kind) => kind.first)
    .sort((a, b) => (place.get(a.view) ?? -1) - (place.get(b.view) ?? -1) || (a.id < b.id ? -1 : 1))
    .slice(0, Math.min(findings, MOST_LINKS));
  return { causes: chosen, findings, first };
}

function coverageCriterion(least: number, facts: GateFacts, owner?: string): Criterion {
  const base = { id: 'coverage', name: 'Colours through tokens', needed: `at least ${percent(least)}` };
  const mine = facts.coverage.filter((c) => owner === undefined || c.owner === owner);
  const uses = mine.reduce((sum, c) => sum + c.uses, 0);
  const through = mine.reduce((sum, c) => sum + c.throughTokens, 0);
  if (uses === 0) {
    const whose = owner === undefined ? 'this theme' : 'this owner';
    const found = `not known: the run traced no colour of ${whose}`;
    return {
      ...base,
      met: least === 0,
      found,
      distance: least === 0 ? 0 : 1,
      step: least === 0 ? '' : 'capture views whose colours can be traced',
      links: [],
    };
  }
  const found = `${percent(through / uses)} (${through.toLocaleString('en-GB')} of ${counted(uses, 'colour use')})`;
  // 1e-9: a share such as 0.9 of 10 uses must not fail by the last bit of the product.
  const missing = Math.max(0, Math.ceil(least * uses - 1e-9) - through);
  if (missing === 0) return { ...base, met: true, found, distance: 0, step: '', links: [] };
  return {
    ...base,
    met: false,
    found,
    distance: missing,
    step: `let ${counted(missing, 'more colour use')} go through a token`,
    links: [],
  };
}

/** The first few, and how many more there are. */
export function firstOf<T>(all: readonly T[], count = all.length): { readonly links: readonly T[]; readonly more?: number } {
  const links = all.slice(0, MOST_LINKS);
  return count > links.length ? { links, more: count - links.length } : { links };
}
