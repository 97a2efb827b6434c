// Token files that were changed where they lie tell nothing of how they were: what the pages of the run served does.
import { findColor } from '../colour/parse-color.ts';
import type { ServedProperty } from '../triage/tokens/build-faults.ts';
import type { Definition, TokenEntry, TokenTable } from '../triage/tokens/token-table.ts';

/** @returns the table with the colours that pages had; what no page served is as the files have it */
export function servedTable(table: TokenTable, served: readonly ServedProperty[]): TokenTable {
  const values = new Map(served.map(({ theme, name, value }) => [JSON.stringify([theme, name]), value]));
  const asServed = ({ properties }: TokenEntry, theme: string, now: Definition | null): Definition | null => {
    const value = properties.map((name) => values.get(JSON.stringify([theme, name]))).find((text) => text !== undefined);
    const color = value === undefined ? null : findColor(value);
    return color === null || now === null ? now : { kind: 'literal', color, declared: now.declared };
  };
  return {
    ...table,
    tokens: table.tokens.map((token) => ({
      ...token,
      definitions: token.definitions.map((now, at) => asServed(token, table.themes[at]?.name ?? '', now)),
    })),
  };
}
