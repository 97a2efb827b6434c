// What in an app answers to the switching of themes: names in its style rules, entries its scripts look up. Asked where a theme had no
// effect, to say why.
import type { Browser } from 'playwright';
import type { ThemeApply } from '../../src/plan/configuration.ts';
import type { Entry } from './access.ts';
import { ExploringTab } from '../explore/tab.ts';

export interface ThemeAnswers {
  /** Attributes that selectors of colouring rules name, with the values they ask for. */
  readonly attributes: ReadonlyMap<string, ReadonlySet<string>>;
  readonly classes: ReadonlySet<string>;
  /** Media features that colouring rules stand under (`prefers-color-scheme`). */
  readonly media: ReadonlySet<string>;
  /** Keys that scripts looked up as the page loaded. */
  readonly storage: readonly string[];
  readonly query: readonly string[];
}

/** @param url of a page, without what the theme adds @throws GloamError as loading a page does */
export async function themeAnswers(
  browser: Browser,
  from: { readonly url: string; readonly apply: ThemeApply; readonly entry: Entry | undefined; readonly signal: AbortSignal },
): Promise<ThemeAnswers> {
  const exploring = await ExploringTab.open(browser, from.signal, from.entry);
  try {
    await exploring.load(from.url, from.apply);
    const { rules } = await exploring.tab.call('exploreStyles', { texts: exploring.styleTexts() });
    const attributes = new Map<string, Set<string>>();
    for (const { selector } of rules) {
      for (const [, name = '', value] of selector.matchAll(ATTRIBUTE)) {
        const values = attributes.get(name) ?? new Set();
        if (value !== undefined) values.add(value);
        attributes.set(name, values);
      }
    }
    const media = rules.flatMap((rule) => [
      ...rule.media.flatMap((condition) => [...condition.matchAll(/[a-z-]+(?=\s*:)/gu)].map(([name]) => name)),
      ...(rule.lightDark || /\b(?:light|dark)\b.*\b(?:light|dark)\b/u.test(rule.scheme) ? ['prefers-color-scheme'] : []),
    ]);
    return {
      attributes,
      classes: new Set(
        rules.flatMap(({ selector }) => [...selector.replace(ATTRIBUTE, '').matchAll(CLASS)].map(([, name = '']) => name)),
      ),
      media: new Set(media),
      ...(await exploring.reads()),
    };
  } finally {
    await exploring.close();
  }
}

/** `[name]`, `[name=value]`, `[name~="value" i]` (Selectors 4 §6). */
const ATTRIBUTE = /\[\s*([\w-]+)\s*(?:[~|^$*]?=\s*["']?([^"'\]]*?)["']?\s*[is]?\s*)?\]/gu;
const CLASS = /\.(-?[A-Za-z_][\w-]*)/gu;
