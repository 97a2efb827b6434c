// Results arrive view by view, in any order; a group is judged once all its views are in, and a page at rest before its other
// states, which leave out what it showed already. What is judged is stored at once.
import { foldStates } from '../../checks/fold-states.ts';
import { unmatchedNotes } from '../../checks/unmatched.ts';
import { runChecks } from '../../checks/run-checks.ts';
import type { JudgedView } from '../../checks/run-checks.ts';
import type { Stopwatch } from '../../../runner/tab/stopwatch.ts';
import type { RunReader, RunWriter } from '../../ledger/ports.ts';
import type { FindingEntry } from '../../ledger/records.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import { groupId } from '../../plan/make-plan.ts';
import { readAll } from '../../gate/read-all.ts';
import type { ViewResult } from '../../samples/captured-view.ts';
import type { Finding } from '../../samples/finding.ts';
import type { Note } from '../../samples/note.ts';
import { meaningOf } from '../../samples/note-words.ts';
import { REST_STATE } from '../../samples/view.ts';
import type { View } from '../../samples/view.ts';
import { checkSettings, toneOf } from './check-settings.ts';
import type { Comparer } from './compare-views.ts';
import type { SecondLook } from './second-look.ts';
import type { EffectFacts, IdleTheme } from './theme-effects.ts';
import { openThemeEffects } from './theme-effects.ts';

export interface JudgeInput {
  readonly configuration: Configuration;
  readonly pages: readonly Page[];
  readonly views: readonly View[];
  readonly ledger: Pick<RunReader, 'findings'> & Pick<RunWriter, 'storeView' | 'storeFindings'>;
  readonly run: string;
  /** YYYY-MM-DD. */
  readonly today: string;
  readonly comparer: Comparer;
  readonly secondLook: SecondLook;
  readonly watch: Stopwatch;
}

export interface Judge {
  /** Stores the view; judges and stores its group when it was the last one, unless a view of it is in doubt and comes once more. */
  take(result: ViewResult): Promise<{ readonly result: ViewResult; readonly isSecond: boolean }>;
  /** Judges groups that never became complete (a run that was ended). */
  rest(): Promise<void>;
  /** Themes that changed no colour on any page that was judged. */
  idleThemes(): readonly IdleTheme[];
  /** The same for somebody who adds up the parts of a run. */
  themeEffects(): EffectFacts;
}

export function judgeGroups(input: JudgeInput): Judge {
  const { configuration, ledger, run, watch, secondLook } = input;
  const owed = new Map<string, number>();
  for (const view of input.views) owed.set(groupId(view), (owed.get(groupId(view)) ?? 0) + 1);
  const waiting = new Map<string, ViewResult[]>();
  const effects = openThemeEffects(configuration.themes, configuration.reference);
  /** Complete groups that wait for the same page at rest, by its group. */
  const states = new Map<string, readonly string[]>();
  /** Findings of pictures, by view, until the view's group is judged. */
  const drift = new Map<string, readonly FindingEntry[]>();

  async function judge(id: string): Promise<void> {
    const group = waiting.get(id) ?? [];
    waiting.delete(id);
    const judged = group.flatMap((result): JudgedView[] => {
      if (result.status === 'failed') return [];
      return [{ view: result.view, tone: toneOf(configuration, result.view.theme), samples: result.samples }];
    });
    effects.add(judged);
    const found = runChecks(judged, checkSettings(input, group[0]?.view));
    const rest = group[0] === undefined || restOf(group[0].view) === id ? null : await findingsAtRest(ledger, run, group[0].view);
    const findings = rest === null ? found : foldStates(found, rest);
    const notes = unmatchedNotes(judged, configuration.reference);
    await ledger.storeFindings(
      run,
      judged.map(({ view }) => ({
        view,
        ...noteOf(notes.get(view.id)),
        findings: [...findings.filter((finding) => finding.view === view.id).map(entryOf), ...(drift.get(view.id) ?? [])],
      })),
    );
    for (const { view } of judged) drift.delete(view.id);
    const held = states.get(id) ?? [];
    states.delete(id);
    for (const state of held) await judge(state);
  }

  /** Every view of the group is in: it is judged now, or right after the same page at rest. */
  async function complete(id: string, view: View): Promise<void> {
    const rest = restOf(view);
    if (rest !== id && (owed.get(rest) ?? 0) > 0) states.set(rest, [...(states.get(rest) ?? []), id]);
    else await judge(id);
  }

  async function store(result: ViewResult): Promise<void> {
    const { shot } = await watch.time('storing', () => ledger.storeView(run, result));
    if (result.status === 'captured' && shot !== null) {
      drift.set(result.view.id, await watch.time('judging', () => input.comparer.compare(result, shot)));
    }
  }

  function join(id: string, result: ViewResult): void {
    waiting.set(id, [...(waiting.get(id) ?? []), result]);
  }

  return {
    async take(given) {
      const { result: kept, isSecond, isStored } = secondLook.better(given);
      const result = withoutComparison(kept);
      if (!isStored) await store(result);
      const id = groupId(result.view);
      join(id, result);
      const left = (owed.get(id) ?? 1) - 1;
      const group = waiting.get(id) ?? [];
      const doubted = left === 0 ? secondLook.doubted(group) : [];
      owed.set(id, left + doubted.length);
      if (doubted.length > 0)
        waiting.set(
          id,
          group.filter((each) => !doubted.includes(each)),
        );
      else if (left === 0) await watch.time('judging', () => complete(id, result.view));
      return { result, isSecond };
    },
    async rest() {
      for (const result of secondLook.rest()) join(groupId(result.view), result);
      const atRest = [...waiting].filter(([id, [first]]) => first !== undefined && restOf(first.view) === id);
      for (const [id] of [...atRest, ...waiting]) if (waiting.has(id)) await judge(id);
    },
    idleThemes: () => effects.idle(),
    themeEffects: () => effects.facts(),
  };
}

/** What an earlier run said of the comparison does not hold for this one. */
function withoutComparison(result: ViewResult): ViewResult {
  if (result.status === 'failed' || !result.notes.some(isOfComparison)) return result;
  return { ...result, notes: result.notes.filter((note) => !isOfComparison(note)) };
}

function isOfComparison(note: Note): boolean {
  return meaningOf(note) === 'compared';
}

function noteOf(note: Note | undefined): { readonly note?: Note } {
  return note === undefined ? {} : { note };
}

function restOf(view: View): string {
  return groupId({ ...view, state: REST_STATE });
}

/** From the ledger: a run that is resumed may have judged the page at rest before it was cut off. */
function findingsAtRest(ledger: Pick<RunReader, 'findings'>, run: string, { page, viewport }: View): Promise<readonly Finding[]> {
  return readAll((slice) => ledger.findings(run, { page, viewport, state: REST_STATE, ...slice }));
}

export function entryOf(finding: Finding): FindingEntry {
  const { id, check, level, key, selector, rect, message, measured, expected, owner, exemption } = finding;
  return {
    id,
    draft: { check, level, key, selector, rect, message, measured, expected },
    ...(owner === undefined ? {} : { owner }),
    ...(exemption === undefined ? {} : { exempt: exemption }),
  };
}
