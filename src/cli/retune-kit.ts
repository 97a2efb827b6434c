// What the palette needs, in one file so that it is loaded at once and only when asked for.
export { readTokens } from '../config/read-tokens.ts';
export { retuneRun, tryRetune, writeFiles } from './run/retune-run.ts';
export { showPalette } from './show-palette.ts';
