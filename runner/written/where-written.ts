// Where a colour is written: the declaration that wins for a property of an element, and each custom property on the way to the
// literal, with file, line and column. Asked of the browser, so only for what needs explaining: it may take seconds.
import type { MatchedLevel, MatchedStyles, Styles } from '../driver/page-driver.ts';
import { isHandedOn, isInherited, namesIn, takesInkUnset } from '../page/color-properties.ts';
import type { Tab } from '../tab/tab.ts';
import type { Level, Winner } from './cascade.ts';
import { winnerOf } from './cascade.ts';
import { nodeAt } from './node-at.ts';
import type { Sheets } from './sheets.ts';
import { openSheets } from './sheets.ts';

export interface WrittenDeclaration {
  readonly property: string;
  readonly value: string;
  /** Selector of the rule, `style attribute`, `presentation attribute`, or `browser` for its own style sheet. */
  readonly rule: string;
  readonly important: boolean;
  readonly layer?: string;
  /** Address of the style sheet (or of the page, where it stands in a `style` element), or the source its map names. */
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  readonly column?: number;
  /** How many elements above the asked one it stands on, 0: on itself. */
  readonly above: number;
}

export interface WrittenAsk {
  /** As in samples: `#id`, a path of children, `::before`, ` >>> ` into shadow trees and frames. */
  readonly selector: string;
  readonly property: string;
}

/** First the declaration that the element uses, then each hop; empty when nothing was found or it took too long. */
export type Written = readonly WrittenDeclaration[];

const MOST_HOPS = 16;
/** One element of a page with 10,000 nested rules took 23 to 40 s (measured); nobody waits for that. */
const MOST_MS = 5_000;

/** A state that the page is in no longer: the browser is told to match rules as if it were. */
export interface Under {
  readonly selector: string;
  readonly classes: readonly string[];
}

/** @param withinMs when it has passed, the rest is left out */
export async function whereWritten(
  tab: Tab,
  asks: readonly WrittenAsk[],
  { withinMs = Infinity, under }: { readonly withinMs?: number; readonly under?: Under | undefined } = {},
): Promise<readonly Written[]> {
  const deadline = performance.now() + withinMs;
  const styles = await tab.guard('reading styles', tab.driver.openStyles());
  try {
    const sheets = openSheets(tab, styles.sheets);
    const root = await tab.guard('reading the document', styles.root());
    const forced = under === undefined ? [] : await chainOf(tab, styles, under.selector, root);
    for (const node of forced) await tab.guard('reading styles', styles.force(node, under?.classes ?? []));
    const known = new Map<string, readonly Level[]>();
    const out: Written[] = [];
    for (const ask of asks) {
      const leftMs = deadline - performance.now();
      if (leftMs <= 0) break;
      let levels = known.get(ask.selector);
      if (levels === undefined)
        known.set(
          ask.selector,
          (levels = await levelsOf(tab, styles, { selector: ask.selector, root }, Math.min(MOST_MS, leftMs))),
        );
      out.push(await trace(sheets, levels, ask.property));
    }
    return out;
  } finally {
    await tab.guard('leaving styles', styles.close());
  }
}

/** The element of a state and those around it, which are hovered with it. In shadow trees and frames the element alone. */
async function chainOf(tab: Tab, styles: Styles, selector: string, root: number): Promise<readonly number[]> {
  const node = await nodeAt(tab, styles, selector, root);
  if (node === null) return [];
  if (selector.includes(' >>> ')) return [node];
  const select = (of: string): Promise<readonly number[]> => tab.guard('finding an element', styles.findAll(root, of));
  // Where several match, what is around the others is not hovered.
  const same = await select(selector);
  return same.length > 1 ? [node] : [node, ...(await select(`:has(${selector})`))];
}

/** The element itself first, then those it inherits from. */
async function levelsOf(
  tab: Tab,
  styles: Styles,
  { selector, root }: { readonly selector: string; readonly root: number },
  withinMs: number,
): Promise<readonly Level[]> {
  const [, base = selector, pseudo] = /^(.*?)(::[a-z-]+)$/u.exec(selector) ?? [];
  try {
    const node = await nodeAt(tab, styles, base, root);
    if (node === null) return [];
    // Of parts of controls the browser lists no rules.
    if (pseudo !== undefined && !LISTED.has(pseudo)) return [];
    const matched = await tab.guard('reading styles', styles.matched(node), withinMs);
    return [...pseudoLevel(matched, pseudo), level(matched), ...(matched.inherited ?? []).map(level)];
  } catch (error) {
    if (tab.dead || tab.signal.aborted) throw error;
    return [];
  }
}

const LISTED = new Set(['::before', '::after', '::marker']);

function level(parts: MatchedLevel): Level {
  const { matchedCSSRules: rules = [], inlineStyle: inline = null, attributesStyle: attributes = null } = parts;
  return { rules, inline, attributes };
}

function pseudoLevel(matched: MatchedStyles, pseudo: string | undefined): readonly Level[] {
  if (pseudo === undefined) return [];
  const rules = (matched.pseudoElements ?? [])
    .filter(({ pseudoType }) => `::${pseudoType}` === pseudo)
    .flatMap(({ matches }) => matches);
  return [{ rules, inline: null, attributes: null }];
}

/** @param levels the element itself first */
export async function trace(sheets: Sheets, levels: readonly Level[], property: string): Promise<Written> {
  const hops: WrittenDeclaration[] = [];
  const seen = new Set<string>();
  let [wanted, from] = [property, 0];
  while (hops.length < MOST_HOPS && !seen.has(wanted)) {
    seen.add(wanted);
    const found = find(levels, wanted, from);
    if (found === null) {
      if (hops.length > 0 || !takesInkUnset(wanted)) break;
      wanted = 'color';
      continue;
    }
    hops.push(await declared(sheets, found.winner, found.at));
    const next = colorIn(found.winner.value, (name) => find(levels, name, found.at)?.winner.value);
    for (const name of partsIn(found.winner.value)) {
      const part = name === next ? null : find(levels, name, found.at);
      if (part !== null) hops.push(await declared(sheets, part.winner, part.at));
    }
    if (next !== undefined) [wanted, from] = [next, found.at];
    else if (takesInk(found.winner)) [wanted, from] = ['color', found.at];
    else break;
  }
  return hops;
}

/** What a colour is built from (`hsl(var(--h) var(--s) 35%)`): its numbers stand there. */
function partsIn(value: string): readonly string[] {
  return BUILT.test(value) ? namesIn(value) : [];
}

const BUILT = /\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color|color-mix|light-dark)\([^;]*var\(/iu;

/** Of several properties in one value (`var(--width) solid var(--color)`) the one that may hold a colour; else the first. */
function colorIn(value: string, valueOf: (name: string) => string | undefined): string | undefined {
  const names = namesIn(value);
  const mayBe = (name: string): boolean =>
    !(valueOf(name) ?? '').split(/\s+/u).every((word) => word !== '' && LINE_WORD.test(word));
  return names.find(mayBe) ?? names[0];
}

/** Names `currentcolor`, or is a border or outline that names no colour at all. */
function takesInk({ name, value }: Winner): boolean {
  if (/\bcurrentcolor\b/iu.test(value)) return true;
  return takesInkUnset(name) && value.split(/\s+/u).every((word) => LINE_WORD.test(word));
}

const LINE_WORD = /^(?:none|hidden|dotted|dashed|solid|double|groove|ridge|inset|outset|thin|medium|thick|auto|[\d.]+[a-z]*)$/u;

function find(levels: readonly Level[], property: string, from: number): { readonly winner: Winner; readonly at: number } | null {
  const goesOn = isInherited(property);
  for (let at = from; at < levels.length; at += 1) {
    const here = levels[at];
    const winner = here === undefined ? null : winnerOf(here, property);
    if (winner !== null && !isHandedOn(property, winner.value) && !(goesOn && takesNothing(levels, winner.value, at)))
      return { winner, at };
    if (!goesOn && winner === null) return null;
  }
  return null;
}

/** All of it is a property that nothing gives a value: what is around is handed on (CSS Variables 1 §3.1). */
function takesNothing(levels: readonly Level[], value: string, at: number): boolean {
  const name = /^var\(\s*(--[^\s,)]+)\s*\)$/u.exec(value.trim())?.[1];
  if (name === undefined) return false;
  const found = levels.slice(at).flatMap((level) => winnerOf(level, name) ?? []);
  return found.length > 0 && found.every((winner) => isHandedOn(name, winner.value));
}

/** What declarations are called that stand at an element itself. */
const NAMES: Readonly<Record<string, string>> = { style: 'style attribute', attribute: 'presentation attribute' };

async function declared(sheets: Sheets, winner: Winner, above: number): Promise<WrittenDeclaration> {
  const place =
    winner.styleSheetId === null || winner.range === null ? null : await sheets.place(winner.styleSheetId, winner.range);
  return {
    property: winner.name,
    value: winner.value,
    rule: winner.origin === 'user-agent' ? 'browser' : (winner.rule ?? NAMES[winner.origin] ?? ''),
    important: winner.important,
    ...(winner.layer === null ? {} : { layer: winner.layer }),
    ...(place ?? {}),
    above,
  };
}
