// What counts as text: icons drawn with fonts and emoji are graphics.

const TEXT_SHOWN = 120;

export function shownText(raw: string): string {
  return raw
    .replace(/[\s\u00ad\u200b-\u200f\u2060\ufeff]+/gu, ' ')
    .trim()
    .slice(0, TEXT_SHOWN);
}

/** Private use (Unicode 16 §23.5) or emoji only. */
export function isGraphic(text: string): boolean {
  return /^[\p{Co}\s\p{Emoji_Presentation}\p{Emoji_Modifier}\u200d\ufe0f]+$/u.test(text) || /^(?:\p{Emoji}\ufe0f\s*)+$/u.test(text);
}

/** Fonts whose letters are icons: their words are never seen (ours, by the names such fonts go by). */
export function isIconFont(fontFamily: string): boolean {
  const first = fontFamily.split(',')[0] ?? '';
  return /icon|symbols|glyph|awesome/iu.test(first) && !/silicon|segoe ui symbol/iu.test(first);
}

/** No letter, no digit: separators, bullets, arrows, stars. */
export function isSymbolOnly(text: string): boolean {
  return !/[\p{L}\p{N}]/u.test(text);
}
