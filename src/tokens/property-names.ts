// Token path → names of custom properties. The token format defines none (F6.10.3), so all of this is configuration. Always
// mapped forward: splitting a property name at its dashes is ambiguous.

export interface NamePattern {
  /** Put in front, followed by the separator. */
  readonly prefix?: string;
  /** Between the segments; `-` unless set. */
  readonly sep?: '-' | '_' | '--';
  /** `keep` unless set. */
  readonly case?: 'keep' | 'lower' | 'kebab';
  /** What `$root` becomes: `omit`, unless set, or a word. */
  readonly root?: string;
  /** Leading segments that are left out, each once; the last segment stays. */
  readonly drop?: readonly string[];
  /** What a run of other characters than letters, digits, `_`, `-` and non-ASCII becomes: `-` unless set; `\` keeps them, escaped in CSS. */
  readonly replace?: string;
  /** Token path → its names, instead of the pattern. */
  readonly exceptions?: Readonly<Record<string, readonly string[]>>;
}

const ESCAPED = '\\';

/**
 * @param patterns tried in turn; a path that one of them makes an exception of has the names of that exception only
 * @returns the names as the DOM knows them (unescaped), with the two dashes; never empty
 */
export function propertyNames(path: string, patterns: readonly NamePattern[]): readonly string[] {
  const exceptions = patterns.flatMap(({ exceptions: all }) =>
    all !== undefined && Object.hasOwn(all, path) ? (all[path] ?? []) : [],
  );
  if (exceptions.length > 0) return [...new Set(exceptions)];
  return [...new Set((patterns.length === 0 ? [{}] : patterns).map((pattern) => nameBy(path, pattern)))];
}

function nameBy(path: string, pattern: NamePattern): string {
  const { prefix = '', sep = '-', root = 'omit', replace = '-', drop = [] } = pattern;
  const words = dropLeading(path.split('.'), drop).flatMap((segment) => {
    if (segment !== '$root') return [spell(segment, pattern.case ?? 'keep', replace)];
    return root === 'omit' ? [] : [root];
  });
  return `--${[...(prefix === '' ? [] : [prefix]), ...words].join(sep)}`;
}

function dropLeading(segments: readonly string[], drop: readonly string[]): readonly string[] {
  const left = new Set(drop);
  let from = 0;
  while (from < segments.length - 1 && left.delete(segments[from] ?? '')) from += 1;
  return segments.slice(from);
}

function spell(segment: string, letterCase: 'keep' | 'lower' | 'kebab', replace: string): string {
  const plain = replace === ESCAPED ? segment : segment.replace(/[^A-Za-z0-9_\-\u0080-\u{10FFFF}]+/gu, replace);
  if (letterCase === 'keep') return plain;
  if (letterCase === 'lower') return plain.toLowerCase();
  return plain
    .replace(/(\p{Ll}|\p{N})(\p{Lu})/gu, '$1-$2')
    .replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1-$2')
    .toLowerCase();
}

/** A name as it is written in CSS, where some characters need a backslash (CSSOM, "serialize an identifier"). */
export function escapeName(name: string): string {
  return name.replace(/[^A-Za-z0-9_\-\u0080-\u{10FFFF}]/gu, (character) => {
    const code = character.codePointAt(0) ?? 0;
    return code < 0x20 || code === 0x7f ? `\\${code.toString(16)} ` : `\\${character}`;
  });
}

/** Names of the members of a composite, where a build writes one property per member: `--fall-offset-x`. */
export function memberNames(names: readonly string[], member: string, sep: NamePattern['sep'] = '-'): readonly string[] {
  return names.map((name) => `${name}${sep}${spell(member, 'kebab', '-')}`);
}
