// Puts a theme on: in place where that is possible, else before the page loads.
import { readFile } from 'node:fs/promises';
import { placeNotFound, scriptFailed } from '../../src/errors/capture-errors.ts';
import type { Page, Theme, ThemeApply } from '../../src/plan/configuration.ts';
import { settleAfterChange, settleAfterLoad } from './settle.ts';
import { storing } from './store-early.ts';
import type { Tab } from '../tab/tab.ts';

/** Storage, cookies and addresses are read by pages as they load. */
export function needsLoad(apply: ThemeApply): boolean {
  return apply.reload === true || apply.storage !== undefined || apply.cookie !== undefined || apply.query !== undefined;
}

/**
 * What a load leaves behind (an answer's cookie, what a script stored) shows only on the load after it. Attributes and classes leave
 * nothing: for them one load does.
 */
function loadsTwice({ reload, storage, cookie, query, script }: ThemeApply): boolean {
  return reload === true && [storage, cookie, query, script].some((way) => way !== undefined);
}

/** The address with what the theme adds to it. */
export function themedUrl(url: string, apply: ThemeApply): string {
  if (apply.query === undefined) return url;
  const themed = new URL(url);
  for (const [name, value] of Object.entries(apply.query)) themed.searchParams.set(name, value);
  return themed.href;
}

/** Loads the page as this theme's visitor meets it; attributes and classes are put on afterwards. */
export async function loadInTheme(
  tab: Tab,
  theme: Theme,
  { url, status }: { readonly url: string; readonly status: Page['status'] },
): Promise<void> {
  await prepareTheme(tab, theme, url);
  await tab.goto(url, status);
  if (!loadsTwice(theme.apply)) return;
  await settleAfterLoad(tab);
  if (theme.apply.script !== undefined) await runScript(tab, theme.apply.script);
  await settleAfterChange(tab);
  await tab.goto(url, status);
}

/** Media, cookies and storage; before the page loads. */
export async function prepareTheme(tab: Tab, theme: Theme, url: string): Promise<void> {
  await putMediaOn(tab, theme.apply);
  const { cookie, storage } = theme.apply;
  if (cookie !== undefined) {
    // For the whole origin: what the page asks for in turn is themed by it as well.
    const cookies = Object.entries(cookie).map(([name, value]) => ({ name, value, url: new URL('/', url).href }));
    await tab.guard('setting cookies', tab.context.addCookies(cookies));
  }
  await tab.beforeEachLoad(storage === undefined ? null : storing(storage));
}

/** Attribute, class and script; in the loaded page. Media too, for themes that are put on in place. */
export async function putThemeOn(tab: Tab, theme: Theme): Promise<void> {
  const { attributes, class: classes, script } = theme.apply;
  await putMediaOn(tab, theme.apply);
  const { missing } = await tab.call('putOn', {
    ...(attributes === undefined ? {} : { attributes }),
    ...(classes === undefined ? {} : { class: classes }),
  });
  const [selector] = missing;
  if (selector !== undefined) throw placeNotFound(tab.url, `theme "${theme.name}"`, selector);
  if (script !== undefined && !loadsTwice(theme.apply)) await runScript(tab, script);
}

/** Runs a file of the user in the page's own world. @throws GloamError `script-failed` */
export async function runScript(tab: Tab, file: string): Promise<void> {
  const text = await readFile(file, 'utf8').catch((error: unknown) => {
    throw scriptFailed(tab.url, file, error instanceof Error ? error.message : String(error));
  });
  const thrown = await tab.guard(`running ${file}`, tab.driver.runScript(text, file));
  if (thrown !== null) throw scriptFailed(tab.url, file, thrown);
}

/** Every feature is set every time: a theme must not inherit from the one before. */
async function putMediaOn(tab: Tab, apply: ThemeApply): Promise<void> {
  const media = apply.media ?? {};
  const features = {
    'prefers-color-scheme': media.colorScheme ?? 'light',
    'prefers-contrast': media.contrast ?? 'no-preference',
    'forced-colors': media.forcedColors ?? 'none',
    'prefers-reduced-motion': media.reducedMotion ?? 'no-preference',
  };
  await tab.guard('setting media features', tab.driver.setMedia(features));
}
