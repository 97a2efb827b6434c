// Where groups and rows of a grouped list lie. Pure arithmetic, so a list may have any length and any of its places is reached at once.

export const HEAD_PX = 46;
export const ROW_PX = 92;

export interface Block {
  /** Place of the group among the groups. */
  readonly group: number;
  /** Place of its first row in the whole list. */
  readonly from: number;
  readonly count: number;
  readonly folded: boolean;
  readonly topPx: number;
  readonly heightPx: number;
}

export function blocksOf(
  groups: readonly { readonly key: string; readonly count: number }[],
  folded: ReadonlySet<string>,
): readonly Block[] {
  let from = 0;
  let topPx = 0;
  return groups.map(({ key, count }, group) => {
    const isFolded = folded.has(key);
    const block = { group, from, count, folded: isFolded, topPx, heightPx: HEAD_PX + (isFolded ? 0 : count * ROW_PX) };
    from += count;
    topPx += block.heightPx;
    return block;
  });
}

export function heightOf(blocks: readonly Block[]): number {
  const last = blocks.at(-1);
  return last === undefined ? 0 : last.topPx + last.heightPx;
}

export interface InSight {
  readonly heads: readonly Block[];
  readonly rows: readonly { readonly index: number; readonly topPx: number; readonly group: number }[];
}

/** Rows drawn beyond each edge. */
const AROUND = 6;

export function inSight(blocks: readonly Block[], scrollPx: number, heightPx: number): InSight {
  const [top, bottom] = [scrollPx - AROUND * ROW_PX, scrollPx + heightPx + AROUND * ROW_PX];
  const heads: Block[] = [];
  const rows: { index: number; topPx: number; group: number }[] = [];
  for (let at = firstBelow(blocks, top); at < blocks.length; at += 1) {
    const block = blocks[at];
    if (block === undefined || block.topPx > bottom) break;
    heads.push(block);
    if (block.folded) continue;
    const start = block.topPx + HEAD_PX;
    const first = Math.max(0, Math.floor((top - start) / ROW_PX));
    const end = Math.min(block.count, Math.ceil((bottom - start) / ROW_PX));
    for (let row = first; row < end; row += 1)
      rows.push({ index: block.from + row, topPx: start + row * ROW_PX, group: block.group });
  }
  return { heads, rows };
}

/** The first block that reaches below a height. */
function firstBelow(blocks: readonly Block[], topPx: number): number {
  let [low, high] = [0, blocks.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    const block = blocks[middle];
    if (block !== undefined && block.topPx + block.heightPx < topPx) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The block a row lies in. */
export function blockAt(blocks: readonly Block[], index: number): Block | undefined {
  let [low, high] = [0, blocks.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((blocks[middle]?.from ?? 0) <= index) low = middle;
    else high = middle - 1;
  }
  return blocks[low];
}

export function rowTop(blocks: readonly Block[], index: number): number {
  const block = blockAt(blocks, index);
  return block === undefined ? 0 : block.topPx + HEAD_PX + (index - block.from) * ROW_PX;
}

/** The row that so many rows on is in sight: folded groups are passed over. */
export function rowFrom(blocks: readonly Block[], index: number, by: number): number {
  const open = blocks.filter(({ folded, count }) => !folded && count > 0);
  const first = open[0];
  const last = open.at(-1);
  if (first === undefined || last === undefined) return -1;
  const wanted = index + by;
  if (wanted < first.from) return first.from;
  if (wanted >= last.from + last.count) return last.from + last.count - 1;
  const block = blockAt(blocks, wanted);
  if (block === undefined || !block.folded) return wanted;
  const next = by > 0 ? open.find(({ from }) => from > wanted) : open.findLast(({ from }) => from < wanted);
  if (next === undefined) return index;
  return by > 0 ? next.from : next.from + next.count - 1;
}
