// What the commands on token files need, in one file so that it is loaded at once and only by them.
export { findColor, parseColor } from '../colour/parse-color.ts';
export { toCssText } from '../colour/format-color.ts';
export { readTokens } from '../config/read-tokens.ts';
export { checkTokens } from '../tokens/faults/check-tokens.ts';
export { joinPairs } from '../tokens/faults/declared-pairs.ts';
export { matchLiteral } from '../tokens/match/match-literal.ts';
export { readScript } from '../literals/read-script.ts';
export { readStyleSheet } from '../literals/read-style-sheet.ts';
export { replaceParts } from '../literals/replace.ts';
export { suggestTokens } from '../literals/suggest.ts';
export { propertyNames } from '../tokens/property-names.ts';
export { readSources } from './source-files.ts';
export { pageTokens } from './page-tokens.ts';
export { readRunUses } from './read-run-uses.ts';
export { sheetPage, tokenSheet } from './token-sheet.ts';
