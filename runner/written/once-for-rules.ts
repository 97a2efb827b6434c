// Where colours are written, told once for the rules behind them: places that are painted by the same declarations (as the page itself can
// tell) share an answer, on all pages of a run that have the same style sheets. The text of the sheets says it; where it cannot, the browser
// is asked.
import type { WirePlaceBehind, WireRulesBehind } from '../page/wire/written.ts';
import type { Tab } from '../tab/tab.ts';
import type { Under, Written, WrittenAsk } from './where-written.ts';
import { trace, whereWritten } from './where-written.ts';
import { openSheets } from './sheets.ts';
import type { ReadFile, ToldSheets } from './told-levels.ts';
import { openToldSheets } from './told-levels.ts';

/** One for each run. */
export interface RulesLookedUp {
  /**
   * As `whereWritten`. @param most places that the browser is asked about; of more nothing is found @param under rules are looked up as they match in a state; then nothing is shared
   * @returns as many as `asks`; for how many of them the text was read, about how many the browser was asked
   */
  whereWritten(
    tab: Tab,
    asks: readonly WrittenAsk[],
    wishes: { readonly withinMs: number; readonly most?: number; readonly under: Under | undefined },
  ): Promise<{ readonly found: readonly Written[]; readonly read: number; readonly looked: number }>;
}

/** What is known for one set of style sheets. */
interface Answers {
  readonly known: Map<string, Written>;
  /** Being looked up in another tab: none of them rejects. */
  readonly pending: Map<string, Promise<void>>;
  readonly told: ToldSheets;
}

/** Sets of style sheets of which answers are kept: each page whose styles stand in itself is one. */
const MOST_SETS = 32;

export function openRulesLookedUp(): RulesLookedUp {
  const sets = new Map<string, Answers>();
  const files = new Map<string, ReadFile>();
  const answersFor = (sheets: string): Answers => {
    const answers = sets.get(sheets) ?? { known: new Map<string, Written>(), pending: new Map(), told: openToldSheets(files) };
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
      const { known, pending, told } = answersFor(behind?.key ?? '');
      const places = asks.map((ask, at): Place => ({ ask, at, told: null, levels: null, ...behind?.places[at] }));
      const found = new Map<number, Written>();
      const counts = { read: 0, looked: 0 };
      const keep = ({ at, told: key }: Place, written: Written): void => {
        found.set(at, written);
        if (key !== null) known.set(key, written);
      };
      /** @returns what its text does not tell */
      const read = async (those: readonly Place[]): Promise<readonly Place[]> => {
        if (behind === null || those.every(({ levels }) => levels === null)) return those;
        await told.read(tab, behind);
        const sheets = openSheets(tab, told.headers);
        const rest: Place[] = [];
        for (const place of those) {
          const levels = place.levels === null || performance.now() > deadline ? null : told.levels(behind.rules, place.levels);
          if (levels === null) rest.push(place);
          else {
            counts.read += 1;
            keep(place, await trace(sheets, levels, place.ask.property));
          }
        }
        return rest;
      };
      const ask = async (all: readonly Place[]): Promise<void> => {
        const those = all.slice(0, Math.max(0, (wishes.most ?? Infinity) - counts.looked));
        for (const { at } of all.slice(those.length)) found.set(at, []);
        if (those.length === 0) return;
        counts.looked += those.length;
        const asked = those.map((place) => place.ask);
        const answers = await whereWritten(tab, asked, left());
        for (const [index, place] of those.entries()) {
          const written = answers[index];
          // What took too long by itself would do so on the next page. The last one may have been cut off by the end of all time.
          const isWhole = index < answers.length - 1 || performance.now() < deadline;
          if (written !== undefined && (written.length > 0 || isWhole)) keep(place, written);
          else found.set(place.at, written ?? []);
        }
      };
      const look = async (those: readonly Place[]): Promise<void> => {
        if (those.length === 0) return;
        const answers = read(those).then(ask);
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
      return { found: places.map(answerOf), ...counts };
    },
  };
}

interface Place {
  readonly ask: WrittenAsk;
  readonly at: number;
  /** The rules behind it; null where nothing can be told: it is looked up by itself. */
  readonly told: string | null;
  readonly levels: WirePlaceBehind['levels'];
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

/** In the document itself: what lies in other trees is asked of the browser. */
async function rulesBehind(tab: Tab, asks: readonly WrittenAsk[]): Promise<WireRulesBehind> {
  const inDocument = [...asks.entries()].filter(([, { selector }]) => !selector.includes(' >>> '));
  const behind = await tab.call('rulesBehind', {
    places: inDocument.map(([, { selector, property }]) => [selector, property] as const),
  });
  const places = new Map(inDocument.map(([at], index) => [at, behind.places[index] ?? null]));
  return { ...behind, places: asks.map((_, at) => places.get(at) ?? null) };
}
