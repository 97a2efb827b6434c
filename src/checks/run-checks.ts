// One group (page, state and viewport in all its themes) → findings, with exemptions, owners and stable names.
import type { CheckId, Finding, FindingDraft } from '../samples/finding.ts';
import type { Sample, SampleKind } from '../samples/sample.ts';
import type { Tone, ViewRef } from '../samples/view.ts';
import type { Others, Reference, SampleOf } from './check.ts';
import type { ConfiguredChecks } from './configured-checks.ts';
import { judgesFor, levelOf } from './configured-checks.ts';
import { exemptionOf } from './exemption-cover.ts';
import type { ExemptionRule } from './exemption-cover.ts';
import { findingId } from './finding-id.ts';

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
  readonly checks: ConfiguredChecks;
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
  const judges = judgesFor(settings.checks);
  const byId = new Map(judges.map((judge) => [judge.id, judge]));
  const level = levelOf(settings.checks);
  return group.flatMap((judged) => {
    const samples = new Map(judged.samples.map((sample) => [sample.key, sample]));
    const subject = { ...judged, reference: judged === reference ? null : indexed, level };
    return judges.flatMap((judge) => {
      const exemptIn = (sample: Sample): ExemptionRule | undefined => exemptionAt(sample, judge.id, judged.view, settings);
      // What is exempt says nothing in the place of what is not.
      const others: Others = (check, sample) =>
        exemptionAt(sample, check, judged.view, settings) === undefined || exemptIn(sample) !== undefined
          ? byId.get(check)
          : undefined;
      const drafts = onePerPlace(judge.run(subject, exemptIn, others));
      return drafts.map((draft) => {
        const sample = samples.get(draft.key);
        return finish(draft, judged.view, sample, { settings, exemption: sample === undefined ? undefined : exemptIn(sample) });
      });
    });
  });
}

/** The exemption that covers what a check finds at a sample. Matched once, after judging: it changes nothing that is measured. */
export function exemptionAt<R extends ExemptionRule>(
  { selector, exemptions }: Sample,
  check: CheckId,
  { page, theme, state }: ViewRef,
  { exempt, today }: { readonly exempt: readonly R[]; readonly today: string },
): R | undefined {
  return exemptionOf({ check, selector, page, theme, state }, exempt, today, exemptions);
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

/** A finding's name is made of check and place, so one check says one thing about one place: the first. */
function onePerPlace(drafts: readonly FindingDraft[]): readonly FindingDraft[] {
  return [...new Map([...drafts].reverse().map((draft) => [draft.key, draft])).values()].reverse();
}

function finish(
  draft: FindingDraft,
  view: ViewRef,
  sample: Sample | undefined,
  { settings, exemption }: { readonly settings: CheckSettings; readonly exemption: ExemptionRule | undefined },
): Finding {
  const owner = sample?.owner ?? settings.pageOwner;
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
