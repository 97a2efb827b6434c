// Candidates for a literal colour, and what follows.
import type { Role } from '../roles.ts';
import type { ThemeMatch } from './match-query.ts';

/** How near: below 1 the same, below 2 near, below 5 similar (a person decides), else none. */
export type Confidence = 'same' | 'near' | 'similar' | 'none';

export interface TokenMatch {
  readonly token: string;
  /** False when the token was never met, and nothing says what it is for. */
  readonly roleKnown: boolean;
  /** It takes its colour from another token, or none takes it from it: no ramp step. */
  readonly semantic: boolean;
  readonly themes: readonly ThemeMatch[];
  /** The last run's cause of this very literal names it. */
  readonly told: boolean;
  /** It is met or declared together with what the literal lies on. */
  readonly paired: boolean;
  /** What speaks against it (`fit.ts`): lower suits better. */
  readonly strain: number;
  /** Largest CIEDE2000 (D65) over the themes for which the literal was written. */
  readonly deltaE: number;
  /** Themes in which the pair would fail, each with what is wrong. */
  readonly failing: readonly Failing[];
  readonly confidence: Confidence;
  /** Why it ranks here, in a sentence. */
  readonly reason: string;
}

export interface Failing {
  readonly theme: string;
  readonly why: string;
}

export interface OtherRole {
  readonly token: string;
  readonly roles: readonly Role[];
  readonly deltaE: number;
}

export interface MatchResult {
  /** Best first; candidates that fail somewhere stand last. */
  readonly matches: readonly TokenMatch[];
  /** Others that nothing tells from the first: the same colour in every theme, and as little known of what they are for. */
  readonly tied: readonly string[];
  /** No token comes near and keeps its contrast everywhere. */
  readonly gap: boolean;
  /** Of a colour that near, but met in other roles only; nearest first. */
  readonly wrongRole: readonly OtherRole[];
  /** What to do, in a sentence. */
  readonly advice: string;
}
