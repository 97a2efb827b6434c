// The few facts about computed colours that the page side needs; everything else is the Node side's matter.

/** `transparent` and its relatives as Chromium serialises them: legacy `rgba(…, 0)` or `… / 0)`. */
export function isTransparent(color: string): boolean {
  return color === 'rgba(0, 0, 0, 0)' || color === 'transparent' || / \/ 0\)$/u.test(color) || /^rgba\(.*, 0\)$/u.test(color);
}
