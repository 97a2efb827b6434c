// Texts that must not be written anywhere: values from the environment, and what a sign-in left behind. Kept in memory only.

/** What stands in their place. */
const MARK = '‹secret›';

export interface Secrets {
  readonly learn: (values: Iterable<string>) => void;
  readonly scrub: (text: string) => string;
  /** All texts inside plain data; bytes are left as they are. */
  readonly scrubAll: <T>(value: T) => T;
}

export function openSecrets(): Secrets {
  const known = new Set<string>();
  let pattern: RegExp | null = null;
  const scrub = (text: string): string => (pattern === null ? text : text.replace(pattern, MARK));
  const deep = (value: unknown): unknown => {
    if (typeof value === 'string') return scrub(value);
    if (Array.isArray(value)) return value.map(deep);
    if (typeof value !== 'object' || value === null || Object.getPrototypeOf(value) !== Object.prototype) return value;
    return Object.fromEntries(Object.entries(value).map(([name, member]) => [name, deep(member)]));
  };
  return {
    learn(values) {
      for (const value of values) for (const form of formsOf(value)) known.add(form);
      // The longest first: one may be the beginning of another.
      const forms = [...known].sort((a, b) => b.length - a.length).map(escapeRegExp);
      pattern = forms.length === 0 ? null : new RegExp(forms.join('|'), 'gu');
    },
    scrub,
    // Texts stay texts, all else stays as it is.
    scrubAll: <T>(value: T): T => (pattern === null ? value : (deep(value) as T)),
  };
}

/** As it is, in an address, in a form, in JSON, in HTML, and as basic authentication carries it. */
function formsOf(value: string): readonly string[] {
  if (value === '') return [];
  const inAddress = encodeURIComponent(value);
  const inHtml = value.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
  const inBase64 = Buffer.from(value, 'utf8').toString('base64');
  return [value, inAddress, inAddress.replaceAll('%20', '+'), JSON.stringify(value).slice(1, -1), inHtml, inBase64];
}

function escapeRegExp(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|/]/gu, '\\$&');
}
