// What a verdict says nothing about, though somebody may think that it does: shown above it.
import type { GateCriteria } from '../plan/configuration.ts';
import { LEVELS } from '../samples/finding.ts';
import { sumOf } from './ceilings.ts';
import type { GateFacts, GateKind, GateView } from './facts.ts';
import { checkTitle, counted, listed } from './words.ts';
import { isCounted } from '../samples/what-counts.ts';

type Ceiling = GateCriteria['most'][number];

/** @returns one sentence each; empty where everything was asked */
export function notAsked(facts: GateFacts, criteria: GateCriteria): readonly string[] {
  const { views, pages, off, run } = facts;
  const there = new Set(views.map(({ page }) => page));
  const missing = pages.filter((page) => !there.has(page));
  return [
    ...(run.partial ? ['The run was narrowed or is one part of several: what lies outside was not looked at.'] : []),
    ...aboutViews(
      views.filter(({ status }) => status === 'failed'),
      'failed',
      'nothing was looked for there',
    ),
    ...aboutViews(
      views.filter(({ status }) => status === 'planned'),
      'not rendered',
      'nothing was looked for there',
    ),
    ...(missing.length > 0 ? [`${counted(missing.length, 'page')} not in the run: ${listed(missing)}.`] : []),
    ...(off.length > 0 ? [`${counted(off.length, 'check')} switched off: ${off.join(', ')}.`] : []),
    ...unread(views),
    ...uncounted(facts.findings, criteria),
  ];
}

function aboutViews(views: readonly GateView[], how: string, so: string): readonly string[] {
  return views.length === 0 ? [] : [`${counted(views.length, 'view')} ${how}, ${so}: ${listed(views.map(({ id }) => id))}.`];
}

function unread(views: readonly GateView[]): readonly string[] {
  const parts = new Map<string, number>();
  for (const { unread: said } of views) if (said !== null) parts.set(said, (parts.get(said) ?? 0) + 1);
  return [...parts].map(([said, count]) => `In ${counted(count, 'view')}: ${said}.`);
}

/** Open findings that no row has a say in. Notes are what nobody needs to act upon; they are named last. */
function uncounted(findings: readonly GateKind[], { most, owners = {} }: GateCriteria): readonly string[] {
  const open = findings.filter(isCounted);
  const left = open.filter((kind) => {
    const own = kind.owner === null ? [] : (owners[kind.owner]?.most ?? []);
    return ![...most, ...own].some((row) => isAbout(row, kind));
  });
  return LEVELS.flatMap((level) => {
    const mine = left.filter((kind) => kind.level === level);
    if (mine.length === 0) return [];
    const checks = [...new Set(mine.map(({ check }) => check))];
    const parts = checks.map((check) => `${checkTitle(check)} ${String(sumOf(mine.filter((kind) => kind.check === check)))}`);
    return [`${counted(sumOf(mine), level)} that no criterion counts: ${parts.join(', ')}.`];
  });
}

function isAbout(row: Ceiling, { check, level }: GateKind): boolean {
  return (row.check === '*' || row.check === check) && (row.level === undefined || row.level === level);
}
