// All checks over samples. `drift` is made by comparing pictures, `token-fault` by reading token files.
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

export const CHECKS = {
  'text-contrast': textContrast,
  'graphic-contrast': graphicContrast,
  neon,
  glow,
  flipped,
  unthemed,
  separation,
  'inverted-picture': invertedPicture,
} satisfies Record<Exclude<CheckId, 'drift' | 'token-fault'>, Check>;

/** In the order of the table. */
export const ALL_CHECKS: readonly Check[] = Object.values(CHECKS);
