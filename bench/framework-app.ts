// Pages on CSS frameworks with dark themes; the frameworks are development dependencies.
import { copyFileSync, cpSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { ROOT } from './harbour-night.ts';
import type { Sheets } from './put-in.ts';

export interface Framework {
  readonly name: string;
  /** In the folder of packages. */
  readonly sheet: string;
  readonly attribute: string;
  /** A colour of its dark theme. */
  readonly property: string;
}

export const FRAMEWORKS: readonly Framework[] = [
  {
    name: 'bootstrap',
    sheet: 'bootstrap/dist/css/bootstrap.css',
    attribute: 'data-bs-theme',
    property: '--bs-secondary-color',
  },
  {
    name: 'pico',
    sheet: '@picocss/pico/css/pico.css',
    attribute: 'data-theme',
    property: '--pico-muted-color',
  },
];

const PAGES = ['index.html', 'form.html'];

/** Fills an empty folder with pages, styles and configuration. @param times how often what a page holds stands on it */
export function fillWith({ name, sheet, attribute }: Framework, folder: string, times = 1): void {
  cpSync(path.join(ROOT, 'bench', 'frameworks', name), path.join(folder, 'site'), { recursive: true });
  for (const file of PAGES.map((page) => path.join(folder, 'site', page)))
    writeFileSync(file, repeated(readFileSync(file, 'utf8'), times));
  copyFileSync(path.join(ROOT, 'node_modules', sheet), path.join(folder, 'site', 'framework.css'));
  const theme = (value: string): object => ({ tone: value, apply: { attribute: { name: attribute, value } } });
  const configuration = {
    app: { serve: 'site' },
    pages: PAGES.map((page) => `/${page}`),
    themes: { light: theme('light'), dark: theme('dark') },
    reference: 'light',
  };
  writeFileSync(path.join(folder, 'gloam.config.json'), JSON.stringify(configuration));
}

/** Of a folder that was filled. */
export function sheetsOf({ attribute }: Framework, folder: string): Sheets {
  const files = ['framework.css', 'app.css'].map((name) => path.join(folder, 'site', name));
  return { files, rootOf: (theme) => `[${attribute}=${theme}]` };
}

/** Ids are kept where they stand first. */
function repeated(page: string, times: number): string {
  return page.replace(/(<main[^>]*>)([\s\S]*)(<\/main>)/u, (_, open: string, inner: string, close: string) => {
    const more = inner.replace(/\s(?:id|for)="[^"]*"/gu, '');
    return [open, inner, ...Array.from({ length: times - 1 }, () => more), close].join('');
  });
}
