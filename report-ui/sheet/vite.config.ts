// Builds the page of `gloam tokens --page` into dist/sheet: one script and one style sheet, fonts included, which the command puts into
// one HTML file. Plots, looks and small parts are those of the report.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';
import type { Plugin } from 'vite';
import { looksCss } from '../web/tokens/looks-css.ts';

const here = import.meta.dirname;

/** Fills tokens/looks.css, as in the build of the report. */
function looks(): Plugin {
  return {
    name: 'looks',
    enforce: 'pre',
    transform(_code, id) {
      if (!id.endsWith('/tokens/looks.css')) return undefined;
      return looksCss('looks.resolver.json', (file): unknown =>
        JSON.parse(readFileSync(join(here, '../web/tokens', file), 'utf8')),
      );
    },
  };
}

export default defineConfig({
  root: here,
  plugins: [preact({ devToolsEnabled: false, prefreshEnabled: false }), looks()],
  define: { 'process.env.NODE_ENV': '"production"' },
  build: {
    outDir: join(here, '../../dist/sheet'),
    emptyOutDir: true,
    assetsInlineLimit: 1_000_000,
    target: 'es2022',
    cssTarget: ['chrome111', 'firefox113', 'safari16.4'],
    cssCodeSplit: false,
    minify: true,
    chunkSizeWarningLimit: 900,
    lib: { entry: join(here, 'main.tsx'), formats: ['iife'], name: 'gloamSheet', fileName: () => 'sheet.js', cssFileName: 'sheet' },
  },
});
