// Globs of token paths: `*` stands for any part of one name, `**` for any number of names.

/** @param glob as in `silt.*` or `**.ramp.*` */
export function pathMatcher(glob: string): (path: string) => boolean {
  const pattern = glob
    .split('.')
    .map((name) => (name === '**' ? '\u0001' : escapeRegExp(name).replaceAll('\\*', '[^.]*')))
    .join('\\.')
    .replaceAll('\u0001\\.', '(?:[^.]+\\.)*')
    .replaceAll('\\.\u0001', '(?:\\.[^.]+)*')
    .replaceAll('\u0001', '.*');
  const expression = new RegExp(`^${pattern}$`, 'u');
  return (path) => expression.test(path);
}

function escapeRegExp(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');
}
