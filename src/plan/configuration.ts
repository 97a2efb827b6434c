// The configuration as the rest of gloam sees it: validated, defaults filled in, paths absolute. Made by src/config.
import type { CheckId, Level } from '../samples/finding.ts';
import type { Tone } from '../samples/view.ts';

export type AppSource =
  | {
      readonly kind: 'serve';
      readonly folder: string;
      /** Absolute path of the document for addresses that are no file. */ readonly fallback?: string;
    }
  | { readonly kind: 'url'; readonly url: string }
  | { readonly kind: 'start'; readonly command: string; readonly url: string; readonly cwd: string };

export interface ThemeAttribute {
  /** Selector of the elements that carry it. */
  readonly on: string;
  readonly name: string;
  readonly value: string;
}

/** How a theme is put on. Members may be combined; all are applied. */
export interface ThemeApply {
  /** One at least, where there are any. */
  readonly attributes?: readonly ThemeAttribute[];
  readonly class?: { readonly on: string; readonly add: readonly string[]; readonly remove: readonly string[] };
  readonly media?: {
    readonly colorScheme?: 'light' | 'dark' | 'no-preference';
    readonly contrast?: 'more' | 'less' | 'no-preference';
    readonly forcedColors?: 'active' | 'none';
    readonly reducedMotion?: 'reduce' | 'no-preference';
  };
  readonly storage?: Readonly<Record<string, string>>;
  readonly cookie?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, string>>;
  /** Absolute path of a script that runs in the page. */
  readonly script?: string;
  /** Forces a fresh load. */
  readonly reload?: boolean;
}

export interface Theme {
  readonly name: string;
  readonly tone: Tone;
  readonly apply: ThemeApply;
  /** It may look exactly like the reference. */
  readonly alike?: boolean;
  /** Permutation of the resolver: modifier → context. */
  readonly tokens: Readonly<Record<string, string>>;
}

export interface Viewport {
  readonly name: string;
  readonly widthCssPx: number;
  readonly heightCssPx: number;
  /** Device pixels per CSS px. */
  readonly scale: number;
}

/** What is done to a page before it is captured. */
export type State =
  | { readonly name: string; readonly kind: 'rest' }
  | { readonly name: string; readonly kind: 'hover' | 'focus' | 'active' | 'click'; readonly selector: string }
  /** Absolute path of a script that runs in the page. */
  | { readonly name: string; readonly kind: 'script'; readonly file: string };

export interface Page {
  readonly name: string;
  /** From the root of the app, starts with `/`. */
  readonly path: string;
  /** Names of states besides `rest`. */
  readonly states: readonly string[];
  readonly waitFor?: string;
  /** Path, or address elsewhere, where it is meant to end; the path asked for when absent. */
  readonly lands?: string;
  /** Status its document is meant to answer with; any 2xx when absent. */
  readonly status?: number;
  readonly owner?: string;
  /** Names of viewports; all when absent. */
  readonly viewports?: readonly string[];
  /** Where it is not as for all pages; shares, 0–1. */
  readonly drift?: { readonly threshold?: number; readonly allowedShare?: number };
}

/** Pages are listed, read from a sitemap, or found by following links; the latter two become lists at run time. */
export type PageSource =
  | { readonly kind: 'list'; readonly pages: readonly Page[] }
  | { readonly kind: 'sitemap'; readonly path: string }
  | { readonly kind: 'follow'; readonly path: string; readonly limit: number };

export interface TokenNaming {
  readonly prefix?: string;
  readonly sep?: '-' | '_' | '--';
  readonly case?: 'keep' | 'lower' | 'kebab';
  readonly root?: string;
  readonly drop?: readonly string[];
  readonly replace?: string;
  readonly exceptions?: Readonly<Record<string, readonly string[]>>;
}

/** Tokens of inks that may lie on tokens of surfaces. */
export interface TokenPairRule {
  /** Globs over token paths. */
  readonly ink: readonly string[];
  readonly on: readonly string[];
  /** Least contrast ratio. */
  readonly required: number;
}

interface TokenSettings {
  readonly css: readonly TokenNaming[];
  /** The first that names a pair counts. */
  readonly pairs: readonly TokenPairRule[];
}

export type TokenSource = TokenSettings &
  (
    | { readonly kind: 'resolver'; readonly file: string }
    | { readonly kind: 'files'; readonly base: readonly string[]; readonly themes: Readonly<Record<string, readonly string[]>> }
  );

export interface Stay {
  readonly selector: string;
  readonly tone: Tone;
}

export interface Exemption {
  /** Elements and what is in them; for `token-fault` a token path or a glob over token paths. */
  readonly selector: string;
  /** All checks when absent. */
  readonly checks?: readonly CheckId[];
  /** Names it is limited to, `*` stands for any characters; everywhere when absent. */
  readonly pages?: readonly string[];
  readonly themes?: readonly string[];
  readonly states?: readonly string[];
  /** Its text is a logotype (WCAG 2.2, 1.4.3): no contrast is required of it. */
  readonly logotype?: boolean;
  /** Codes of token faults it is limited to. */
  readonly faults?: readonly string[];
  readonly why: string;
  /** Who answers for it. */
  readonly owner?: string;
  /** YYYY-MM-DD, the last day it holds. */
  readonly until?: string;
}

export interface OwnerRule {
  /** Glob over page names and paths. */
  readonly pages?: string;
  readonly selector?: string;
  readonly owner: string;
}

/** Option values by name; which ones a check knows is told by its table of parameters. */
export type CheckOptions = Readonly<Record<string, number | string | boolean | readonly string[]>>;

/** How many findings there may be of a check (`*`: of all together) and level, and the least share of colours through tokens. */
export interface Ceilings {
  readonly most: readonly { readonly check: CheckId; readonly level?: Level; readonly count: number }[];
  /** 0–1. */
  readonly coverage?: number;
}

/** What a theme must hold to be launched. */
export interface GateCriteria extends Ceilings {
  /** Run whose findings are allowed: the ceilings then count only what that run did not have. */
  readonly since?: string;
  /** Views that may have failed, and that may not have come to rest; 0 when absent. */
  readonly failed?: number;
  readonly unsettled?: number;
  /** Pages that may look like another, views that may show far less than the same page elsewhere, that may still be loading, that
   * may show a form for a password and little else, and that may look as at rest in a state; 0 when absent. */
  readonly alike?: number;
  readonly thin?: number;
  readonly loading?: number;
  readonly asking?: number;
  readonly idle?: number;
  /** Every view needs an accepted picture. */
  readonly accepted?: boolean;
  /** Ceilings for one owner's share of the findings and colours. */
  readonly owners?: Readonly<Record<string, Ceilings>>;
}

/** A text as it stands, or the value of an environment variable; the value itself never enters the configuration. */
export type Given = string | { readonly env: string; readonly before?: string };

/** Signs in before anything is rendered. */
export interface SessionScript {
  /** Absolute path of a module. */
  readonly script: string;
  /** Names of the environment variables it gets. */
  readonly env: readonly string[];
  readonly withinMs: number;
}

/** What `gloam night` does unless its options say otherwise. */
export interface NightSettings {
  readonly withinMs?: number;
  /** Run the gate compares with: its id, or `previous`. */
  readonly since?: string;
  /** Absolute path; all forms of the gate are written there. */
  readonly forms?: string;
  /** Finished runs that stay. */
  readonly keep?: number;
}

export interface Configuration {
  /** Absolute path it was read from. */
  readonly file: string;
  /** Its folder; relative paths start here. */
  readonly folder: string;
  /** Absolute path of the store's folder, or the address of its database; absent: `.gloam` in `folder`. */
  readonly store?: string;
  /** Where a database's blobs lie: absolute path of a folder, or `s3://BUCKET/PREFIX`. */
  readonly blobs?: string;
  readonly app: AppSource;
  readonly pages: PageSource;
  readonly themes: readonly Theme[];
  /** Name of the theme the others are compared with; the first one unless set. */
  readonly reference: string;
  readonly viewports: readonly Viewport[];
  readonly states: readonly State[];
  readonly tokens?: TokenSource;
  /** Globs over token paths; told from alias structure when absent. */
  readonly ramps?: readonly string[];
  readonly session?: SessionScript;
  /** Sent to the app's origin alone. */
  readonly headers?: Readonly<Record<string, Given>>;
  readonly cookies?: Readonly<Record<string, Given>>;
  /** Further tries of a view that moved, hung or crashed; none when absent. */
  readonly retries?: number;
  /** How long things may take. */
  readonly limits?: { readonly viewMs: number };
  readonly night?: NightSettings;
  readonly stay: readonly Stay[];
  readonly exempt: readonly Exemption[];
  readonly mask: readonly string[];
  /** ISO 8601 instant at which the pages' clock stands still. */
  readonly clock?: string;
  /** `off` or options, by check. */
  readonly checks: Readonly<Record<CheckId, 'off' | CheckOptions>>;
  readonly owners: readonly OwnerRule[];
  /** By theme name, `*` for all. */
  readonly gate: Readonly<Record<string, GateCriteria>>;
}
