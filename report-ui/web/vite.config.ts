// Builds the report's page into dist/web: one classic script and one style sheet, so that it also opens from a folder on disk,
// where module scripts and fetch are refused. Turns the token files into custom properties on the way.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';
import type { Plugin } from 'vite';
import { looksCss } from './tokens/looks-css.ts';

const here = import.meta.dirname;
/** Licences of what is bundled and asks for its licence to go along. */
const LICENCES = ['@fontsource-variable/hanken-grotesk', '@fontsource-variable/spline-sans-mono'];

/** Fills tokens/looks.css. */
function looks(): Plugin {
  return {
    name: 'looks',
    enforce: 'pre',
    transform(_code, id) {
      if (!id.endsWith('/tokens/looks.css')) return undefined;
      return looksCss('looks.resolver.json', (file) => {
        const path = join(here, 'tokens', file);
        this.addWatchFile(path);
        const parsed: unknown = JSON.parse(readFileSync(path, 'utf8'));
        return parsed;
      });
    },
  };
}

function licences(): Plugin {
  return {
    name: 'licences',
    generateBundle() {
      for (const name of LICENCES) {
        const source = readFileSync(join(here, '../../node_modules', name, 'LICENSE'), 'utf8');
        this.emitFile({ type: 'asset', fileName: `licences/${name.split('/')[1] ?? name}.txt`, source });
      }
    },
  };
}

/** Pages opened from disk get neither module scripts nor `crossorigin` resources. */
function classicTags(): Plugin {
  return {
    name: 'classic-tags',
    enforce: 'post',
    transformIndexHtml: (html) => html.replace('type="module" crossorigin', 'defer').replaceAll(' crossorigin', ''),
  };
}

export default defineConfig({
  root: here,
  base: './',
  plugins: [preact({ devToolsEnabled: false, prefreshEnabled: false }), looks(), licences(), classicTags()],
  worker: { format: 'iife' },
  build: {
    outDir: join(here, '../../dist/web'),
    emptyOutDir: true,
    assetsDir: 'assets',
    assetsInlineLimit: 0,
    target: 'es2022',
    cssTarget: ['chrome111', 'firefox113', 'safari16.4'], // the first ones that know oklch(): the looks stay as their token files say
    modulePreload: false,
    cssCodeSplit: false, // else the styles would be put in by the script, which the content policy refuses
    chunkSizeWarningLimit: 900,
    rolldownOptions: { output: { format: 'iife' } },
  },
});
