// A table of small pieces of page and what must be measured in each.

export interface Expected {
  /** Start of the run's text; the only run when absent. */
  readonly text?: string;
  /** `#rrggbb`, of the pair with the lowest contrast. */
  readonly color?: string;
  readonly background?: string;
  readonly verdict?: 'pass' | 'fail' | 'mixed' | 'exempt' | 'unknown';
  readonly exempt?: 'inactive' | 'hidden' | 'decoration' | 'logotype' | 'configured' | 'behind';
  /** Bounds of the least and of the highest contrast. */
  readonly min?: readonly [from: number, to: number];
  readonly max?: readonly [from: number, to: number];
  readonly fontSize?: number;
  /** CSS px: the run's box as it is seen may be no larger. */
  readonly most?: { readonly width: number; readonly height: number };
  readonly large?: boolean;
}

export interface Case {
  /** A sentence about the product. */
  readonly name: string;
  /** Where the expected values come from: section, arithmetic, or both. */
  readonly source: string;
  /** At most 100 px high, 700 wide. `ID` stands for an id of the case's own. */
  readonly html: string;
  /** Empty: nothing is judged. */
  readonly expect: readonly Expected[];
  /** 8-bit codes a colour may differ by; 2 where absent: one of rounding in each of two layers. */
  readonly within?: number;
}

/** `#rrggbb` from channels as the arithmetic gives them, 0–255 with fractions. */
export function codes(red: number, green: number, blue: number): string {
  const part = (v: number): string =>
    Math.round(Math.min(255, Math.max(0, v)))
      .toString(16)
      .padStart(2, '0');
  return `#${part(red)}${part(green)}${part(blue)}`;
}
