// The views of a run whose picture is not the accepted one, and what explains them. The run's own comparisons say how they differ; what is
// accepted by now may be newer than they are.
import type { Change, ChangeGroup } from '../api/changes.ts';
import type { Baselines, RunReader } from '../../src/ledger/ports.ts';
import type { AcceptedPicture, ChangeGroup as Explained, Comparison, StoredView } from '../../src/ledger/records.ts';
import { changeWords } from '../../src/pictures/change-words.ts';
import type { RunModel } from './run-model.ts';

export interface OpenGroup extends ChangeGroup {
  /** Ids, in plan order. */
  readonly of: readonly string[];
}

export interface OpenChanges {
  /** Views that have an accepted picture. */
  readonly accepted: number;
  readonly changes: ReadonlyMap<string, Change>;
  readonly groups: readonly OpenGroup[];
}

/** @param set accepted set that counts */
export async function openChanges(ledger: RunReader & Baselines, { summary, views }: RunModel, set: string): Promise<OpenChanges> {
  const accepted = new Map((await ledger.accepted([set])).map((picture) => [picture.id, picture]));
  const compared = await allComparisons(ledger, summary.id);
  const open = [
    ...views.flatMap((view) => changeOf(view, accepted.get(view.id), compared.get(view.id)) ?? []),
    // A narrowed run leaves views out on purpose; they have not vanished.
    ...[...compared.values()].flatMap((comparison) => vanishedOf(comparison, accepted.get(comparison.id)) ?? []),
  ];
  const changes = new Map(open.map((change) => [change.view, change]));
  const explained = (await ledger.changeGroups(summary.id)).flatMap((group) => groupOf(group, changes) ?? []);
  const told = new Set(explained.flatMap(({ of }) => of));
  return { accepted: accepted.size, changes, groups: [...explained, ...restOf(open, told)] };
}

async function allComparisons(ledger: RunReader & Baselines, run: string): Promise<ReadonlyMap<string, Comparison>> {
  const all = new Map<string, Comparison>();
  let after: string | undefined;
  do {
    const slice = await ledger.comparisons(run, { limit: 1_000, ...(after === undefined ? {} : { after }) });
    for (const comparison of slice.items) all.set(comparison.id, comparison);
    after = slice.next ?? undefined;
  } while (after !== undefined);
  return all;
}

function changeOf(view: StoredView, accepted: AcceptedPicture | undefined, comparison: Comparison | undefined): Change | null {
  if (view.status !== 'captured' || view.shot === null || accepted?.shot === view.shot) return null;
  // Pixels may differ where they are masked, or by less than counts; then the comparison says so.
  if (comparison?.verdict === 'same' && comparison.accepted === accepted?.shot) return null;
  const scale = view.scale ?? 1;
  // An older comparison says nothing about a picture that was accepted since.
  const difference = comparison?.accepted === accepted?.shot ? comparison?.difference : undefined;
  const { id, page, theme, state, viewport } = view;
  return {
    view: id,
    page,
    theme,
    state,
    viewport,
    accepted: accepted?.shot ?? null,
    now: view.shot,
    share: difference === undefined || difference === null ? null : difference.changedPixels / Math.max(1, difference.totalPixels),
    regions: (difference?.regions ?? [])
      .slice(0, 60)
      .map(({ current: [x, y, width, height] }) => [x / scale, y / scale, width / scale, height / scale] as const),
    widthCssPx: view.widthCssPx ?? 0,
    heightCssPx: view.heightCssPx ?? 0,
    scale,
  };
}

function vanishedOf(comparison: Comparison, accepted: AcceptedPicture | undefined): Change | null {
  if (comparison.verdict !== 'vanished' || accepted === undefined) return null;
  const { id, page, theme, state, viewport, widthCssPx, heightCssPx } = comparison;
  return {
    view: id,
    page,
    theme,
    state,
    viewport,
    accepted: accepted.shot,
    now: null,
    share: null,
    regions: [],
    widthCssPx: widthCssPx ?? 0,
    heightCssPx: heightCssPx ?? 0,
    scale: 1,
  };
}

function groupOf(
  { group, change, views, pages, themes, pixels, ofPixels }: Explained,
  open: ReadonlyMap<string, Change>,
): OpenGroup | null {
  const of = views.filter((view) => open.get(view)?.share !== undefined && open.get(view)?.share !== null);
  if (of.length === 0) return null;
  const share = ofPixels === 0 ? '' : ` ${String(Math.floor((100 * pixels) / ofPixels))} % of the changed pixels`;
  return {
    id: group,
    title: changeWords(change),
    explanation:
      change.kind === 'unexplained'
        ? ''
        : `Explains${share} on ${String(pages)} ${pages === 1 ? 'page' : 'pages'} in ${themes.join(', ')}.`,
    views: of.length,
    of,
  };
}

/** What no explanation speaks of: never accepted, no longer there, or not compared with what is accepted now. */
function restOf(open: readonly Change[], told: ReadonlySet<string>): readonly OpenGroup[] {
  const rest = [
    {
      id: '.new',
      title: 'nothing accepted yet',
      explanation: 'No picture was accepted for these views.',
      of: open.filter(({ accepted }) => accepted === null),
    },
    {
      id: '.vanished',
      title: 'no longer in the plan',
      explanation: 'Accepted once; the run has no such views.',
      of: open.filter(({ now }) => now === null),
    },
    {
      id: '.other',
      title: 'differs',
      explanation: '',
      of: open.filter(({ accepted, now, view }) => accepted !== null && now !== null && !told.has(view)),
    },
  ];
  return rest
    .filter(({ of }) => of.length > 0)
    .map(({ of, ...group }) => ({ ...group, views: of.length, of: of.map(({ view }) => view) }));
}
