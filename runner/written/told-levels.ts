// What the page tells of the rules behind a place → the same levels that the browser would list, from the text of its style sheets. Text is
// fetched once for all pages of a run with the same files.
import { CssSyntaxError, parse } from 'postcss';
import type { MatchedProperty, MatchedRule, SheetHeader } from '../driver/page-driver.ts';
import type { WireLevel, WireRule, WireRulesBehind, WireSheet } from '../page/wire/written.ts';
import { SHORTHANDS } from '../page/color-properties.ts';
import { textPrint } from '../page/text-print.ts';
import type { Tab } from '../tab/tab.ts';
import type { Level } from './cascade.ts';
import type { Weight } from './selector.ts';
import { compareWeights, weightOf } from './selector.ts';
import type { SheetText } from './sheet-text.ts';
import { openSheetText } from './sheet-text.ts';

/** Of one set of style sheets. */
export interface ToldSheets {
  /** By index of the sheet, as text: `MatchedStyle.styleSheetId`. */
  readonly headers: ReadonlyMap<string, SheetHeader>;
  /** Fetches the texts that the rules stand in. */
  read(tab: Tab, behind: WireRulesBehind): Promise<void>;
  /** Of a place of what was read. @returns null where the browser alone can tell */
  levels(rules: readonly WireRule[], place: readonly WireLevel[]): readonly Level[] | null;
}

/** A style sheet that has an address. */
export interface ReadFile {
  readonly header: SheetHeader;
  readonly text: SheetText | null;
}

/** @param files what was read before, by address; gains what is read here */
export function openToldSheets(files: Map<string, ReadFile>): ToldSheets {
  const headers = new Map<string, SheetHeader>();
  const texts = new Map<string, SheetText>();
  /** By rule, and by text of a `style` attribute. */
  const declarations = new Map<string, readonly MatchedProperty[] | null>();

  const put = (at: number, { header, text }: ReadFile): void => {
    headers.set(String(at), header);
    if (text !== null) texts.set(String(at), text);
  };

  const ruleOf = (rule: WireRule): MatchedRule | null => {
    const cssProperties = declarations.get(keyOf(rule)) ?? null;
    if (cssProperties === null) return null;
    const style = { styleSheetId: String(rule.sheet), cssProperties };
    const layers = rule.layer === '' ? [] : [{ text: rule.layer }];
    return { rule: { origin: 'regular', selectorList: { text: rule.text }, style, layers } };
  };

  const levelOf = (rules: readonly WireRule[], level: WireLevel): Level | null => {
    const matched = inCascade(level, rules)?.map(ruleOf) ?? [null];
    const inline = level.inline === null ? null : (declarations.get(level.inline) ?? null);
    if (matched.includes(null) || (level.inline !== null && inline === null)) return null;
    const attributes = level.attributes.map(([name, value]) => ({ name, value }));
    return {
      rules: matched.flatMap((rule) => rule ?? []),
      inline: inline === null ? null : { cssProperties: inline },
      attributes: attributes.length === 0 ? null : { cssProperties: attributes },
    };
  };

  /** What rules and `style` attributes declare, as far as the browser takes it; null where scripts changed it. */
  const learn = async (tab: Tab, { rules, places }: WireRulesBehind): Promise<void> => {
    const inlines = places.flatMap((place) => place?.levels?.flatMap(({ inline }) => inline ?? []) ?? []);
    const read = new Map<string, Block>();
    for (const rule of rules)
      if (!declarations.has(keyOf(rule)))
        read.set(keyOf(rule), { all: texts.get(String(rule.sheet))?.declarations(rule) ?? null, values: rule.values });
    for (const inline of inlines) if (!declarations.has(inline)) read.set(inline, { all: declarationsIn(inline), values: {} });
    const asked = [...read.values()].flatMap(({ all }) => all ?? []).filter(mayBeLeftOut);
    const answers =
      asked.length === 0
        ? []
        : await tab.call(
            'parsed',
            asked.map(({ name, value }) => [name, value]),
          );
    const parsed = new Map(asked.map((each, at) => [each, answers[at] ?? null]));
    for (const [key, block] of read) declarations.set(key, takenOf(block, parsed));
  };

  return {
    headers,
    read: async (tab, behind) => {
      const { sheets, rules } = behind;
      const needed = [...new Set(rules.map(({ sheet }) => sheet))].filter((at) => !headers.has(String(at)));
      const missing = needed.filter((at) => {
        const file = files.get(sheets[at]?.href ?? '');
        if (file !== undefined) put(at, file);
        return file === undefined;
      });
      const fetched = missing.length === 0 ? [] : await fetchTexts(tab, sheets, new Set(missing));
      for (const [at, file] of fetched) {
        put(at, file);
        const href = sheets[at]?.href ?? null;
        if (href !== null && !file.header.isMutable) files.set(href, file);
      }
      await learn(tab, behind);
    },
    levels: (rules, place) => {
      const levels = place.map((level) => levelOf(rules, level));
      return levels.includes(null) ? null : levels.flatMap((level) => level ?? []);
    },
  };
}

/** Lowest first (CSS Cascade 5 §6.4). @returns null where a selector cannot be read */
function inCascade(level: WireLevel, rules: readonly WireRule[]): readonly WireRule[] | null {
  const weighed: { readonly rule: WireRule; readonly weight: Weight }[] = [];
  for (const [index, selectors] of level.rules) {
    const rule = rules[index];
    const weight = weightOf(selectors);
    if (rule === undefined || weight === null) return null;
    weighed.push({ rule, weight });
  }
  return weighed
    .toSorted((a, b) => a.rule.rank - b.rule.rank || compareWeights(a.weight, b.weight) || a.rule.order - b.rule.order)
    .map(({ rule }) => rule);
}

interface Block {
  readonly all: readonly MatchedProperty[] | null;
  /** What the browser has of them. */
  readonly values: WireRule['values'];
}

function keyOf({ sheet, outer, nth, steps, piece, values }: WireRule): string {
  return JSON.stringify([sheet, outer, nth, steps, piece, values]);
}

/** Whether a value with `var()` holds is seen later; custom properties take everything. */
function mayBeLeftOut({ name, value }: MatchedProperty): boolean {
  return !name.startsWith('--') && !/\bvar\(/iu.test(value);
}

/** @param parsed values as the browser writes them @returns null where the rule has others by now */
function takenOf({ all, values }: Block, parsed: ReadonlyMap<MatchedProperty, string | null>): readonly MatchedProperty[] | null {
  if (all === null) return null;
  const taken = all.filter((each) => parsed.get(each) !== null);
  const isAsRead = Object.entries(values).every(([property, value]) => {
    const own = taken.filter(({ name }) => name === property);
    const last = own.findLast(({ important }) => important === true) ?? own.at(-1);
    if (last !== undefined) return value.trim() === (parsed.get(last) ?? last.value);
    const shorthands = ['all', ...(SHORTHANDS[property] ?? [])];
    return taken.some(({ name }) => shorthands.includes(name));
  });
  return isAsRead ? taken : null;
}

/** Of a `style` attribute: where it stands in the page the browser does not tell either. @returns null for what cannot be read */
function declarationsIn(text: string): readonly MatchedProperty[] | null {
  const all: MatchedProperty[] = [];
  try {
    parse(`*{${text}}`).walkDecls(({ prop, value, important }) => {
      all.push({ name: prop, value, important: important === true, range: { startLine: 0, startColumn: 0 } });
    });
  } catch (error) {
    if (error instanceof CssSyntaxError) return null;
    throw error;
  }
  return all;
}

/** What the browser has no text of is left out. */
async function fetchTexts(
  tab: Tab,
  sheets: readonly WireSheet[],
  wanted: ReadonlySet<number>,
): Promise<readonly (readonly [sheet: number, ReadFile])[]> {
  const styles = await tab.guard('reading styles', tab.driver.openStyles());
  try {
    const lengths = new Set([...wanted].map((at) => Number.parseInt(sheets[at]?.print ?? '', 10)));
    const read: (readonly [number, ReadFile])[] = [];
    const left = new Set(wanted);
    // Of texts that are the same the first comes first.
    const inOrder = [...styles.sheets].toSorted(([, a], [, b]) => a.startLine - b.startLine || a.startColumn - b.startColumn);
    for (const [id, header] of inOrder) {
      const isFile = header.sourceURL !== '' && !header.isInline;
      const isWanted = [...left].some((at) => sheets[at]?.href === header.sourceURL);
      if (isFile ? !isWanted : !lengths.has(header.length)) continue;
      const text = await tab.guard('reading styles', styles.text(id));
      const print = isFile ? null : textPrint(text);
      const at = [...left].find((one) => (isFile ? sheets[one]?.href === header.sourceURL : sheets[one]?.print === print));
      if (at === undefined) continue;
      left.delete(at);
      read.push([at, { header, text: openSheetText(text) }]);
    }
    return read;
  } finally {
    await tab.guard('leaving styles', styles.close());
  }
}
