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

/** What is known for one set of style sheets. */
interface Answers {
  readonly known: Map<string, Written>;
  /** Being looked up in another tab: none of them rejects. */
  readonly pending: Map<string, Promise<void>>;
}

/** Sets of style sheets of which answers are kept: each page whose styles stand in itself is one. */
const MOST_SETS = 32;

export function openRulesLookedUp(): RulesLookedUp {
  const sets = new Map<string, Answers>();
  const answersFor = (sheets: string): Answers => {
    const answers = sets.get(sheets) ?? { known: new Map<string, Written>(), pending: new Map<string, Promise<void>>() };
    // The one that was used last comes last.
    sets.delete(sheets);
    sets.set(sheets, answers);
    for (const oldest of sets.keys()) if (sets.size > MOST_SETS) sets.delete(oldest);
    return answers;
  };
  return {
    whereWritten: async (tab, asks, wishes) => {
      const deadline = performance.now() + wishes.withinMs;
      const left = (): typeof wishes => ({ ...wishes, withinMs: Math.max(0, deadline - performance.now()) });
      const behind = wishes.under === undefined ? await rulesBehind(tab, asks) : null;
      const { known, pending } = answersFor(behind?.sheets ?? '');
      const places = asks.map((ask, at): Place => ({ ask, at, told: behind?.places[at] ?? null }));
      const found = new Map<number, Written>();
      let looked = 0;
      const look = async (those: readonly Place[]): Promise<void> => {
        if (those.length === 0) return;
        looked += those.length;
        const asked = those.map(({ ask }) => ask);
        const answers = whereWritten(tab, asked, left()).then((all) => {
          for (const [index, { at, told: key }] of those.entries()) {
            const written = all[index];
            found.set(at, written ?? []);
            // What took too long by itself would do so on the next page. The last one may have been cut off by the end of all time.
            const isWhole = index < all.length - 1 || performance.now() < deadline;
            if (key !== null && written !== undefined && (written.length > 0 || isWhole)) known.set(key, written);
          }
        });
        const done = answers.catch(() => undefined);
        for (const { told: key } of those) if (key !== null) pending.set(key, done);
        try {
          await answers;
        } finally {
          for (const { told: key } of those) if (key !== null && pending.get(key) === done) pending.delete(key);
        }
      };
      const isOpen = ({ told: key }: Place): boolean => key === null || !known.has(key);
      const first = firstOfEach(places);
      await look(first.filter((place) => isOpen(place) && (place.told === null || !pending.has(place.told))));
      // The answers of other tabs; what one of them did not come to is looked up here after all.
      await Promise.all(first.flatMap(({ told: key }) => (key === null ? [] : (pending.get(key) ?? []))));
      await look(first.filter((place) => isOpen(place) && !found.has(place.at)));
      const firstAt = new Map(first.map(({ told: key, at }) => [key, at]));
      const answerOf = ({ at, told: key }: Place): Written =>
        found.get(at) ?? (key === null ? undefined : (known.get(key) ?? found.get(firstAt.get(key) ?? at))) ?? [];
      return { found: places.map(answerOf), looked };
    },
  };
}

interface Place {
  readonly ask: WrittenAsk;
  readonly at: number;
  /** The rules behind it; null where nothing can be told: it is looked up by itself. */
  readonly told: string | null;
}

/** Of places with the same rules behind them the first. */
function firstOfEach(places: readonly Place[]): readonly Place[] {
  const seen = new Set<string>();
  return places.filter(({ told }) => {
    if (told === null) return true;
    if (seen.has(told)) return false;
    seen.add(told);
    return true;
  });
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
