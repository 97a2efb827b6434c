// What a first look found out → the text of a configuration: commented TypeScript, or plain JSON. Pure.
import { shortApply } from './short-apply.ts';
import type { ObservedApp, ObservedTheme } from '../plan/observed-app.ts';
import type { AppSource, Given } from '../plan/configuration.ts';
import type { ProposedTokens } from './propose-configuration-tokens.ts';

export interface Proposal {
  readonly observed: ObservedApp;
  /** As written into the file: paths relative to it. */
  readonly app: Exclude<AppSource, { readonly kind: 'start' }>;
  readonly tokens: ProposedTokens | null;
  /** Of the configuration that was there: how the app is come by. */
  readonly letIn?: LetIn;
  /** An editor can find the package's types from where the file will be. */
  readonly typed: boolean;
}

/** Members of a configuration as written; paths relative to the file. */
export interface LetIn {
  readonly session?: { readonly script: string; readonly env?: readonly string[]; readonly within?: number };
  readonly headers?: Readonly<Record<string, Given>>;
  readonly cookies?: Readonly<Record<string, Given>>;
}

export function proposeJson(proposal: Proposal): string {
  return `${JSON.stringify(toFile(proposal), null, 2)}\n`;
}

export function proposeTypeScript(proposal: Proposal): string {
  const { observed, tokens, typed } = proposal;
  const file = toFile(proposal);
  const reference = observed.themes[0]?.name ?? '';
  const lines = [
    '// How gloam looks at this app. Written by `gloam init` from what it found; it is yours now: change what does not fit.',
    '// Every member is described by `gloam help configuration`; `gloam run` checks this file before it does anything.',
    ...(typed ? ["import type { ConfigurationFile } from 'gloam/config';"] : []),
    '',
    'export default {',
    '  // The app under test. Other ways: { serve: FOLDER }, { url: ADDRESS }, { start: COMMAND, url: ADDRESS }.',
    `  app: ${inline(file.app)},`,
    '',
    ...signInLines(proposal),
    ...comment(pagesComment(observed)),
    '  pages: [',
    ...observed.pages.map(({ path, title }) => `    ${inline(path)},${title === '' ? '' : ` // ${plain(title)}`}`),
    '  ],',
    '',
    '  // Each theme was put on in a browser, and the page was seen to change.',
    '  themes: {',
    ...observed.themes.flatMap((theme) => [
      ...theme.evidence.map((evidence) => `    // ${plain(evidence)}`),
      `    ${key(theme.name)}: ${inline(themeMember(theme, tokens))},`,
    ]),
    '  },',
    ...(observed.themes.length > 1
      ? []
      : ['  // No second theme was found. Other ways to put one on: attribute, class, media, storage, cookie, query, script.']),
    '',
    '  // The theme the others are compared with.',
    `  reference: ${inline(reference)},`,
    '',
    '  viewports: {',
    ...observed.viewports.map(
      ({ name, widthCssPx, heightCssPx, why }) =>
        `    ${key(name)}: [${String(widthCssPx)}, ${String(heightCssPx)}], // ${plain(why)}`,
    ),
    '  },',
    '',
    ...tokenLines(tokens, file.tokens),
    '  // What must hold before a theme is launched (gloam gate). "*" is for all themes; a theme may have rows of its own.',
    '  // A team with many known findings starts with since: "RUN", which allows what that run had already.',
    `  gate: ${inline(file.gate)},`,
    '',
    '  // More that may be set: states (hover, focus, click …), stay (surfaces that keep their tone), mask (parts that always',
    '  // differ), owners (who looks after what), exempt (what is known and accepted; gloam exempt writes it), checks (options).',
    `}${typed ? ' satisfies ConfigurationFile' : ''};`,
    '',
  ];
  return lines.join('\n');
}

function signInLines({ observed: { signIn }, letIn = {} }: Proposal): readonly string[] {
  const members = Object.entries(letIn).map(([name, member]) => `  ${name}: ${inline(member)},`);
  if (members.length > 0)
    return [
      ...comment(['As in the configuration that was there: the pages were looked for with it.']),
      ...(signIn === undefined ? [] : comment([signInNote(signIn, letIn)])),
      ...members,
      '',
    ];
  return signIn === undefined ? [] : [...comment([signInNote(signIn)]), "  // session: 'sign-in.mjs',", ''];
}

interface ProposedFile extends LetIn {
  readonly app: Readonly<Record<string, string>>;
  readonly pages: readonly string[];
  readonly themes: Readonly<Record<string, object>>;
  readonly reference: string;
  readonly viewports: Readonly<Record<string, readonly number[]>>;
  readonly tokens?: object;
  readonly gate: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

function toFile({ observed, app, tokens, letIn = {} }: Proposal): ProposedFile {
  return {
    app:
      app.kind === 'serve'
        ? { serve: app.folder, ...(observed.fallback === undefined ? {} : { fallback: observed.fallback }) }
        : { url: app.url },
    ...letIn,
    pages: observed.pages.map((page) => page.path),
    themes: Object.fromEntries(observed.themes.map((theme) => [theme.name, themeMember(theme, tokens)])),
    reference: observed.themes[0]?.name ?? '',
    viewports: Object.fromEntries(observed.viewports.map((v) => [v.name, [v.widthCssPx, v.heightCssPx]])),
    ...(tokens === null ? {} : { tokens: tokenMember(tokens) }),
    gate: {
      '*': { '*:error': 0, 'unthemed:warning': 0, 'flipped:warning': 0, 'inverted-picture:warning': 0, 'neon:warning': 0 },
    },
  };
}

function themeMember({ name, tone, apply }: ObservedTheme, tokens: ProposedTokens | null): object {
  const input = tokens?.kind === 'resolver' ? (tokens.inputs[name] ?? {}) : {};
  return { tone, apply: shortApply(apply), ...(Object.keys(input).length === 0 ? {} : { tokens: input }) };
}

function tokenMember(tokens: ProposedTokens): object {
  return tokens.kind === 'resolver'
    ? { resolver: tokens.file, css: tokens.css }
    : { base: tokens.base, themes: tokens.themes, css: tokens.css };
}

function tokenLines(tokens: ProposedTokens | null, member: object | undefined): readonly string[] {
  if (tokens === null || member === undefined) {
    return [
      '  // No token files were found beside this file. With them gloam says which token a fault comes from:',
      "  // tokens: { resolver: 'tokens/resolver.json' } or { base: ['tokens/base.json'], themes: { dusk: ['tokens/dusk.json'] } }.",
      '',
    ];
  }
  const { fit } = tokens;
  return [
    `  // ${String(fit.tokens)} tokens; ${String(fit.onPage)} of them are custom properties of the page under these names.`,
    ...(fit.onPage * 2 < fit.tokens
      ? ['  // That is few: css says how a token path becomes a property name (prefix, sep, case, drop …).']
      : []),
    `  tokens: ${inline(member)},`,
    '',
  ];
}

function pagesComment({ pagesFrom, morePages, pages }: ObservedApp): readonly string[] {
  const sources = { links: 'by following links', sitemap: 'in the sitemap', files: 'as files in the folder' } as const;
  return [
    `Found ${pagesFrom.map((from) => sources[from]).join(', ') || 'nowhere'}.${morePages ? ` There are more than these ${String(pages.length)}: gloam init --pages N looks for more.` : ''}`,
    'Also possible: { sitemap: "/sitemap.xml" } or { follow: "/", limit: 200 }; a page may have states, an owner, waitFor, viewports.',
  ];
}

/** What a person has to know of a sign-in before the first run. */
export function signInNote({ at, leads }: NonNullable<ObservedApp['signIn']>, letIn: LetIn = {}): string {
  const [first, ...more] = leads;
  const led =
    first === undefined ? '' : ` ${first}${more.length === 0 ? ' leads' : ` and ${String(more.length)} more pages lead`} to it.`;
  if (Object.keys(letIn).length > 0)
    return `There is a sign-in at ${at}.${led}${led === '' ? '' : ' What the configuration has for it does not let in there (gloam help sign-in).'}`;
  return `There is a sign-in at ${at}.${led} What is behind it is captured once session names a script that signs in (gloam help sign-in); with it, gloam init --force looks for pages and themes behind it.`;
}

function comment(lines: readonly string[]): readonly string[] {
  return lines.map((line) => `  // ${plain(line)}`);
}

/** On one line: a comment must not end early. */
function plain(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f\u2028\u2029]+/g, ' ').trim();
}

function key(name: string): string {
  return /^[A-Za-z_$][\w$]*$/.test(name) ? name : quote(name);
}

/** A value as people write it in TypeScript: single quotes, names without quotes, one line. */
function inline(value: unknown): string {
  if (typeof value === 'string') return quote(value);
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    const members = Object.entries(value).map(([name, member]) => `${key(name)}: ${inline(member)}`);
    return members.length === 0 ? '{}' : `{ ${members.join(', ')} }`;
  }
  return JSON.stringify(value);
}

function quote(text: string): string {
  const inner = JSON.stringify(text).slice(1, -1).replaceAll('\\"', '"').replaceAll("'", "\\'");
  return `'${inner}'`;
}
