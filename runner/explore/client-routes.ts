// Pages of a served folder that are no file of it: routes that the app's scripts make pages of, or links that lead nowhere.
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import type { Browser } from 'playwright';

export interface Routes {
  /** Paths that scripts make pages of. */
  readonly routes: ReadonlySet<string>;
  /** Paths that only show the start page again, or nothing. */
  readonly dead: ReadonlySet<string>;
}

export const NO_ROUTES: Routes = { routes: new Set(), dead: new Set() };

/** Served with a fallback, every address answers; a route is one that then shows something else than the start does. */
export async function clientRoutes(from: {
  readonly browser: Browser;
  readonly origin: string;
  readonly folder: string;
  readonly start: string;
  readonly pages: readonly { readonly path: string }[];
}): Promise<Routes> {
  const { browser, origin, folder, start, pages } = from;
  const unknown = pages.map((page) => page.path).filter((each) => !isFile(folder, each));
  if (unknown.length === 0) return NO_ROUTES;
  const context = await browser.newContext();
  try {
    const page = await context.newPage();
    const textAt = async (at: string): Promise<string> => {
      await page.goto(origin + at, { waitUntil: 'networkidle' }).catch(() => undefined);
      return await page
        .locator('body')
        .innerText()
        .catch(() => '');
    };
    const home = await textAt(start);
    const routes = new Set<string>();
    const dead = new Set<string>();
    for (const each of unknown) (isElsewhere(await textAt(each), home) ? routes : dead).add(each);
    return { routes, dead };
  } finally {
    await context.close();
  }
}

function isElsewhere(text: string, home: string): boolean {
  return text.trim() !== '' && text !== home;
}

/** As the static server finds files, without what follows `?` and `#`. */
function isFile(folder: string, address: string): boolean {
  const plain = decodeURIComponent(address.split(/[?#]/)[0] ?? '');
  const file = path.join(folder, plain);
  const candidates = plain.endsWith('/') ? [path.join(file, 'index.html')] : [file, `${file}.html`, path.join(file, 'index.html')];
  return candidates.some((each) => existsSync(each) && statSync(each).isFile());
}
