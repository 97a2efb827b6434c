// The selectors and media queries around a declaration → the theme it is written for.
export interface ThemeSigns {
  readonly name: string;
  readonly attributes: readonly { readonly name: string; readonly value: string }[];
  readonly classes: readonly string[];
  /** Media feature → value, e.g. `prefers-color-scheme` → `dark`. */
  readonly media: Readonly<Record<string, string>>;
}

/** @returns null where none is named, or several are */
export function themeOfScopes(scopes: readonly string[], themes: readonly ThemeSigns[]): string | null {
  const named = themes.filter((theme) => scopes.some((scope) => names(scope, theme)));
  return named.length === 1 ? (named[0]?.name ?? null) : null;
}

function names(scope: string, { attributes, classes, media }: ThemeSigns): boolean {
  if (scope.startsWith('@')) {
    if (!scope.startsWith('@media ') || /\bnot\b/.test(scope)) return false;
    return Object.entries(media).some(([feature, value]) =>
      new RegExp(`\\(\\s*${quote(feature)}\\s*:\\s*${quote(value)}\\s*\\)`).test(scope),
    );
  }
  // `:not(.dusk)` is every theme but that.
  const selector = scope.replace(/:not\([^()]*\)/g, '');
  if (classes.some((each) => new RegExp(`\\.${quote(each)}(?![\\w-])`).test(selector))) return true;
  const asked = attributes.filter(({ name }) => isAsked(selector, name));
  return asked.length > 0 && asked.every(({ name, value }) => isAsked(selector, name, value));
}

/** @param value any, unless given */
function isAsked(selector: string, name: string, value?: string): boolean {
  const ending = value === undefined ? '' : `["']?${quote(value)}["']?\\s*[is]?\\s*\\]`;
  return new RegExp(`\\[\\s*${quote(name)}\\s*=\\s*${ending}`).test(selector);
}

function quote(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&');
}
