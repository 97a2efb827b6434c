// Playwright, required rather than imported: an import would first search its megabytes of CommonJS for names to export (a quarter of a
// second, measured).
import { createRequire } from 'node:module';
import type { BrowserType } from 'playwright';

const loaded = createRequire(import.meta.url)('playwright') as { readonly chromium: BrowserType };

export const { chromium } = loaded;
