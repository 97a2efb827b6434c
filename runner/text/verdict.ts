// Contrast over a run's area → verdict (contract §3: pass when the least reaches what is required, fail when the most does not).
import { requiredContrast, isLargeText } from '../../src/colour/text-requirement.ts';
import type { ContrastLevel } from '../../src/colour/text-requirement.ts';
import type { ExemptReason, TextSample } from '../../src/samples/sample.ts';

export interface Judged {
  readonly large: boolean;
  readonly required: TextSample['required'];
  readonly exempt: ExemptReason | null;
  readonly verdict: TextSample['verdict'];
  readonly why?: string;
}

export interface ToJudge {
  readonly contrast: { readonly min: number; readonly max: number };
  readonly fontSizeCssPx: number;
  readonly fontWeight: number;
  readonly level: ContrastLevel;
  readonly exempt?: { readonly reason: ExemptReason; readonly why: string } | undefined;
  /** Set where the contrast is not known. */
  readonly unknown?: string | undefined;
}

/** Nothing is rounded: 4.4999 fails (WCAG 2.2, Understanding SC 1.4.3). */
export function judge(facts: ToJudge): Judged {
  const large = isLargeText(facts);
  if (facts.exempt !== undefined) {
    return { large, required: null, exempt: facts.exempt.reason, verdict: 'exempt', why: facts.exempt.why };
  }
  const required = requiredContrast(large, facts.level);
  if (facts.unknown !== undefined) return { large, required, exempt: null, verdict: 'unknown', why: facts.unknown };
  const { min, max } = facts.contrast;
  return { large, required, exempt: null, verdict: min >= required ? 'pass' : max < required ? 'fail' : 'mixed' };
}
