// Script texts → keys of storage, cookies and queries they may keep the theme under, and words that may be its values. Pure.

export interface ScriptKeys {
  readonly storage: readonly string[];
  readonly cookie: readonly string[];
  readonly query: readonly string[];
}

const STORAGE = [
  /(?:[sS]torage)\s*\.\s*(?:getItem|setItem|removeItem)\s*\(\s*(["'`])([^"'`$]{1,60})\1/g,
  /localStorage\s*\[\s*(["'`])([^"'`$]{1,60})\1\s*\]/g,
  /localStorage\s*\.()(?!getItem|setItem|removeItem|clear|key\b|length)([A-Za-z_]\w{0,40})/g,
] as const;

export function keysIn(script: string): ScriptKeys {
  const storage = STORAGE.flatMap((pattern) => [...script.matchAll(pattern)].map((match) => match[2] ?? ''));
  const readsQuery = /URLSearchParams|searchParams|location\.search/.test(script);
  const query = readsQuery
    ? [
        ...[...script.matchAll(/\.\s*(?:get|has)\s*\(\s*(["'`])([\w-]{1,40})\1/g)].map((match) => match[2] ?? ''),
        ...literals(script).flatMap((text) => [...text.matchAll(/[?&]([\w-]{1,40})=/g)].map((match) => match[1] ?? '')),
      ]
    : [];
  const cookie = script.includes('document.cookie')
    ? literals(script).flatMap((text) =>
        [...text.matchAll(/(?:^|[;\s()|^])([A-Za-z][\w-]{1,40})=/g)].map((match) => match[1] ?? ''),
      )
    : [];
  return {
    storage: unique(storage),
    cookie: unique(cookie).filter((name) => !COOKIE_ATTRIBUTES.includes(name.toLowerCase())),
    query: unique(query),
  };
}

/** RFC 6265, section 4.1.1: what stands behind a cookie's value. */
const COOKIE_ATTRIBUTES = ['path', 'expires', 'max-age', 'domain', 'samesite', 'secure', 'httponly'];

/** @returns short words written in quotes, those nearest to the key first */
export function wordsNear(script: string, key: string): readonly string[] {
  const places = [...script.matchAll(new RegExp(key.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&'), 'g'))].map((match) => match.index);
  if (places.length === 0) return [];
  const words = [...script.matchAll(/(["'`])([A-Za-z0-9][\w-]{0,23})\1/g)]
    .filter((match) => match[2] !== key && !NO_VALUES.test(match[2] ?? ''))
    .map((match) => ({ word: match[2] ?? '', far: Math.min(...places.map((place) => Math.abs(place - match.index))) }))
    .sort((a, b) => a.far - b.far);
  return unique(words.map(({ word }) => word));
}

/** Words that scripts write in quotes for other reasons. */
const NO_VALUES =
  /^(use-strict|string|object|function|undefined|number|boolean|click|change|input|load|DOMContentLoaded|storage|class|style|html|body|head|div|button|true-|data-.*|aria-.*|prefers-.*)$/;

function literals(script: string): readonly string[] {
  return [...script.matchAll(/(["'`])((?:\\.|(?!\1)[^\\\n])*)\1|\/((?:\\.|[^/\\\n*])(?:\\.|[^/\\\n])*)\/[gimsuy]*/g)].map(
    (match) => match[2] ?? match[3] ?? '',
  );
}

function unique(words: readonly string[]): readonly string[] {
  return [...new Set(words)];
}

/** Whether a name sounds as if a theme were kept under it. */
export function soundsLikeTheme(name: string): boolean {
  // How close things stand is no colour.
  if (/compact|dens|comfort|cosy|cozy/i.test(name)) return false;
  return /theme|dark|light|night|appearance|scheme|mode|contrast|skin|palette|look/i.test(name);
}
