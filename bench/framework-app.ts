// Pages on CSS frameworks with dark themes, which are installed outside of the checkout, once.
import { execFileSync } from 'node:child_process';
import { copyFileSync, cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { ROOT } from './harbour-night.ts';

export interface Framework {
  readonly name: string;
  readonly package: string;
  /** In the package. */
  readonly sheet: string;
  readonly attribute: string;
  /** A colour of its dark theme. */
  readonly property: string;
}

export const FRAMEWORKS: readonly Framework[] = [
  {
    name: 'bootstrap',
    package: 'bootstrap@5.3',
    sheet: 'bootstrap/dist/css/bootstrap.css',
    attribute: 'data-bs-theme',
    property: '--bs-secondary-color',
  },
  {
    name: 'pico',
    package: '@picocss/pico@2',
    sheet: '@picocss/pico/css/pico.css',
    attribute: 'data-theme',
    property: '--pico-muted-color',
  },
];

/** @returns the folder they are installed in */
export function installFrameworks(): string {
  const home = path.join(tmpdir(), 'gloam-frameworks');
  mkdirSync(home, { recursive: true });
  const packages = FRAMEWORKS.map((each) => each.package);
  execFileSync('npm', ['install', '--no-audit', '--no-fund', '--no-save', '--prefix', home, ...packages], { stdio: 'ignore' });
  return home;
}

const PAGES = ['index.html', 'form.html'];

/** Fills an empty folder with pages, styles and configuration. @param times how often what a page holds stands on it */
export function fillWith({ name, sheet, attribute }: Framework, home: string, folder: string, times = 1): void {
  cpSync(path.join(ROOT, 'bench', 'frameworks', name), path.join(folder, 'site'), { recursive: true });
  for (const file of PAGES.map((page) => path.join(folder, 'site', page)))
    writeFileSync(file, repeated(readFileSync(file, 'utf8'), times));
  copyFileSync(path.join(home, 'node_modules', sheet), path.join(folder, 'site', 'framework.css'));
  const theme = (value: string): object => ({ tone: value, apply: { attribute: { name: attribute, value } } });
  const configuration = {
    app: { serve: 'site' },
    pages: PAGES.map((page) => `/${page}`),
    themes: { light: theme('light'), dark: theme('dark') },
    reference: 'light',
  };
  writeFileSync(path.join(folder, 'gloam.config.json'), JSON.stringify(configuration));
}

/** Ids are kept where they stand first. */
function repeated(page: string, times: number): string {
  return page.replace(/(<main[^>]*>)([\s\S]*)(<\/main>)/u, (_, open: string, inner: string, close: string) => {
    const more = inner.replace(/\s(?:id|for)="[^"]*"/gu, '');
    return [open, inner, ...Array.from({ length: times - 1 }, () => more), close].join('');
  });
}
