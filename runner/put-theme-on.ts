// Puts a theme on: in place where that is possible, else before the page loads.
import { readFile } from 'node:fs/promises';
import { placeNotFound, scriptFailed } from '../src/errors/capture-errors.ts';
import type { Theme, ThemeApply } from '../src/plan/configuration.ts';
import type { Tab } from './tab.ts';

/** Storage, cookies and addresses are read by pages as they load. */
export function needsLoad(apply: ThemeApply): boolean {
  return apply.reload === true || apply.storage !== undefined || apply.cookie !== undefined || apply.query !== undefined;
}

/** The address with what the theme adds to it. */
export function themedUrl(url: string, apply: ThemeApply): string {
  if (apply.query === undefined) return url;
  const themed = new URL(url);
  for (const [name, value] of Object.entries(apply.query)) themed.searchParams.set(name, value);
  return themed.href;
}

/** Media, cookies and storage; before the page loads. */
export async function prepareTheme(tab: Tab, theme: Theme, url: string): Promise<void> {
  await putMediaOn(tab, theme.apply);
  const { cookie, storage } = theme.apply;
  if (cookie !== undefined) {
    const cookies = Object.entries(cookie).map(([name, value]) => ({ name, value, url }));
    await tab.guard('setting cookies', tab.context.addCookies(cookies));
  }
  if (storage !== undefined) {
    const items = Object.entries(storage).map(([key, value]) => [key, value]);
    const { origin } = new URL(url);
    await tab.guard(
      'setting storage',
      tab.cdp.send('DOMStorage.enable').then(async () => {
        const storageId = { securityOrigin: origin, storageKey: `${origin}/`, isLocalStorage: true };
        for (const [key, value] of items)
          await tab.cdp.send('DOMStorage.setDOMStorageItem', { storageId, key: key ?? '', value: value ?? '' });
      }),
    );
  }
}

/** Attribute, class and script; in the loaded page. Media too, for themes that are put on in place. */
export async function putThemeOn(tab: Tab, theme: Theme): Promise<void> {
  const { attribute, class: classes, script } = theme.apply;
  await putMediaOn(tab, theme.apply);
  const { missing } = await tab.call('putOn', {
    ...(attribute === undefined ? {} : { attribute }),
    ...(classes === undefined ? {} : { class: classes }),
  });
  const [selector] = missing;
  if (selector !== undefined) throw placeNotFound(tab.url, `theme "${theme.name}"`, selector);
  if (script !== undefined) await runScript(tab, script);
}

/** Runs a file of the user in the page's own world. @throws GloamError `script-failed` */
export async function runScript(tab: Tab, file: string): Promise<void> {
  const text = await readFile(file, 'utf8').catch((error: unknown) => {
    throw scriptFailed(tab.url, file, error instanceof Error ? error.message : String(error));
  });
  const answer = await tab.guard(
    `running ${file}`,
    tab.cdp.send('Runtime.evaluate', { expression: `${text}\n//# sourceURL=${file}`, awaitPromise: true, userGesture: true }),
  );
  if (answer.exceptionDetails !== undefined) {
    throw scriptFailed(tab.url, file, answer.exceptionDetails.exception?.description ?? answer.exceptionDetails.text);
  }
}

/** Every feature is set every time: a theme must not inherit from the one before. */
async function putMediaOn(tab: Tab, apply: ThemeApply): Promise<void> {
  const media = apply.media ?? {};
  const features = [
    { name: 'prefers-color-scheme', value: media.colorScheme ?? 'light' },
    { name: 'prefers-contrast', value: media.contrast ?? 'no-preference' },
    { name: 'forced-colors', value: media.forcedColors ?? 'none' },
    { name: 'prefers-reduced-motion', value: media.reducedMotion ?? 'no-preference' },
  ];
  await tab.guard('setting media features', tab.cdp.send('Emulation.setEmulatedMedia', { features }));
}
