// The colour of a chain of grounds by formula: opacity groups, blend modes and colour filters as in Compositing and Blending 1
// and Filter Effects 1.
import type { Color, Opaque } from '../../src/colour/color.ts';
import { TRANSPARENT } from '../../src/colour/color.ts';
import type { BlendMode } from '../../src/colour/composite.ts';
import { applyFilters } from '../../src/colour/filters.ts';
import type { FilterFunction } from '../../src/colour/filters.ts';
import { blendOver, over, withOpacity } from '../../src/colour/composite.ts';

/** One element of the chain, bottom first. */
export interface GroundPaint {
  /** Its background; null: none. */
  readonly color: Color | null;
  /** Of the element and all above it in the chain, 0–1. */
  readonly opacity: number;
  readonly blend: BlendMode;
  /** Stops blending of what it holds at its own edge. */
  readonly isolates: boolean;
  /** Act on the element with all it holds, before its opacity. */
  readonly filters: readonly FilterFunction[];
}

/**
 * Paints the chain and then `ink` (null: nothing) over an opaque canvas.
 * An element with opacity, blend mode or isolation is painted with all it holds as one group; the others paint on as they come.
 */
export function paintChain(canvas: Opaque, chain: readonly GroundPaint[], ink: Color | null): Opaque {
  // The canvas takes no part in blending: the page is a group that is laid on it (Compositing 1 §2.2.1; Chromium).
  return over(paintFrom(chain, 0, TRANSPARENT, ink), canvas);
}

function paintFrom(chain: readonly GroundPaint[], from: number, below: Color, ink: Color | null): Color {
  const ground = chain[from];
  if (ground === undefined) return ink === null ? below : over(ink, below);
  const grouped = ground.opacity < 1 || ground.blend !== 'normal' || ground.isolates || ground.filters.length > 0;
  if (!grouped) return paintFrom(chain, from + 1, ground.color === null ? below : over(ground.color, below), ink);
  const group = paintFrom(chain, from + 1, ground.color ?? TRANSPARENT, ink);
  const filtered = ground.filters.length === 0 ? group : applyFilters(group, ground.filters);
  return blendOver(ground.blend, withOpacity(filtered, ground.opacity), below);
}
