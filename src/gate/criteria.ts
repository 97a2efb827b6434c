// Launch criteria and the facts of one run → the verdict on one theme. Pure: the day is an argument.
import type { GateCriteria } from '../plan/configuration.ts';
import { ceilingCriteria, firstOf } from './ceilings.ts';
import { exemptionScope, exemptionStanding, exemptionWarnings } from './exemption-standing.ts';
import { doubtCriteria } from './doubt-criteria.ts';
import type { GateFacts, GateView } from './facts.ts';
import type { Criterion, ExemptionStanding, GateJudgement, Link } from './verdict.ts';
import { LEAST_WORDS } from './criteria-for.ts';
import { notAsked } from './not-asked.ts';
import { viewParts } from './view-parts.ts';
import { counted, listed } from './words.ts';
import { countFindings, isCounted } from '../samples/what-counts.ts';

/**
 * @param criteria of this theme (criteria-for.ts)
 * @returns all criteria: the missing ones first, nearest to being met before farther, then those that hold, in the order they are judged
 */
export function judge(facts: GateFacts, asked: { readonly criteria: GateCriteria; readonly configured: boolean }): GateJudgement {
  const { configured } = asked;
  const criteria = configured ? asked.criteria : withoutChecksOff(asked.criteria, facts);
  const exemptions = facts.exemptions.map((exemption) => exemptionStanding(exemption, facts.today));
  const judged: readonly Criterion[] = [
    ...ceilingCriteria(criteria, facts),
    ...Object.entries(criteria.owners ?? {}).flatMap(([owner, own]) => ceilingCriteria(own, facts, owner)),
    capturedCriterion(facts.views, criteria.failed ?? 0),
    settledCriterion(facts.views, criteria.unsettled ?? 0),
    pagesCriterion(facts),
    ...doubtCriteria(facts.doubts, criteria),
    ...(criteria.accepted === true && facts.run.foretold !== true ? [acceptedCriterion(facts.views)] : []),
    ...(exemptions.length > 0 ? [exemptionsCriterion(exemptions)] : []),
  ];
  const { fresh, known, exempt } = countFindings(facts.findings);
  const causes = new Set(facts.findings.filter(isCounted).map((kind) => kind.cause));
  return {
    theme: facts.theme,
    run: facts.run,
    today: facts.today,
    may: judged.every((criterion) => criterion.met),
    criteria: nearestFirst(judged),
    counts: { new: fresh, known, exempt, gone: facts.gone },
    exemptions,
    notAsked: notAsked(facts, criteria),
    warnings: [
      ...(facts.run.foretold === true ? [FORETOLD] : []),
      ...(configured ? [] : [`Nobody configured criteria for ${facts.theme}; judged by the least: ${LEAST_WORDS}.`]),
      ...exemptionWarnings(exemptions),
      ...restlessWarning(facts.views),
      ...unsteadyWarning(facts.views),
    ],
    since: facts.since,
    causes: facts.causes.filter((cause) => causes.has(cause.id)),
  };
}

/** What no recolouring tells. */
const FORETOLD =
  'Foretold from the samples of another run, not rendered: pictures, canvases, literal colours and states nobody named may look otherwise, and accepted pictures were not asked about.';

/** Nobody asked for these rows by name: a check that is switched off is listed as not asked, and holds nothing back. */
function withoutChecksOff(criteria: GateCriteria, { off }: GateFacts): GateCriteria {
  return { ...criteria, most: criteria.most.filter(({ check }) => check === '*' || !off.includes(check)) };
}

/** Sorting is stable: equals stay in the order they were judged. */
function nearestFirst(criteria: readonly Criterion[]): readonly Criterion[] {
  return [...criteria].sort((a, b) => Number(a.met) - Number(b.met) || a.distance - b.distance);
}

function capturedCriterion(views: readonly GateView[], most: number): Criterion {
  const failed = views.filter((view) => view.status === 'failed' && !view.unsettled);
  const planned = views.filter((view) => view.status === 'planned');
  const bad = [...failed, ...planned];
  const parts = [
    ...(failed.length > 0 ? [`${counted(failed.length, 'view')} failed`] : []),
    ...(planned.length > 0 ? [`${counted(planned.length, 'view')} not rendered`] : []),
  ];
  // A theme without a single picture has proved nothing.
  const empty = views.length === 0;
  return {
    id: 'views-failed',
    name: 'Views captured',
    met: !empty && bad.length <= most,
    needed: most === 0 ? 'every view' : `all but ${counted(most, 'view')}`,
    found: empty
      ? 'the run has no view of this theme'
      : parts.length === 0
        ? `all ${counted(views.length, 'view')}`
        : `${listed(parts)}, of ${String(views.length)}`,
    distance: empty ? 1 : Math.max(0, bad.length - most),
    step:
      empty || bad.length > most
        ? 'find out why, mend it, and run again (gloam run --resume finishes a run that was cut short)'
        : '',
    ...firstOf(bad.map(toViewLink)),
  };
}

function settledCriterion(views: readonly GateView[], most: number): Criterion {
  const unsettled = views.filter((view) => view.unsettled);
  const met = unsettled.length <= most;
  return {
    id: 'views-unsettled',
    name: 'Views come to rest',
    met,
    needed: most === 0 ? 'every view' : `all but ${counted(most, 'view')}`,
    found: unsettled.length === 0 ? 'all of them' : `${counted(unsettled.length, 'view')} kept moving`,
    distance: Math.max(0, unsettled.length - most),
    step: met ? '' : 'stop what moves, or name it under mask',
    ...firstOf(unsettled.map(toViewLink)),
  };
}

/** A flake is told, not hidden, even where two pictures in a row agreed. */
function restlessWarning(views: readonly GateView[]): readonly string[] {
  const restless = views.filter((view) => view.status === 'captured' && view.trouble !== null);
  if (restless.length === 0) return [];
  const which = listed(restless.map((view) => `${view.id} (${view.trouble ?? ''})`));
  return [`${counted(restless.length, 'view')} moved while captured, though two pictures agreed: ${which}.`];
}

function unsteadyWarning(views: readonly GateView[]): readonly string[] {
  const unsteady = views.filter((view) => view.unsteady !== null);
  if (unsteady.length === 0) return [];
  const which = listed(unsteady.map((view) => `${view.id} (${view.unsteady ?? ''})`));
  return [`${counted(unsteady.length, 'view')} did not come at the first try: ${which}.`];
}

function toViewLink(view: GateView): Link {
  return { kind: 'view', id: view.id, label: view.trouble === null ? view.id : `${view.id}: ${view.trouble}`, at: viewParts(view) };
}

function pagesCriterion({ views, pages, run }: GateFacts): Criterion {
  const there = new Set(views.map((view) => view.page));
  const missing = pages.filter((page) => !there.has(page));
  const met = missing.length === 0;
  return {
    id: 'pages-missing',
    name: 'Pages present',
    met,
    needed: `all ${counted(pages.length, 'page')}`,
    found: met ? 'all of them' : `${counted(missing.length, 'page')} missing: ${listed(missing)}`,
    distance: missing.length,
    step: met
      ? ''
      : run.partial
        ? 'judge a whole run: this one was narrowed or is one part of several'
        : 'run again with every page',
    links: [],
  };
}

function acceptedCriterion(views: readonly GateView[]): Criterion {
  const without = views.filter((view) => view.accepted !== true);
  const met = without.length === 0;
  return {
    id: 'pictures-accepted',
    name: 'Pictures accepted',
    met,
    needed: 'every view has an accepted picture',
    found: met
      ? `all ${counted(views.length, 'view')}`
      : `${counted(without.length, 'view')} without one, of ${String(views.length)}`,
    distance: without.length,
    step: met ? '' : 'look at them, then gloam accept',
    ...firstOf(without.map((view): Link => ({ kind: 'view', id: view.id, label: view.id, at: viewParts(view) }))),
  };
}

function exemptionsCriterion(standings: readonly ExemptionStanding[]): Criterion {
  const expired = standings.filter((standing) => standing.state === 'expired');
  const met = expired.length === 0;
  const ended = expired.map((standing) => `${exemptionScope(standing)} on ${standing.exemption.until ?? ''}`);
  return {
    id: 'exemptions-expired',
    name: 'Exemptions',
    met,
    needed: 'none past its last day',
    found: met
      ? `all ${counted(standings.length, 'exemption')} in force`
      : `${counted(expired.length, 'exemption')} ended: ${listed(ended)}`,
    distance: expired.length,
    step: met ? '' : 'mend what they cover, take them out, or agree on another last day',
    links: [],
  };
}
