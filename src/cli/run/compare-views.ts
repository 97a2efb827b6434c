// Each captured view against its accepted picture: equal hashes first, then what an earlier night found out, then pixels.
import { decodePng } from '../../../runner/driver/decode-png.ts';
import { exemptionOf } from '../../checks/exemption-cover.ts';
import { findingId } from '../../checks/finding-id.ts';
import { hashOf } from '../../ledger/blobs/blobs.ts';
import type { Baselines, RunReader, RunWriter } from '../../ledger/ports.ts';
import type { AcceptedPicture, ComparisonEntry, FindingEntry } from '../../ledger/records.ts';
import { driftFindings } from '../../pictures/drift-findings.ts';
import { DRIFT_PARAMETERS } from '../../pictures/drift-parameters.ts';
import { rgbaOf } from '../../pictures/rgba-picture.ts';
import { viewDifference } from '../../pictures/view-difference.ts';
import type { Configuration } from '../../plan/configuration.ts';
import type { CapturedView } from '../../samples/captured-view.ts';
import type { FindingDraft } from '../../samples/finding.ts';
import { SAMPLE_FORMAT } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';

export interface Comparer {
  /** @param shot hash of the stored picture @returns the view's findings `drift`; the comparison itself is stored */
  compare(result: CapturedView, shot: string): Promise<readonly FindingEntry[]>;
  /** Accepted views that the plan no longer has. */
  vanished(plan: readonly ViewRef[]): Promise<number>;
}

export interface ComparerInput {
  readonly configuration: Configuration;
  /** The first of them that has a view decides. */
  readonly sets: readonly string[];
  /** YYYY-MM-DD, for exemptions. */
  readonly today: string;
}

export async function openComparer(
  ledger: Pick<Baselines, 'accepted' | 'acceptedFacts' | 'knownDifference'> &
    Pick<RunReader, 'blob'> &
    Pick<RunWriter, 'storeComparisons'>,
  run: string,
  { configuration, sets, today }: ComparerInput,
): Promise<Comparer> {
  const options = configuration.checks['drift'] ?? {};
  const accepted = new Map((options === 'off' ? [] : await ledger.accepted(sets)).map((picture) => [picture.id, picture]));
  const { pages } = configuration;
  const ofPage = new Map(pages.kind === 'list' ? pages.pages.map((page) => [page.name, page.drift]) : []);
  const numberOf = (page: string, name: keyof typeof DRIFT_PARAMETERS): number => {
    const given = ofPage.get(page)?.[name] ?? (options === 'off' ? undefined : options[name]);
    return typeof given === 'number' ? given : DRIFT_PARAMETERS[name].default;
  };

  async function differenceOf(
    result: CapturedView,
    before: AcceptedPicture,
    shot: string,
  ): Promise<NonNullable<ComparisonEntry['difference']>> {
    const masks = result.masks ?? [];
    const [threshold, allowedShare] = [numberOf(result.view.page, 'threshold'), numberOf(result.view.page, 'allowedShare')];
    const settings = hashOf(JSON.stringify([threshold, allowedShare, masks, SAMPLE_FORMAT]));
    const known = await ledger.knownDifference({ accepted: before.shot, shot, settings });
    if (known !== undefined) return { found: known, settings };
    const corner = { leftPx: 0, topPx: 0 };
    const current = rgbaOf(await decodePng(result.shot, corner));
    const { samples, properties } = result;
    const earlier = {
      ...(await ledger.acceptedFacts(before)),
      masks,
      picture: rgbaOf(await decodePng(await ledger.blob(before.shot), corner)),
    };
    const allowedPixels = Math.floor(allowedShare * current.widthPx * current.heightPx);
    const pair = { accepted: earlier, current: { samples, properties, masks, picture: current }, scale: result.page.scale };
    return { found: viewDifference(pair, { threshold, allowedPixels }).difference, settings };
  }

  function entryOf(draft: FindingDraft, { view, samples }: CapturedView): FindingEntry {
    // What is gone has no sample in this run: then only an exemption of the very element is known to cover it.
    const sample = samples.find(({ key }) => key === draft.key) ?? samples.find(({ selector }) => selector === draft.selector);
    const exemption = exemptionOf({ ...view, ...draft }, configuration.exempt, today, sample?.exemptions);
    return { id: findingId(view, draft), draft, ...(exemption === undefined ? {} : { exempt: exemption.why }) };
  }

  return {
    async compare(result, shot) {
      const { view } = result;
      const before = accepted.get(view.id);
      if (options === 'off') return [];
      if (before === undefined || before.shot === shot) {
        const entry: ComparisonEntry =
          before === undefined ? { view, verdict: 'new' } : { view, verdict: 'same', accepted: before.shot };
        await ledger.storeComparisons(run, [entry]);
        return [];
      }
      const difference = await differenceOf(result, before, shot);
      const { found } = difference;
      const changed = found.explanations.length > 0 || found.regions.length > 0;
      const compared = {
        view,
        verdict: changed ? 'changed' : 'same',
        accepted: before.shot,
        difference,
      } as const;
      await ledger.storeComparisons(run, [compared]);
      return changed ? driftFindings(found).map((draft) => entryOf(draft, result)) : [];
    },
    async vanished(plan) {
      const planned = new Set(plan.map((view) => view.id));
      const gone = [...accepted.values()].filter((picture) => !planned.has(picture.id));
      await ledger.storeComparisons(
        run,
        gone.map((picture) => ({ view: picture, verdict: 'vanished', accepted: picture.shot })),
      );
      return gone.length;
    },
  };
}
