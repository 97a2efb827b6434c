// Two pictures → which rows of one are which rows of the other. A banner that pushes the page down is then rows that came in, not a page
// that changed all over. Rows that are alike in both and unique in each are anchors (the longest chain of them in order, as in Bram
// Cohen's "patience diff", 2010); between anchors small gaps are aligned by longest common subsequence, others compared row by row.
import { type RgbaPicture, words } from './rgba-picture.ts';

/** Rows that belong together. `equal` and `changed` have as many rows on both sides. */
export interface RowBand {
  readonly kind: 'equal' | 'changed' | 'inserted' | 'removed';
  /** First row in each picture; for `inserted` and `removed` the place between rows on the side that has none. */
  readonly acceptedTop: number;
  readonly currentTop: number;
  readonly rows: number;
}

/** Gaps of more cells than this are not aligned further (a table of 2 MB). */
const MOST_CELLS = 1_000_000;

/** Aligned pictures must leave less than this share of the rows that plain comparison finds changed, else rows stay where they are. */
const WORTH = 0.5;

/** @returns bands from top to bottom that cover every row of both pictures once */
export function alignRows(accepted: RgbaPicture, current: RgbaPicture): readonly RowBand[] {
  const ends = equalEnds(accepted, current);
  const rowsA = accepted.heightPx - ends.head - ends.tail;
  const rowsB = current.heightPx - ends.head - ends.tail;
  // Only what lies between the equal ends is looked at row by row: mostly a small part of the page.
  const ids = rowIds(accepted, current, { top: ends.head, rowsA, rowsB });
  const gap = { a: ends.head, b: ends.head, rowsA, rowsB };
  const laid = (lay: (ids: RowIds, gap: Gap, pieces: Pieces) => void): readonly RowBand[] => {
    const pieces = new Pieces();
    pieces.add({ kind: 'equal', acceptedTop: 0, currentTop: 0, rows: ends.head });
    lay(ids, gap, pieces);
    pieces.add({ kind: 'equal', acceptedTop: ends.head + rowsA, currentTop: ends.head + rowsB, rows: ends.tail });
    return pieces.bands();
  };
  const aligned = laid(align);
  if (rowsA !== rowsB) return aligned;
  const stayed = laid(inPlace);
  return changedRows(aligned) < WORTH * changedRows(stayed) ? aligned : stayed;
}

/** How many rows are equal from the top and, of the others, from the bottom. */
function equalEnds(accepted: RgbaPicture, current: RgbaPicture): { readonly head: number; readonly tail: number } {
  const [a, b] = [words(accepted), words(current)];
  const width = Math.min(accepted.widthPx, current.widthPx);
  const both = Math.min(accepted.heightPx, current.heightPx);
  const same = (rowA: number, rowB: number): boolean => {
    const [left, right] = [rowA * accepted.widthPx, rowB * current.widthPx];
    for (let x = 0; x < width; x += 1) if (a[left + x] !== b[right + x]) return false;
    return true;
  };
  let head = 0;
  while (head < both && same(head, head)) head += 1;
  let tail = 0;
  while (tail < both - head && same(accepted.heightPx - 1 - tail, current.heightPx - 1 - tail)) tail += 1;
  return { head, tail };
}

interface RowIds {
  readonly a: Int32Array;
  readonly b: Int32Array;
}

/** Rows `a` … `a + rowsA` of the accepted picture against rows `b` … `b + rowsB` of the current one. */
interface Gap {
  readonly a: number;
  readonly b: number;
  readonly rowsA: number;
  readonly rowsB: number;
}

/** Equal rows get equal numbers, over the columns that both pictures have; rows outside get none (−1). */
function rowIds(
  accepted: RgbaPicture,
  current: RgbaPicture,
  between: { readonly top: number; readonly rowsA: number; readonly rowsB: number },
): RowIds {
  const width = Math.min(accepted.widthPx, current.widthPx);
  const known = new Map<number, { readonly row: Uint32Array; readonly id: number }[]>();
  let next = 0;
  const idsOf = (picture: RgbaPicture, rows: number): Int32Array => {
    const all = words(picture);
    const ids = new Int32Array(picture.heightPx).fill(-1);
    for (let y = between.top; y < between.top + rows; y += 1) {
      const row = all.subarray(y * picture.widthPx, y * picture.widthPx + width);
      const hash = hashOf(row);
      const alike = known.get(hash) ?? [];
      known.set(hash, alike);
      let found = alike.find((other) => isSameRow(other.row, row));
      if (found === undefined) {
        found = { row, id: next };
        next += 1;
        alike.push(found);
      }
      ids[y] = found.id;
    }
    return ids;
  };
  return { a: idsOf(accepted, between.rowsA), b: idsOf(current, between.rowsB) };
}

/** FNV-1a over whole pixels, 32 bits (RFC 9923 §2 over octets; here a step takes a pixel). Rows are compared where it agrees. */
function hashOf(row: Uint32Array): number {
  let hash = 0x811c9dc5;
  for (const word of row) hash = Math.imul(hash ^ word, 0x01000193);
  return hash;
}

function isSameRow(a: Uint32Array, b: Uint32Array): boolean {
  for (let x = 0; x < a.length; x += 1) if (a[x] !== b[x]) return false;
  return true;
}

/** Collects bands in order and joins neighbours of one kind. */
class Pieces {
  readonly #bands: RowBand[] = [];

  add(band: RowBand): void {
    if (band.rows === 0) return;
    const last = this.#bands.at(-1);
    if (last?.kind === band.kind) this.#bands[this.#bands.length - 1] = { ...last, rows: last.rows + band.rows };
    else this.#bands.push(band);
  }

  bands(): readonly RowBand[] {
    return this.#bands;
  }
}

function align(ids: RowIds, gap: Gap, pieces: Pieces): void {
  let { a, b, rowsA, rowsB } = gap;
  const same = (i: number, j: number): boolean => ids.a[i] === ids.b[j];
  let head = 0;
  while (head < Math.min(rowsA, rowsB) && same(a + head, b + head)) head += 1;
  pieces.add({ kind: 'equal', acceptedTop: a, currentTop: b, rows: head });
  a += head;
  b += head;
  rowsA -= head;
  rowsB -= head;
  let tail = 0;
  while (tail < Math.min(rowsA, rowsB) && same(a + rowsA - 1 - tail, b + rowsB - 1 - tail)) tail += 1;
  rowsA -= tail;
  rowsB -= tail;
  between(ids, { a, b, rowsA, rowsB }, pieces);
  pieces.add({ kind: 'equal', acceptedTop: a + rowsA, currentTop: b + rowsB, rows: tail });
}

/** A gap whose first and last rows differ. */
function between(ids: RowIds, gap: Gap, pieces: Pieces): void {
  const { a, b, rowsA, rowsB } = gap;
  if (rowsA === 0 || rowsB === 0) {
    pieces.add({ kind: 'removed', acceptedTop: a, currentTop: b, rows: rowsA });
    pieces.add({ kind: 'inserted', acceptedTop: a + rowsA, currentTop: b, rows: rowsB });
    return;
  }
  const anchors = chainOf(uniquePairs(ids, gap));
  if (anchors.length > 0) throughAnchors(ids, gap, anchors, pieces, align);
  else if (rowsA === rowsB) inPlace(ids, gap, pieces);
  else if (rowsA * rowsB <= MOST_CELLS) throughAnchors(ids, gap, commonRows(ids, gap), pieces, sideBySide);
  else sideBySide(ids, gap, pieces);
}

type Pair = readonly [a: number, b: number];

function throughAnchors(
  ids: RowIds,
  gap: Gap,
  anchors: readonly Pair[],
  pieces: Pieces,
  inner: (ids: RowIds, gap: Gap, pieces: Pieces) => void,
): void {
  let { a, b } = gap;
  for (const [anchorA, anchorB] of anchors) {
    inner(ids, { a, b, rowsA: anchorA - a, rowsB: anchorB - b }, pieces);
    pieces.add({ kind: 'equal', acceptedTop: anchorA, currentTop: anchorB, rows: 1 });
    a = anchorA + 1;
    b = anchorB + 1;
  }
  inner(ids, { a, b, rowsA: gap.a + gap.rowsA - a, rowsB: gap.b + gap.rowsB - b }, pieces);
}

/** As many rows on both sides: each stays where it is. */
function inPlace(ids: RowIds, { a, b, rowsA }: Gap, pieces: Pieces): void {
  for (let row = 0; row < rowsA; row += 1) {
    const kind = ids.a[a + row] === ids.b[b + row] ? 'equal' : 'changed';
    pieces.add({ kind, acceptedTop: a + row, currentTop: b + row, rows: 1 });
  }
}

/** Nothing in common: rows are held against each other from the top, what is left over on one side came in or went. */
function sideBySide(ids: RowIds, gap: Gap, pieces: Pieces): void {
  const { a, b, rowsA, rowsB } = gap;
  const both = Math.min(rowsA, rowsB);
  inPlace(ids, { a, b, rowsA: both, rowsB: both }, pieces);
  pieces.add({ kind: 'removed', acceptedTop: a + both, currentTop: b + both, rows: rowsA - both });
  pieces.add({ kind: 'inserted', acceptedTop: a + rowsA, currentTop: b + both, rows: rowsB - both });
}

/** Rows that occur once on each side, in the order of the accepted picture. */
function uniquePairs({ a: idsA, b: idsB }: RowIds, { a, b, rowsA, rowsB }: Gap): readonly Pair[] {
  const places = (ids: Int32Array, from: number, rows: number): Map<number, number> => {
    const found = new Map<number, number>();
    for (let y = from; y < from + rows; y += 1) found.set(ids[y] ?? -1, found.has(ids[y] ?? -1) ? -1 : y);
    return found;
  };
  const inB = places(idsB, b, rowsB);
  const pairs: Pair[] = [];
  for (const [id, y] of places(idsA, a, rowsA)) {
    const other = inB.get(id) ?? -1;
    if (y >= 0 && other >= 0) pairs.push([y, other]);
  }
  return pairs.sort((one, two) => one[0] - two[0]);
}

/** The longest chain of pairs that goes down in both pictures. */
function chainOf(pairs: readonly Pair[]): readonly Pair[] {
  // Last pair of the best chain of each length, and what comes before each pair.
  const ends: number[] = [];
  const before = new Map<number, number>();
  for (const [at, [, b]] of pairs.entries()) {
    let low = 0;
    let high = ends.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((pairs[ends[middle] ?? 0]?.[1] ?? 0) < b) low = middle + 1;
      else high = middle;
    }
    const previous = ends[low - 1];
    if (previous !== undefined) before.set(at, previous);
    ends[low] = at;
  }
  const chain: Pair[] = [];
  for (let at = ends.at(-1); at !== undefined; at = before.get(at)) {
    const pair = pairs[at];
    if (pair !== undefined) chain.push(pair);
  }
  return chain.reverse();
}

/** Longest common subsequence by the plain table. */
function commonRows(ids: RowIds, { a, b, rowsA, rowsB }: Gap): readonly Pair[] {
  const wide = rowsB + 1;
  const longest = new Uint16Array((rowsA + 1) * wide);
  const at = (i: number, j: number): number => longest[i * wide + j] ?? 0;
  for (let i = rowsA - 1; i >= 0; i -= 1) {
    for (let j = rowsB - 1; j >= 0; j -= 1) {
      longest[i * wide + j] = ids.a[a + i] === ids.b[b + j] ? at(i + 1, j + 1) + 1 : Math.max(at(i + 1, j), at(i, j + 1));
    }
  }
  const pairs: Pair[] = [];
  for (let i = 0, j = 0; i < rowsA && j < rowsB;) {
    if (ids.a[a + i] === ids.b[b + j]) {
      pairs.push([a + i, b + j]);
      i += 1;
      j += 1;
    } else if (at(i + 1, j) >= at(i, j + 1)) i += 1;
    else j += 1;
  }
  return pairs;
}

function changedRows(bands: readonly RowBand[]): number {
  return bands.reduce((sum, band) => sum + (band.kind === 'equal' ? 0 : band.rows), 0);
}
