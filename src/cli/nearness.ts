// Words for how near a token comes to a literal colour.
import type { Confidence } from '../tokens/match/match-result.ts';

/** `same` is said of what eyes cannot tell apart; of the bytes `exact` is. */
export const NEARNESS = {
  same: 'same to the eye',
  near: 'near',
  similar: 'similar',
  none: 'another colour',
} as const satisfies Record<Confidence, string>;
