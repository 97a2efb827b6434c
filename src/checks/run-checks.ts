// One group (page, state and viewport in all its themes) → findings, with exemptions, owners and stable names.
import type { CheckId, Finding, FindingDraft } from '../samples/finding.ts';
import type { Sample, SampleKind } from '../samples/sample.ts';
import type { Tone, ViewRef } from '../samples/view.ts';
import type { GivenOptions, Reference, SampleOf } from './check.ts';
import { exemptionOf } from './exemption-cover.ts';
import type { ExemptionRule } from './exemption-cover.ts';
import { findingId } from './finding-id.ts';
import { ALL_CHECKS } from './table.ts';

/** One captured view of the group. */
export interface JudgedView {
  readonly view: ViewRef;
  /** Of its theme. */
  readonly tone: Tone;
  readonly samples: readonly Sample[];
}

export interface CheckSettings {
  /** Name of the reference theme. */
  readonly reference: string;
  /** `off` or options, by check; validated by `optionFaults`. */
  readonly checks: Readonly<Partial<Record<CheckId, 'off' | Readonly<Record<string, unknown>>>>>;
  /** As configured; samples name those that match them by index. */
  readonly exempt: readonly ExemptionRule[];
  /** YYYY-MM-DD: an exemption holds up to and including its `until`. */
  readonly today: string;
  /** Id of the run, for `since`; the ledger knows better where a finding is older. */
  readonly run: string;
  /** Who owns the page, where no rule names the element. */
  readonly pageOwner?: string;
}

/**
 * What lies beneath a modal layer is not what a state shows: nothing is said of it, and nothing compared with it.
 * @returns ordered by view, then check, then as the check found them; none is `known` yet: that is history's matter */
export function runChecks(views: readonly JudgedView[], settings: CheckSettings): readonly Finding[] {
  const group = views.map((view) => ({ ...view, samples: view.samples.filter((sample) => sample.behind === undefined) }));
  const reference = group.find(({ view }) => view.theme === settings.reference);
  const indexed = reference === undefined ? null : indexReference(reference);
  return group.flatMap((judged) => {
    const samples = new Map(judged.samples.map((sample) => [sample.key, sample]));
    const subject = { ...judged, reference: judged === reference ? null : indexed };
    return ALL_CHECKS.flatMap((check) => {
      const options = settings.checks[check.id];
      if (options === 'off') return [];
      const drafts = onePerPlace(check.run(subject, plainOptions(options ?? {})));
      return drafts.map((draft) => finish(draft, judged.view, samples.get(draft.key), settings));
    });
  });
}

function indexReference(judged: JudgedView): Reference {
  const byPlace = new Map(judged.samples.map((sample) => [`${sample.kind} ${sample.key}`, sample]));
  return {
    theme: judged.view.theme,
    tone: judged.tone,
    samples: judged.samples,
    find: <K extends SampleKind>(kind: K, key: string): SampleOf<K> | undefined => {
      const sample = byPlace.get(`${kind} ${key}`);
      return sample !== undefined && isOfKind(sample, kind) ? sample : undefined;
    },
  };
}

function isOfKind<K extends SampleKind>(sample: Sample, kind: K): sample is SampleOf<K> {
  return sample.kind === kind;
}

function plainOptions(options: Readonly<Record<string, unknown>>): GivenOptions {
  return Object.fromEntries(
    Object.entries(options).filter((entry): entry is [string, number | string] => ['number', 'string'].includes(typeof entry[1])),
  );
}

/** A finding's name is made of check and place, so one check says one thing about one place: the first. */
function onePerPlace(drafts: readonly FindingDraft[]): readonly FindingDraft[] {
  return [...new Map([...drafts].reverse().map((draft) => [draft.key, draft])).values()].reverse();
}

function finish(draft: FindingDraft, view: ViewRef, sample: Sample | undefined, settings: CheckSettings): Finding {
  const owner = sample?.owner ?? settings.pageOwner;
  const place = { check: draft.check, selector: draft.selector, page: view.page, theme: view.theme, state: view.state };
  const exemption = exemptionOf(place, settings.exempt, settings.today, sample?.exemptions);
  return {
    ...draft,
    id: findingId(view, draft),
    view: view.id,
    page: view.page,
    theme: view.theme,
    state: view.state,
    viewport: view.viewport,
    since: settings.run,
    status: exemption === undefined ? 'new' : 'exempt',
    ...(owner === undefined ? {} : { owner }),
    ...(exemption === undefined ? {} : { exemption: exemption.why }),
    cause: null,
  };
}
