// Which contrast is asked of a place (WCAG 2.2 SC 1.4.3, 1.4.6, 1.4.11), and what that makes of it. Asked here by the checks, by triage
// and by whoever shows a sample with its verdict, so that all of them mean the same.
import { LEAST_GRAPHIC_CONTRAST } from '../colour/graphic-requirement.ts';
import type { ContrastLevel } from '../colour/text-requirement.ts';
import { requiredContrast } from '../colour/text-requirement.ts';
import type { SampleOf } from './check.ts';

type Text = SampleOf<'text'>;
type Graphic = SampleOf<'graphic'>;

/** Null where nothing is asked: inactive controls, decoration, what is hidden (SC 1.4.3, "Incidental"). */
export function textContrastAsked({ exempt, large }: Pick<Text, 'exempt' | 'large'>, level: ContrastLevel): 3 | 4.5 | 7 | null {
  return exempt === null ? requiredContrast(large, level) : null;
}

/** Null for inactive controls and decoration (SC 1.4.11). */
export function graphicContrastAsked({ exempt }: Pick<Graphic, 'exempt'>): typeof LEAST_GRAPHIC_CONTRAST | null {
  return exempt === null ? LEAST_GRAPHIC_CONTRAST : null;
}

/** Nothing is rounded: 4.4999 fails (WCAG 2.2, Understanding SC 1.4.3). `mixed`: on part of what lies behind. */
export function textReaches({ contrast: { min, max } }: Pick<Text, 'contrast'>, asked: number): 'pass' | 'fail' | 'mixed' {
  if (min >= asked) return 'pass';
  return max < asked ? 'fail' : 'mixed';
}

export function graphicReaches({ contrast, byBrowser }: Pick<Graphic, 'contrast' | 'byBrowser'>, asked: number): 'pass' | 'fail' {
  return contrast >= asked || byBrowser === true ? 'pass' : 'fail';
}
