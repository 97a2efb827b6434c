// The few facts about computed colours that the page side needs; everything else is the Node side's matter.

/**
 * Alpha of a computed colour, 0–1. Chromium serialises `rgb(r, g, b)`, `rgba(r, g, b, a)` and `fn(… / a)` (CSS Color 4 §15).
 */
export function alphaOf(color: string): number {
  if (color === 'transparent') return 0;
  const slash = /\/\s*([\d.e-]+|none)\)$/u.exec(color);
  if (slash !== null) return slash[1] === 'none' ? 0 : Number(slash[1]);
  const legacy = /^rgba\(.*,\s*([\d.e-]+)\)$/u.exec(color);
  return legacy === null ? 1 : Number(legacy[1]);
}

export function isTransparent(color: string): boolean {
  return color === 'rgba(0, 0, 0, 0)' || alphaOf(color) === 0;
}
