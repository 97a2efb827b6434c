// What a first look at an app found out: pages, ways to switch themes, sizes. From it a configuration is proposed. Types only.
import type { Tone } from '../samples/view.ts';
import type { ThemeApply } from './configuration.ts';

export interface ObservedPage {
  /** From the root of the app, starts with `/`. */
  readonly path: string;
  readonly title: string;
}

export interface ObservedTheme {
  readonly name: string;
  readonly tone: Tone;
  /** Scripts are never proposed. */
  readonly apply: ThemeApply;
  /** How it was found, one clause each: `site.css has rules for [data-theme="dusk"]`. */
  readonly evidence: readonly string[];
}

export interface ObservedViewport {
  readonly name: string;
  readonly widthCssPx: number;
  readonly heightCssPx: number;
  readonly why: string;
}

export interface ObservedApp {
  /** Document of a served folder that answers addresses which its scripts make pages of. */
  readonly fallback?: string;
  readonly pages: readonly ObservedPage[];
  /** Where the pages were found: `links`, `sitemap`, `files`. */
  readonly pagesFrom: readonly ('links' | 'sitemap' | 'files')[];
  /** There are more pages than were looked for. */
  readonly morePages: boolean;
  /** Where a password is asked for, and the other pages that end there; absent where nothing was met. */
  readonly signIn?: { readonly at: string; readonly leads: readonly string[] };
  /** The first one is the app as it loads. */
  readonly themes: readonly ObservedTheme[];
  readonly viewports: readonly ObservedViewport[];
  /** Custom properties that the style sheets declare, without `--`. */
  readonly properties: readonly string[];
  /** What could not be told, for people. */
  readonly notes: readonly string[];
}
