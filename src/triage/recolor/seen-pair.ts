// What stands in front of what, as seen.
import type { Opaque } from '../../colour/color.ts';

export interface SeenPair {
  readonly fore: Opaque;
  readonly back: Opaque;
}
