// The filters that lie over a whole page, by theme, told from its pictures: what was seen went through them.
import type { PictureSample, Sample } from '../samples/sample.ts';
import type { CaseFilter } from '../triage/cases/case.ts';
import { PAGE_ROOTS } from '../triage/cases/collect-cases.ts';

export interface RootFilters {
  add(theme: string, samples: Iterable<Sample>): void;
  /** Innermost first. */
  of(theme: string): readonly CaseFilter[];
}

export function openRootFilters(): RootFilters {
  const themes = new Map<string, Map<string, CaseFilter>>();
  return {
    add: (theme, samples) => {
      const here = themes.get(theme) ?? new Map<string, CaseFilter>();
      themes.set(theme, here);
      for (const sample of samples) if (sample.kind === 'picture') addOf(here, sample);
    },
    of: (theme) =>
      [...(themes.get(theme)?.values() ?? [])].toSorted(
        (one, other) => PAGE_ROOTS.indexOf(other.selector) - PAGE_ROOTS.indexOf(one.selector),
      ),
  };
}

function addOf(filters: Map<string, CaseFilter>, { filters: own }: PictureSample): void {
  for (const { selector, filter } of own)
    if (PAGE_ROOTS.includes(selector)) filters.set(`${selector} ${filter}`, { selector, filter });
}
