// The changed pixels of a view and who has claimed them: each explanation takes those of its places, so that every pixel counts once.
import type { Change, Explanation } from '../samples/difference.ts';
import type { Sample } from '../samples/sample.ts';
import type { Rect } from '../samples/view.ts';
import { changeGroup } from './change-group.ts';
import { type Mask, gatherRegions } from './gather-regions.ts';
import { type MergedRows, rowIn, sheetRow } from './merged-rows.ts';
import type { RgbaPicture } from './rgba-picture.ts';
import type { Capture, PlacedChange } from './sample-changes.ts';
import { changedTo, mixedPair, type PixelTest } from './seen-pixels.ts';

export interface ExplainInput {
  readonly merged: MergedRows;
  readonly accepted: Capture & { readonly picture: RgbaPicture };
  readonly current: Capture & { readonly picture: RgbaPicture };
  /** Device px per CSS px. */
  readonly scale: number;
}

/** Glyphs, outlines and soft edges reach a little out of their boxes, device px per CSS px. */
const OVERHANG = 2;
/** Less of a region than this left over is an edge of what explains the rest of it; more is unexplained. */
const LEFT_OVER = 0.1;

interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

interface Claims {
  readonly change: Change;
  /** Sample key → its selector and pixels. */
  readonly places: Map<string, { readonly selector: string; pixels: number }>;
  pixels: number;
  readonly box: Box;
}

function openRows({ mask, widthPx, heightPx }: MergedRows): Uint32Array {
  const rows = new Uint32Array(heightPx);
  for (let at = mask.indexOf(1); at >= 0;) {
    const y = Math.floor(at / widthPx);
    let count = 0;
    for (; at < (y + 1) * widthPx; at += 1) count += mask[at] ?? 0;
    rows[y] = count;
    at = mask.indexOf(1, at);
  }
  return rows;
}

/** The changed pixels that nobody has claimed yet. */
export class OpenPixels {
  readonly #input: ExplainInput;
  readonly #mask: Uint8Array;
  /** Per row how many of its pixels are open. */
  readonly #rows: Uint32Array;
  /** Per pixel the number of the group that claimed it, 1 and up. */
  readonly #owner: Uint16Array;
  readonly #groups = new Map<string, Claims & { readonly number: number }>();

  constructor(input: ExplainInput) {
    this.#input = input;
    this.#mask = input.merged.mask.slice();
    this.#owner = new Uint16Array(this.#mask.length);
    this.#rows = openRows(input.merged);
  }

  claim(placed: PlacedChange): void {
    const test = placed.seen === undefined ? null : changedTo(placed.seen);
    const recolours = placed.change.kind === 'recoloured' || placed.change.kind === 'rewired';
    for (const box of this.#boxesOf(placed)) this.#take(placed, box, recolours ? test : null);
  }

  /** Unsampled places that changed as a sampled one did, pure or mixed with what stayed: the same token painted them. */
  claimAlike(changes: readonly PlacedChange[]): void {
    const done = new Set<string>();
    for (const placed of changes) {
      const { change, seen } = placed;
      if (change.kind !== 'recoloured' || seen?.part !== 'own' || !this.#groups.has(changeGroup(change))) continue;
      const pair = `${seen.accepted.own} ${seen.current.own}`;
      const test = done.has(pair) ? null : mixedPair(seen.accepted.own, seen.current.own);
      done.add(pair);
      if (test !== null) this.#take(placed, this.#whole(), test);
    }
  }

  /** The same by the values of the tokens themselves, for tokens that no sample shows. */
  claimTokens(tokens: ReadonlyMap<string, { readonly from: string; readonly to: string }>): void {
    for (const [token, { from, to }] of tokens) {
      const test = mixedPair(from, to);
      if (test === null) continue;
      const change = { kind: 'recoloured', token, property: 'color', from, to } as const;
      this.#take({ change, key: token, selector: 'html', accepted: null, current: null }, this.#whole(), test);
    }
  }

  /** What is left of rows that came in or went, and small rests, go to what explains most of them; larger rests are unexplained. */
  settle(samples: readonly Sample[]): void {
    const { merged } = this.#input;
    const { widthPx, heightPx } = merged;
    for (const { kind, top, rows } of merged.bands) {
      if (kind === 'inserted' || kind === 'removed') this.#giveRest({ left: 0, top, right: widthPx, bottom: top + rows });
    }
    const changed: Mask = { widthPx, heightPx, mask: merged.mask };
    for (const { left, top, right, bottom, pixels } of gatherRegions(changed)) {
      const box = { left, top, right, bottom };
      const rest = this.#count(box);
      if (rest === 0) continue;
      if (rest <= LEFT_OVER * pixels && this.#giveRest(box)) continue;
      const { key, selector } = this.#smallestAround(box, samples);
      this.#take({ change: { kind: 'unexplained' }, key, selector, accepted: null, current: null }, box, null);
    }
  }

  explanations(): readonly Explanation[] {
    const { merged, scale } = this.#input;
    return [...this.#groups]
      .map(([group, { change, places, pixels, box }]): Explanation => {
        const [main] = [...places].sort((a, b) => b[1].pixels - a[1].pixels || (a[0] < b[0] ? -1 : 1));
        const top = rowIn('current', merged, box.top);
        const bottom = rowIn('current', merged, box.bottom - 1) + 1;
        const rect = [box.left, top, box.right - box.left, bottom - top].map((px) => px / scale);
        const [x = 0, y = 0, width = 0, height = 0] = rect;
        return {
          ...{ change, group: change.kind === 'unexplained' ? `${group} ${main?.[0] ?? ''}` : group },
          ...{ selector: main?.[1].selector ?? 'html', key: main?.[0] ?? 'html' },
          ...{ rect: [x, y, width, height], pixels, places: places.size },
        };
      })
      .sort((a, b) => b.pixels - a.pixels || (a.group < b.group ? -1 : 1));
  }

  #take(placed: Omit<PlacedChange, 'seen'>, box: Box, test: PixelTest | null): void {
    const { widthPx } = this.#input.merged;
    let claims: (Claims & { readonly number: number }) | undefined;
    for (let y = box.top; y < box.bottom; y += 1) {
      if (this.#rows[y] === 0) continue;
      const pair = test === null ? null : this.#pairAt(y);
      if (test !== null && pair === null) continue;
      for (let x = box.left; x < box.right; x += 1) {
        const at = y * widthPx + x;
        if (this.#mask[at] !== 1) continue;
        if (test !== null && pair !== null && !test(pair.accepted + x * 4, pair.current + x * 4, this.#bytes)) continue;
        claims ??= this.#claimsOf(placed);
        this.#give(x, y, claims, placed);
      }
    }
  }

  get #bytes(): { readonly accepted: Uint8Array; readonly current: Uint8Array } {
    return { accepted: this.#input.accepted.picture.data, current: this.#input.current.picture.data };
  }

  /** Byte offsets of a row that both pictures have; null for others. */
  #pairAt(y: number): { readonly accepted: number; readonly current: number } | null {
    const { merged, accepted, current } = this.#input;
    const band = merged.bands.find(({ top, rows }) => y < top + rows);
    if (band === undefined || band.kind === 'inserted' || band.kind === 'removed') return null;
    return {
      accepted: (band.acceptedTop + y - band.top) * accepted.picture.widthPx * 4,
      current: (band.currentTop + y - band.top) * current.picture.widthPx * 4,
    };
  }

  #claimsOf({ change }: Pick<PlacedChange, 'change'>): Claims & { readonly number: number } {
    const group = changeGroup(change);
    const claims = this.#groups.get(group) ?? {
      ...{ change, places: new Map(), pixels: 0, number: this.#groups.size + 1 },
      box: { left: Infinity, top: Infinity, right: 0, bottom: 0 },
    };
    this.#groups.set(group, claims);
    return claims;
  }

  #give(
    x: number,
    y: number,
    claims: Claims & { readonly number: number },
    { key, selector }: Pick<PlacedChange, 'key' | 'selector'>,
  ): void {
    const at = y * this.#input.merged.widthPx + x;
    this.#mask[at] = 0;
    this.#rows[y] = (this.#rows[y] ?? 0) - 1;
    this.#owner[at] = claims.number;
    claims.pixels += 1;
    const place = claims.places.get(key) ?? { selector, pixels: 0 };
    claims.places.set(key, place);
    place.pixels += 1;
    const { box } = claims;
    if (x < box.left) box.left = x;
    if (x >= box.right) box.right = x + 1;
    if (y < box.top) box.top = y;
    if (y >= box.bottom) box.bottom = y + 1;
  }

  /** @returns false when nothing was claimed there */
  #giveRest(box: Box): boolean {
    const { widthPx } = this.#input.merged;
    const counts = new Map<number, number>();
    for (let y = box.top; y < box.bottom; y += 1) {
      for (let at = y * widthPx + box.left; at < y * widthPx + box.right; at += 1) {
        const owner = this.#owner[at] ?? 0;
        if (owner > 0) counts.set(owner, (counts.get(owner) ?? 0) + 1);
      }
    }
    const [most] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
    const claims = [...this.#groups.values()].find(({ number }) => number === most?.[0]);
    const [place] = [...(claims?.places ?? [])].sort((a, b) => b[1].pixels - a[1].pixels);
    if (claims === undefined || place === undefined) return false;
    const [key, { selector }] = place;
    this.#take({ change: claims.change, key, selector, accepted: null, current: null }, box, null);
    return true;
  }

  #count(box: Box): number {
    const { widthPx } = this.#input.merged;
    let count = 0;
    for (let y = box.top; y < box.bottom; y += 1) {
      for (let at = y * widthPx + box.left; at < y * widthPx + box.right; at += 1) count += this.#mask[at] ?? 0;
    }
    return count;
  }

  #whole(): Box {
    const { widthPx, heightPx } = this.#input.merged;
    return { left: 0, top: 0, right: widthPx, bottom: heightPx };
  }

  /** The places of a change, in the sheet. */
  #boxesOf({ accepted, current }: PlacedChange): readonly Box[] {
    const boxes: Box[] = [];
    if (accepted !== null) boxes.push(this.#boxOf('accepted', accepted));
    if (current !== null) boxes.push(this.#boxOf('current', current));
    return boxes;
  }

  #boxOf(side: 'accepted' | 'current', [x, y, width, height]: Rect): Box {
    const { merged, scale } = this.#input;
    const over = OVERHANG * scale;
    const within = (v: number, most: number): number => Math.min(most, Math.max(0, v));
    return {
      left: within(Math.floor(x * scale - over), merged.widthPx),
      right: within(Math.ceil((x + width) * scale + over), merged.widthPx),
      top: within(sheetRow(side, merged, Math.floor(y * scale)) - over, merged.heightPx),
      bottom: within(sheetRow(side, merged, Math.ceil((y + height) * scale) - 1) + 1 + over, merged.heightPx),
    };
  }

  /** The smallest sampled place that holds the middle of a box, to name where something unexplained lies. */
  #smallestAround(box: Box, samples: readonly Sample[]): { readonly key: string; readonly selector: string } {
    const { merged, scale } = this.#input;
    const x = (box.left + box.right) / 2 / scale;
    const y = rowIn('current', merged, Math.floor((box.top + box.bottom) / 2)) / scale;
    let best: Sample | undefined;
    for (const sample of samples) {
      const [left, top, width, height] = sample.rect;
      if (x < left || y < top || x >= left + width || y >= top + height) continue;
      if (best === undefined || sizeOf(sample.rect) < sizeOf(best.rect)) best = sample;
    }
    return best ?? { key: 'html', selector: 'html' };
  }
}

const sizeOf = (rect: Rect | null): number => (rect === null ? 0 : rect[2] * rect[3]);
