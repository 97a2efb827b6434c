// What is drawn in an ink → the contrast it needs.
import type { ContrastLevel } from '../../colour/text-requirement.ts';
import { requiredContrast } from '../../colour/text-requirement.ts';

/** Text of any size, large text only, icons and edges. */
export type Drawn = 'text' | 'large' | 'graphic';

/** WCAG 2.2: SC 1.4.3 and 1.4.6 for texts, SC 1.4.11 for icons and edges. */
export function neededContrast(drawn: Drawn, level: ContrastLevel): number {
  return drawn === 'graphic' ? 3 : requiredContrast(drawn === 'large', level);
}
