// Globs over names of pages, which are paths: `*` within one segment, `**` across, `?` one character.

export function nameGlob(glob: string): RegExp {
  const body = glob
    .split(/(\*\*|\*|\?)/u)
    .map((part) =>
      part === '**' ? '.*' : part === '*' ? '[^/]*' : part === '?' ? '[^/]' : part.replace(/[.+^${}()|[\]\\/]/gu, '\\$&'),
    )
    .join('');
  return new RegExp(`^${body}$`, 'u');
}
