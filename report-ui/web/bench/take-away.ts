// A proposal to paste: custom properties for the pages of each theme.
import { toCssText } from '../../../src/colour/format-color.ts';
import type { TableIndex } from '../../../src/triage/tokens/table-index.ts';

/** Every property whose colour differs, so that it also works where a build wrote aliases out. */
export function cssOf(before: TableIndex, after: TableIndex): string {
  return before.table.themes
    .map(({ name }, theme) => {
      const lines = before.table.tokens.flatMap(({ properties, path }, token) => {
        const [now, then] = [before.colorOf(theme, token), after.colorOf(theme, after.tokenAt(path))];
        if (now === null || then === null || toCssText(now) === toCssText(then)) return [];
        return properties.map((property) => `  ${property}: ${toCssText(then)};`);
      });
      return lines.length === 0 ? '' : `/* ${name} */\n:root {\n${lines.join('\n')}\n}\n`;
    })
    .filter((text) => text !== '')
    .join('\n');
}
