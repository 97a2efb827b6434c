// A run that lives in memory and changes page by page: what was captured last of each view, its findings, and their causes.
import type { Browser } from 'playwright';
import type { Access } from '../../../runner/app/access.ts';
import { render } from '../../../runner/render.ts';
import { foldStates } from '../../checks/fold-states.ts';
import { runChecks } from '../../checks/run-checks.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import { groupId } from '../../plan/make-plan.ts';
import type { CapturedView, FailedView } from '../../samples/captured-view.ts';
import type { Cause, Finding } from '../../samples/finding.ts';
import type { View } from '../../samples/view.ts';
import { asFindings } from './as-findings.ts';
import { checkSettings, toneOf } from './check-settings.ts';
import { dyedNames } from './execute-run.ts';
import { explainRun } from './explain-run.ts';
import { tokenFindings } from './token-findings.ts';
import { countFindings } from '../../samples/what-counts.ts';

/** What the causes were made of, at one moment. */
export interface Standing {
  readonly causes: readonly Cause[];
  /** Without exempt ones. */
  readonly findings: number;
}

export interface LiveRun {
  /** Renders these views, which must be whole groups. @returns those that could not be captured */
  update(
    views: readonly View[],
    how: {
      readonly tokens: ReadConfigured | null;
      readonly browser: Browser;
      readonly signal: AbortSignal;
      readonly onView: (view: View, isFailed: boolean) => void;
      readonly onVisit: (page: Page, requested: readonly string[]) => void;
    },
  ): Promise<readonly FailedView[]>;
  explain(tokens: ReadConfigured | null): Promise<Standing>;
}

/** Pictures are not kept: only what checks and triage read. */
type Kept = Pick<CapturedView, 'view' | 'samples' | 'properties'>;

/** @param today YYYY-MM-DD */
export function openLiveRun(from: {
  readonly configuration: Configuration;
  readonly pages: readonly Page[];
  readonly workers: number;
  readonly access: Access | undefined;
  readonly today: string;
}): LiveRun {
  const { configuration, pages, workers, access, today } = from;
  const kept = new Map<string, Kept>();
  const found = new Map<string, readonly Finding[]>();

  function judge(group: string): void {
    const members = [...kept.values()].filter(({ view }) => groupId(view) === group);
    const judged = members.map(({ view, samples }) => ({ view, samples, tone: toneOf(configuration, view.theme) }));
    found.set(group, runChecks(judged, checkSettings({ configuration, pages, today, run: '' }, members[0]?.view)));
  }

  return {
    async update(views, { tokens, browser, signal, onView, onVisit }) {
      const failed: FailedView[] = [];
      await render(
        {
          configuration,
          views,
          pages,
          dye: dyedNames(configuration, tokens),
          workers,
          signal,
          browser,
          ...(access === undefined ? {} : { access }),
          onVisit,
        },
        (result) => {
          if (result.status === 'captured') {
            const { view, samples, properties } = result;
            kept.set(view.id, { view, samples, properties });
          } else {
            kept.delete(result.view.id);
            failed.push(result);
          }
          onView(result.view, result.status === 'failed');
        },
      );
      for (const group of new Set(views.map(groupId))) judge(group);
      return failed;
    },
    async explain(tokens) {
      const ofFiles = tokens === null ? [] : tokenFindings(tokens, configuration, today).flatMap(asFindings);
      const findings = [...foldStates([...found.values()].flat()), ...ofFiles];
      const facts = {
        findings: () => Promise.resolve(findings),
        views: () => Promise.resolve([...kept.values()].map(({ view }) => view)),
        samplesOf: (view: string) => Promise.resolve(kept.get(view)?.samples ?? []),
        propertiesOf: (view: string) => Promise.resolve(kept.get(view)?.properties ?? []),
      };
      const { triaged } = await explainRun({ facts, configuration, tokens, pages, today });
      return {
        causes: triaged.causes.map(({ cause }) => cause),
        findings: countFindings(findings).total,
      };
    },
  };
}
