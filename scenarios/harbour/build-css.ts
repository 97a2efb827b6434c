// Token files and resolver document → app/tokens.css, one block a theme (Format and Resolver modules 2025.10, the part that this app uses).
// Stands alone on purpose: it plays the build step of somebody else's app. Run from the repository's root:
//   node dist/scenarios/harbour/build-css.js [FOLDER]
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

type Json = Readonly<Record<string, unknown>>;
interface Token {
  readonly path: readonly string[];
  readonly type: string;
  readonly value: unknown;
}

/** Where each context of the modifier `theme` is put on; `flip` is noon's colours under a filter (harbour.css). */
const SCOPES = [
  { context: 'noon', selector: ":root,\nhtml[data-theme='noon'],\nhtml[data-theme='flip']", media: null },
  { context: 'dusk', selector: "html[data-theme='dusk']", media: null },
  { context: 'stark', selector: "html[data-theme='stark']", media: null },
  { context: 'stark', selector: 'html:not([data-theme])', media: '(prefers-contrast: more)' },
  { context: 'regatta', selector: "html[data-theme='regatta']", media: null },
] as const;

/**
 * Planted build faults (faults.json, layer `build`): the property is served as it stood in an older build,
 * so that app/tokens.css no longer says what the token files resolve to.
 */
export const STALE: readonly { readonly context: string; readonly property: string; readonly served: string }[] = [
  { context: 'dusk', property: '--station-code', served: 'var(--silt-600)' },
  { context: 'noon', property: '--chart-turn', served: '#9db9c4' },
  { context: 'regatta', property: '--fee-mark', served: '#b7a9c4' },
];

/** @param home the folder that holds `tokens/` @returns the style sheet as one text */
export function harbourCss(home: string): string {
  const folder = join(home, 'tokens');
  const resolver = readJson(join(folder, 'harbour.resolver.json'));
  const blocks = SCOPES.map(({ context, selector, media }) => {
    const tokens = listTokens(flatten(resolver, folder, context));
    const lines = tokens.map((token) => `  ${propertyOf(token.path)}: ${stale(context, token) ?? cssOf(token)};`);
    const block = `${selector} {\n${lines.join('\n')}\n}\n`;
    return media === null ? block : `@media ${media} {\n${block.replace(/^(?=.)/gm, '  ')}}\n`;
  });
  return `/* Written by build-css.ts from tokens/harbour.resolver.json: change the token files, not this file. */\n\n${blocks.join('\n')}`;
}

function stale(context: string, token: Token): string | undefined {
  return STALE.find((entry) => entry.context === context && entry.property === propertyOf(token.path))?.served;
}

/** All sources in resolution order, laid over each other: groups merge, tokens are replaced whole. */
function flatten(resolver: Json, folder: string, context: string): Json {
  const sources = list(resolver['resolutionOrder']).flatMap((entry) => {
    const target = pointed(resolver, text(object(entry)['$ref']));
    return 'contexts' in target ? list(object(target['contexts'])[context]) : list(target['sources']);
  });
  return sources.map((source) => readJson(join(folder, text(object(source)['$ref'])))).reduce(merge, {});
}

function pointed(document: Json, pointer: string): Json {
  return pointer
    .split('/')
    .slice(1)
    .reduce((node, name) => object(node[name]), document);
}

function merge(below: Json, above: Json): Json {
  const out: Record<string, unknown> = { ...below };
  for (const [name, value] of Object.entries(above)) {
    const old = out[name];
    out[name] = isObject(old) && isObject(value) && !('$value' in value) ? merge(old, value) : value;
  }
  return out;
}

function listTokens(group: Json, path: readonly string[] = [], inherited = ''): readonly Token[] {
  const type = typeof group['$type'] === 'string' ? group['$type'] : inherited;
  if ('$value' in group) return [{ path, type, value: group['$value'] }];
  return Object.entries(group).flatMap(([name, child]) =>
    !name.startsWith('$') && isObject(child) ? listTokens(child, [...path, name], type) : [],
  );
}

function propertyOf(path: readonly string[]): string {
  return `--${path.join('-')}`;
}

function cssOf({ path, type, value }: Token): string {
  if (typeof value === 'string' && value.startsWith('{')) return `var(${propertyOf(value.slice(1, -1).split('.'))})`;
  switch (type) {
    case 'color':
      return colourCss(object(value));
    case 'dimension':
      return dimensionCss(object(value));
    case 'fontFamily':
      return list(value)
        .map((name) => (/[^a-z-]/.test(text(name)) ? `'${text(name)}'` : text(name)))
        .join(', ');
    case 'shadow': {
      const part = object(value);
      const lengths = ['offsetX', 'offsetY', 'blur', 'spread'].map((name) => dimensionCss(object(part[name])));
      return `${lengths.join(' ')} ${colourCss(object(part['color']))}`;
    }
    default:
      throw new Error(`${path.join('.')}: type "${type}" is not one that this script writes.`);
  }
}

/** sRGB colours only: the hex where opaque, else `rgb()` with the alpha. */
function colourCss(value: Json): string {
  if (value['alpha'] === undefined) return text(value['hex']);
  const channels = list(value['components']).map((component) => Math.round(number(component) * 255));
  return `rgb(${channels.join(' ')} / ${number(value['alpha'])})`;
}

function dimensionCss(value: Json): string {
  const amount = number(value['value']);
  return amount === 0 ? '0' : `${amount}${text(value['unit'])}`;
}

function readJson(file: string): Json {
  const content: unknown = JSON.parse(readFileSync(file, 'utf8'));
  return object(content);
}

function isObject(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function object(value: unknown): Json {
  if (!isObject(value)) throw new TypeError(`expected an object, found ${JSON.stringify(value)}`);
  return value;
}

function list(value: unknown): readonly unknown[] {
  if (!Array.isArray(value)) throw new TypeError(`expected a list, found ${JSON.stringify(value)}`);
  return value;
}

function text(value: unknown): string {
  if (typeof value !== 'string') throw new TypeError(`expected a text, found ${JSON.stringify(value)}`);
  return value;
}

function number(value: unknown): number {
  if (typeof value !== 'number') throw new TypeError(`expected a number, found ${JSON.stringify(value)}`);
  return value;
}

const [, script = '', home = 'scenarios/harbour'] = process.argv;
if (import.meta.url === pathToFileURL(script).href) {
  const file = join(home, 'app', 'tokens.css');
  writeFileSync(file, harbourCss(home));
  console.error(`${file} written`);
}
