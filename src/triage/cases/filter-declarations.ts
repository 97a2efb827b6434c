// Where filters are declared: of several places the one that sorts first, so that the order of views leaves no trace.
import type { CaseFilter } from './case.ts';

export function filterDeclarations(): {
  learn(theme: number, filter: CaseFilter): void;
  of(theme: number, filter: CaseFilter): CaseFilter;
} {
  const known = new Map<string, { readonly text: string; readonly filter: CaseFilter }>();
  const keyOf = (theme: number, { selector, filter }: CaseFilter): string => `${theme} ${selector} ${filter}`;
  return {
    learn: (theme, filter) => {
      const key = keyOf(theme, filter);
      const text = JSON.stringify(filter.written);
      const before = known.get(key);
      if (before === undefined || text < before.text) known.set(key, { text, filter });
    },
    of: (theme, filter) => known.get(keyOf(theme, filter))?.filter ?? filter,
  };
}
