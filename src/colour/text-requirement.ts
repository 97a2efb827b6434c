// Which contrast WCAG 2.2 asks of text of a size and weight (SC 1.4.3, 1.4.6, definition "large scale").

export type ContrastLevel = 'AA' | 'AAA';

/** 18 pt in CSS px. */
const LARGE_CSS_PX = 24;
/** 14 pt in CSS px is 18⅔; Understanding SC 1.4.3 says "approximately 18.5px". Ours: 18.66, so that the computed 18.6667px counts. */
const LARGE_BOLD_CSS_PX = 18.66;
/** WCAG gives no number for bold; CSS `bold` is 700 (CSS Fonts 4 §2.2). */
const BOLD_WEIGHT = 700;

/** @param fontSizeCssPx as rendered, i.e. after transforms and zoom */
export function isLargeText(text: { readonly fontSizeCssPx: number; readonly fontWeight: number }): boolean {
  return text.fontSizeCssPx >= LARGE_CSS_PX || (text.fontSizeCssPx >= LARGE_BOLD_CSS_PX && text.fontWeight >= BOLD_WEIGHT);
}

/** Least contrast ratio: 4.5 or 3 (large) at AA, 7 or 4.5 at AAA. */
export function requiredContrast(large: boolean, level: ContrastLevel): 3 | 4.5 | 7 {
  if (level === 'AAA') return large ? 4.5 : 7;
  return large ? 3 : 4.5;
}
