// All checks. A new one over samples is a file beside this one and its name in the list.
import type { CheckId } from '../samples/finding.ts';
import type { Check } from './check.ts';
import { flipped } from './flipped.ts';
import { glow } from './glow.ts';
import { graphicContrast } from './graphic-contrast.ts';
import { invertedPicture } from './inverted-picture.ts';
import { neon } from './neon.ts';
import { separation } from './separation.ts';
import { textContrast } from './text-contrast.ts';
import { unthemed } from './unthemed.ts';

/** In the order in which they are listed everywhere. */
export const ALL_CHECKS: readonly Check[] = [
  textContrast,
  graphicContrast,
  neon,
  glow,
  flipped,
  unthemed,
  separation,
  invertedPicture,
];

/** Made elsewhere: by comparing pictures, and by reading token files. */
export const MADE_ELSEWHERE = ['drift', 'token-fault'] as const;

/** Names of all checks. */
export const CHECK_IDS: readonly CheckId[] = [...ALL_CHECKS.map(({ id }) => id), ...MADE_ELSEWHERE];
