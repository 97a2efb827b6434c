// Tokens that get other colours → what a view wears to show them: a colour for every custom property that changes.
import type { Color } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import type { TableIndex } from './tokens/table-index.ts';
import type { WornProperty } from './try-out.ts';

/** @param theme place in the table's list @param then the colour that a token gets; null where that is not known */
export function propertiesUnder(index: TableIndex, theme: number, then: (token: number) => Color | null): readonly WornProperty[] {
  return index.table.tokens.flatMap(({ properties }, token) => {
    const [before, after] = [index.colorOf(theme, token), then(token)];
    if (before === null || after === null || toCssText(before) === toCssText(after)) return [];
    return properties.map((name) => ({ name, color: toCssText(after) }));
  });
}
