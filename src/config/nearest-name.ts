// The known name closest to one that was mistyped (Levenshtein distance).

function distance(a: string, b: string): number {
  let previous = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const replaced = (previous[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      row.push(Math.min((previous[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, replaced));
    }
    previous = row;
  }
  return previous[b.length] ?? 0;
}

/** @returns the nearest of `known`, or null when none is within half the length of `name` (at least 2) */
export function nearestName(name: string, known: readonly string[]): string | null {
  const reach = Math.max(2, Math.floor(name.length / 2));
  const ranked = known
    .map((candidate) => ({ candidate, apart: distance(name.toLowerCase(), candidate.toLowerCase()) }))
    .filter(({ apart }) => apart <= reach)
    .sort((x, y) => x.apart - y.apart || x.candidate.localeCompare(y.candidate));
  return ranked[0]?.candidate ?? null;
}

/** How a wrong name's fault says what was expected: the nearest name, or the whole list when it is short. */
export function expectedName(name: string, known: readonly string[]): string {
  const nearest = nearestName(name, known);
  if (nearest !== null) return `"${nearest}"?`;
  if (known.length === 0) return 'none: nothing of the kind is configured';
  return known.length <= 24 ? `one of ${known.join(', ')}` : 'a known name';
}
