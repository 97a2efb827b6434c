// One browser for all that a test process renders: to start one takes longer than to render a small page.
import type { Browser } from 'playwright';
import { findBrowser } from '../runner/browser/find-browser.ts';
import { launchBrowser } from '../runner/browser/launch-browser.ts';

let shared: Promise<Browser> | null = null;

/** It ends with the process; what asks for its start and end, or takes a browser down, has one of its own. */
export async function sharedBrowser(): Promise<Browser> {
  const browser = await (shared ??= findBrowser(process.env).then(launchBrowser));
  if (browser.isConnected()) return browser;
  shared = null;
  return sharedBrowser();
}
