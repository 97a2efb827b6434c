// Where colours are written, looked up once for the rules behind them: places that are painted by the same declarations (as the page itself
// can tell) share an answer, on all pages of a run that have the same style sheets.
import type { WireRulesBehind } from '../page/wire/wire.ts';
import type { Tab } from '../tab/tab.ts';
import type { Under, Written, WrittenAsk } from './where-written.ts';
import { whereWritten } from './where-written.ts';

/** One for each run. */
export interface RulesLookedUp {
  /**
   * As `whereWritten`. @param under rules are looked up as they match in a state; then nothing is shared
   * @returns as many as `asks`, and how many of them were looked up
   */
  whereWritten(
    tab: Tab,
    asks: readonly WrittenAsk[],
    wishes: { readonly withinMs: number; readonly under: Under | undefined },
  ): Promise<{ readonly found: readonly Written[]; readonly looked: number }>;
}

/** Sets of style sheets of which answers are kept: each page whose styles stand in itself is one. */
const MOST_SETS = 32;

export function openRulesLookedUp(): RulesLookedUp {
  const sets = new Map<string, Map<string, Written>>();
  const answersFor = (sheets: string): Map<string, Written> => {
    const answers = sets.get(sheets) ?? new Map<string, Written>();
    // The one that was used last comes last.
    sets.delete(sheets);
    sets.set(sheets, answers);
    for (const oldest of sets.keys()) if (sets.size > MOST_SETS) sets.delete(oldest);
    return answers;
  };
  return {
    whereWritten: async (tab, asks, wishes) => {
      const behind = wishes.under === undefined ? await rulesBehind(tab, asks) : null;
      const answers = behind === null ? new Map<string, Written>() : answersFor(behind.sheets);
      // A place of which nothing can be told is looked up by itself.
      const keys = asks.map((_, at): string | number => behind?.places[at] ?? at);
      const wanted = new Map<string | number, WrittenAsk>();
      for (const [at, ask] of asks.entries()) {
        const key = keys[at] ?? at;
        if (typeof key === 'number' || !answers.has(key)) wanted.set(key, wanted.get(key) ?? ask);
      }
      const looked = wanted.size === 0 ? [] : await whereWritten(tab, [...wanted.values()], wishes);
      const fresh = new Map([...wanted.keys()].map((key, index) => [key, looked[index] ?? []]));
      // What took too long may be found the next time.
      for (const [key, written] of fresh) if (typeof key === 'string' && written.length > 0) answers.set(key, written);
      const found = keys.map((key) => fresh.get(key) ?? (typeof key === 'string' ? answers.get(key) : undefined) ?? []);
      return { found, looked: wanted.size };
    },
  };
}

/** In the document itself: what lies in other trees, and parts of elements, are each looked up. */
async function rulesBehind(tab: Tab, asks: readonly WrittenAsk[]): Promise<WireRulesBehind> {
  const inDocument = [...asks.entries()].filter(([, { selector }]) => !/ >>> |::/u.test(selector));
  const { sheets, places } = await tab.call('rulesBehind', {
    places: inDocument.map(([, { selector, property }]) => [selector, property] as const),
  });
  const told = new Map(inDocument.map(([at], index) => [at, places[index] ?? null]));
  return { sheets, places: asks.map((_, at) => told.get(at) ?? null) };
}
