// Keys that scripts or servers may keep a theme under × values they may have → ways to put a theme on that need a load. Pure.
import type { ThemeApply } from '../../src/plan/configuration.ts';
import { themeName } from './candidates.ts';
import type { Candidate } from './candidates.ts';
import { keysIn, soundsLikeTheme, wordsNear } from './scripts.ts';

export interface StoredClues {
  readonly scripts: readonly string[];
  /** Keys that were looked up while the page loaded. */
  readonly reads: { readonly storage: readonly string[]; readonly query: readonly string[] };
  /** Cookies that answers set. */
  readonly cookies: readonly string[];
  /** Values that style sheets know: `dusk` of `[data-tone="dusk"]`. */
  readonly values: readonly string[];
  /** Links of the page to itself with another query. */
  readonly links: readonly { readonly name: string; readonly value: string }[];
}

/** Each costs a load. */
const MOST_VALUES = 8;
const MOST_KEYS = 6;
const PLAIN_VALUES = ['dark', 'light'] as const;
const FLAG_VALUES = ['true', '1', 'on'] as const;

export function storedCandidates(clues: StoredClues): readonly Candidate[] {
  const keys = clues.scripts.map(keysIn);
  const storage = likely([...clues.reads.storage, ...keys.flatMap((k) => k.storage)]);
  const cookie = likely([...keys.flatMap((k) => k.cookie), ...clues.cookies]);
  const query = likely([...clues.reads.query, ...keys.flatMap((k) => k.query)]);
  return [
    ...clues.links.map(({ name, value }) => candidate({ query: { [name]: value } }, value, `a link leads to ?${name}=${value}`)),
    ...query.flatMap((key) =>
      valuesFor(key, clues).map((value) =>
        candidate({ query: { [key]: value } }, nameFor(key, value), `the query ?${key}= is read`),
      ),
    ),
    ...storage.flatMap((key) =>
      valuesFor(key, clues).map((value) =>
        candidate({ storage: { [key]: value } }, nameFor(key, value), `localStorage "${key}" is read`),
      ),
    ),
    ...cookie.flatMap((key) =>
      valuesFor(key, clues).map((value) =>
        candidate({ cookie: { [key]: value } }, nameFor(key, value), `the cookie "${key}" is used`),
      ),
    ),
  ];
}

function candidate(apply: ThemeApply, name: string, evidence: string): Candidate {
  return { applies: [apply], name: themeName(name), evidence, strong: true };
}

/** Keys that sound like themes; where none does, the few there are. */
function likely(keys: readonly string[]): readonly string[] {
  const all = [...new Set(keys)].filter((key) => key !== '');
  const sounding = all.filter(soundsLikeTheme);
  return (sounding.length > 0 ? sounding : all).slice(0, MOST_KEYS);
}

function valuesFor(key: string, { scripts, values }: StoredClues): readonly string[] {
  const near = scripts.flatMap((script) => wordsNear(script, key).slice(0, MOST_VALUES));
  const known = values.filter((value) => near.includes(value));
  const flags = /dark|night|contrast/i.test(key) ? FLAG_VALUES : [];
  return [...new Set([...known, ...flags, ...near, ...values, ...PLAIN_VALUES])].slice(0, MOST_VALUES);
}

/** `darkMode=true` is called dark. */
function nameFor(key: string, value: string): string {
  return /^(true|1|on|yes)$/.test(value) ? key : value;
}
