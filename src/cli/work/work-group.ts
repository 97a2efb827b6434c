// One group from the queue: rendered, judged, and stored together with the word that it is done.
import { browserAhead } from '../../../runner/browser/launch-browser.ts';
import type { Access } from '../../../runner/app/access.ts';
import type { RenderRequest } from '../../../runner/render-request.ts';
import { render } from '../../../runner/render.ts';
import { Stopwatch } from '../../../runner/tab/stopwatch.ts';
import { readAll } from '../../gate/read-all.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { AcceptedPicture } from '../../ledger/records.ts';
import type { Configuration } from '../../plan/configuration.ts';
import type { TakenGroup, WorkQueue } from '../../queue/work-queue.ts';
import type { ViewResult } from '../../samples/captured-view.ts';
import type { View } from '../../samples/view.ts';
import { openComparer } from '../run/compare-views.ts';
import { judgeGroups } from '../run/judge-groups.ts';
import { openSecondLook } from '../run/second-look.ts';
import { holdGroup } from './hold-group.ts';
import { asGroup } from './work-plan.ts';
import type { GroupReport, WorkPlan } from './work-plan.ts';

/** What all groups of a run have in common on this machine. */
export interface PreparedRun {
  readonly plan: WorkPlan;
  readonly configuration: Configuration;
  /** By id, at the address the app has here. */
  readonly views: ReadonlyMap<string, View>;
  readonly dye: readonly string[];
  readonly accepted: Promise<readonly AcceptedPicture[]>;
  /** The run before. */
  readonly previous: string | null;
}

/** @returns null where the group was no longer ours, so that nothing was stored @throws what rendering and storing throw; the reason of an abort */
export async function workGroup(from: {
  readonly taken: TakenGroup;
  readonly run: PreparedRun;
  readonly ledger: Ledger;
  readonly queue: WorkQueue;
  readonly browser: ReturnType<typeof browserAhead>;
  readonly access: Access | undefined;
  readonly signal: AbortSignal;
}): Promise<GroupReport | null> {
  const { taken, run, ledger, queue, access, signal } = from;
  const { plan, configuration, previous } = run;
  const group = asGroup(taken.data);
  const views = group.views.flatMap((id) => run.views.get(id) ?? []);
  const started = performance.now();
  const watch = new Stopwatch();
  const held = holdGroup(ledger, run.accepted);
  const { today, sets, pages } = plan;
  const place = { page: group.page, viewport: group.viewport };
  const before = previous === null ? [] : await readAll((slice) => ledger.views(previous, { ...place, ...slice }));
  const secondLook = openSecondLook(before, configuration.states);
  const comparer = await openComparer(held.ledger, taken.run, { configuration, sets, today });
  const judged = { configuration, pages, views, ledger: held.ledger, run: taken.run, today, comparer, watch, secondLook };
  const judge = judgeGroups(judged);
  const last = new Map<string, ViewResult['status']>();
  const ruled = new Set<string>();
  let unchanged = 0;
  const take = async (given: ViewResult): Promise<void> => {
    const { result, isSecond } = await judge.take(given);
    last.set(result.view.id, result.status);
    if (result.status === 'failed' || isSecond) return;
    if (result.reused === true) unchanged += 1;
    for (const selector of result.ruled ?? []) ruled.add(selector);
  };
  const known: RenderRequest['known'] = plan.anew ? undefined : (view) => ledger.knownView(view.id);
  const asked: Omit<RenderRequest, 'views'> = {
    configuration,
    pages,
    dye: run.dye,
    workers: 1,
    ...(access === undefined ? {} : { access }),
    signal,
    watch,
    browser: await from.browser.ready(),
  };
  await render({ ...asked, views, ...(known === undefined ? {} : { known }) }, take);
  await render({ ...asked, views: secondLook.due() }, take);
  await judge.rest();
  const failed = [...last.values()].filter((status) => status === 'failed').length;
  const report: GroupReport = {
    captured: last.size - failed,
    failed,
    unchanged,
    ruled: [...ruled],
    effects: judge.themeEffects(),
    time: watch.rows(),
    ms: Math.round(performance.now() - started),
  };
  const isStored = await ledger.storeGroup(taken.run, held.found(), (statement) => queue.settle(taken, report, statement));
  return isStored ? report : null;
}
