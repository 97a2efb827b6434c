// A text or a graphic of a view → its verdict, as exports and the report show it. The checks judge the same facts by the same functions.
import type { ContrastLevel } from '../colour/text-requirement.ts';
import type { GraphicSample, TextSample } from '../samples/sample.ts';
import type { SampleVerdict } from '../samples/sample-verdict.ts';
import type { ViewRef } from '../samples/view.ts';
import { graphicContrastAsked, graphicReaches, textContrastAsked, textReaches } from './contrast-asked.ts';
import type { ExemptionRule } from './exemption-cover.ts';
import { exemptionAt } from './run-checks.ts';

/** What a run judged by. */
export interface Standard {
  readonly level: ContrastLevel;
  /** As configured then; samples name those that match them by index. */
  readonly exempt: readonly ExemptionRule[];
  /** YYYY-MM-DD */
  readonly today: string;
}

/** @param run AA and no exemptions where it kept no standard */
export function standardOf(run: {
  readonly startedAt: string;
  readonly standard: Pick<Standard, 'level' | 'exempt'> | null;
}): Standard {
  return { ...(run.standard ?? { level: 'AA', exempt: [] }), today: run.startedAt.slice(0, 10) };
}

export function verdictOnSample(sample: TextSample | GraphicSample, view: ViewRef, standard: Standard): SampleVerdict {
  const { exempt, why } = sample;
  if (exempt !== null) return { required: null, exempt, verdict: 'exempt', ...(why === undefined ? {} : { why }) };
  return sample.kind === 'text' ? onText(sample, view, standard) : onGraphic(sample);
}

function onText(sample: TextSample, view: ViewRef, standard: Standard): SampleVerdict {
  const rule = exemptionAt(sample, 'text-contrast', view, standard);
  if (rule !== undefined) {
    return { required: null, exempt: rule.logotype === true ? 'logotype' : 'configured', verdict: 'exempt', why: rule.why };
  }
  const required = textContrastAsked(sample, standard.level);
  if (sample.unread !== undefined) return { required, exempt: null, verdict: 'unknown', why: sample.unread };
  return { required, exempt: null, verdict: required === null ? 'exempt' : textReaches(sample, required) };
}

function onGraphic(sample: GraphicSample): SampleVerdict {
  const required = graphicContrastAsked(sample);
  return { required, exempt: null, verdict: required === null ? 'exempt' : graphicReaches(sample, required) };
}
