// Criteria on numbers of findings and on the share of colours through tokens, for a whole theme or one owner's part of it.
import type { Ceilings } from '../plan/configuration.ts';
import { LEVELS } from '../samples/finding.ts';
import type { Cause } from '../samples/finding.ts';
import type { GateFacts, GateFinding } from './facts.ts';
import type { Criterion, Link } from './verdict.ts';
import { placeOf } from './place-of.ts';
import { causeTitle, checkTitle, counted, percent } from './words.ts';

/** Links a criterion carries at most; the rest is behind them. */
const MOST_LINKS = 5;

type Row = Ceilings['most'][number];

/** @param owner limits everything to what that owner looks after; undefined: all */
export function ceilingCriteria(ceilings: Ceilings, facts: GateFacts, owner?: string): readonly Criterion[] {
  const findings = facts.findings.filter((f) => f.status !== 'exempt' && (owner === undefined || f.owner === owner));
  const prefix = owner === undefined ? { id: '', name: '' } : { id: `owner:${owner}:`, name: `${owner}: ` };
  const rows = ceilings.most.map((row) => {
    const criterion = countCriterion(row, findings, facts);
    return { ...criterion, id: prefix.id + criterion.id, name: prefix.name + criterion.name };
  });
  if (ceilings.coverage === undefined) return rows;
  const coverage = coverageCriterion(ceilings.coverage, facts, owner);
  return [...rows, { ...coverage, id: prefix.id + coverage.id, name: prefix.name + coverage.name }];
}

function countCriterion(row: Row, findings: readonly GateFinding[], facts: GateFacts): Criterion {
  const id = row.level === undefined ? row.check : `${row.check}:${row.level}`;
  const name = checkTitle(row.check, row.level);
  const { since } = facts;
  const ceiling = row.count === 0 ? 'none' : `at most ${counted(row.count, 'finding')}`;
  const needed = since === null ? ceiling : `${ceiling} that run ${since.run} did not have`;
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
  const against = all.filter((f) => !wasThere(f, since));
  const excess = against.length - row.count;
  const base = { id, name, needed, found: foundWords(all, against, since) };
  if (excess <= 0) return { ...base, met: true, distance: 0, step: '', links: [] };
  const plan = leastMending(against, excess, facts.causes);
  const parts = [
    ...(plan.causes.length > 0 ? [counted(plan.causes.length, 'cause')] : []),
    ...(plan.findings.length > 0 ? [counted(plan.findings.length, 'finding')] : []),
  ];
  const links: Link[] = [
    ...plan.causes.map((cause): Link => ({ kind: 'cause', id: cause.id, label: causeTitle(cause) })),
    ...plan.findings.map((f): Link => ({
      kind: 'finding',
      id: f.id,
      label: `${f.view} ${f.selector}: ${f.message}`,
      at: placeOf(f),
    })),
  ];
  return {
    ...base,
    met: false,
    distance: plan.causes.length + plan.findings.length,
    step: `${counted(excess, 'finding')} too many: mend ${parts.join(' and ')}`,
    links: links.slice(0, MOST_LINKS),
  };
}

/** The compared run had the same finding, at this level or a more severe one. */
function wasThere(finding: GateFinding, since: GateFacts['since']): boolean {
  const then = since?.findings.get(finding.id);
  return then !== undefined && LEVELS.indexOf(then) <= LEVELS.indexOf(finding.level);
}

function foundWords(all: readonly GateFinding[], against: readonly GateFinding[], since: GateFacts['since']): string {
  if (all.length === 0) return 'none';
  if (since === null) {
    const fresh = all.filter((f) => f.status === 'new').length;
    return fresh > 0 && fresh < all.length
      ? `${counted(all.length, 'finding')}, ${String(fresh)} of them new`
      : counted(all.length, 'finding');
  }
  const unseen = against.filter((f) => !since.views.has(f.view)).length;
  const had = all.length - against.length;
  return [
    counted(against.length, 'finding'),
    ...(unseen > 0 ? [`${String(unseen)} of them in views that run did not capture`] : []),
    ...(had > 0 ? [`${had.toLocaleString('en-GB')} more that it had already`] : []),
  ].join(', ');
}

/**
 * The fewest causes, and findings without one, that are worth at least `excess` findings.
 * Causes share no finding, so taking the largest first is the least there can be.
 */
function leastMending(
  findings: readonly GateFinding[],
  excess: number,
  causes: readonly Cause[],
): { readonly causes: readonly Cause[]; readonly findings: readonly GateFinding[] } {
  const byId = new Map(causes.map((cause) => [cause.id, cause]));
  const groups = new Map<Cause, number>();
  const loose: GateFinding[] = [];
  for (const finding of findings) {
    const cause = finding.cause === null ? undefined : byId.get(finding.cause);
    if (cause === undefined) loose.push(finding);
    else groups.set(cause, (groups.get(cause) ?? 0) + 1);
  }
  const chosen: Cause[] = [];
  let left = excess;
  for (const [cause, worth] of [...groups].sort((a, b) => b[1] - a[1] || a[0].id.localeCompare(b[0].id))) {
    if (left <= 0) break;
    chosen.push(cause);
    left -= worth;
  }
  return { causes: chosen, findings: left > 0 ? loose.slice(0, left) : [] };
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
