// Whether a pair of pixels shows what a recoloured place should show: before, a mixture of its colours then; now, one of its colours now.
// Anti-aliased glyphs and edges are mixtures of two colours, with one share for all channels when sub-pixel text is off.
import type { SeenChange, SeenColors } from './sample-changes.ts';

/** @param accepted @param current byte offsets into the two pictures */
export type PixelTest = (
  accepted: number,
  current: number,
  bytes: { readonly accepted: Uint8Array; readonly current: Uint8Array },
) => boolean;

type Codes = readonly [red: number, green: number, blue: number];

/** Distance from a mixture, codes of 255: rounding, and the contrast that glyph masks get. Ours: glyphs of 11–40 px stay within. */
const MIXTURE_CODES = 10;
/** Distance from a flat colour, codes of 255: rounding of compositing. */
const FLAT_CODES = 3;

/** Null when a colour cannot be read as 8-bit codes. */
export function changedTo({ accepted, current, part }: SeenChange): PixelTest | null {
  const before = segmentsOf(accepted);
  const now = segmentsOf(current);
  if (before === null || now === null) return null;
  return (from, to, bytes) => {
    if (!isOnAny(before, bytes.accepted, from) || !isOnAny(now, bytes.current, to)) return false;
    // Bare ground before and now: if it changed, then not because of what lies on it.
    return part === 'beneath' || !(isGround(before, bytes.accepted, from) && isGround(now, bytes.current, to));
  };
}

function isGround(segments: readonly Segment[], bytes: Uint8Array, at: number): boolean {
  return segments.some(({ from }) => isNear(bytes, at, from));
}

/** Least change that tells the colour it came from, codes of 255: below, rounding could come from anywhere. */
const LEAST_TELLING_CODES = 8;

/**
 * From one colour to another, pure or mixed with something that stayed the same: half-covered edges, translucent layers. With a share k
 * of the colour, a pixel moves by k times the way between the two colours, and what it was mixed with must be a colour.
 * Null when a colour cannot be read, or nothing changed.
 */
export function mixedPair(from: string, to: string): PixelTest | null {
  const [before, now] = [codesOf(from), codesOf(to)];
  if (before === null || now === null) return null;
  const way = [now[0] - before[0], now[1] - before[1], now[2] - before[2]] as const;
  const length = Math.hypot(...way);
  if (length === 0) return null;
  return (a, b, bytes) => {
    const code = (side: 'accepted' | 'current', channel: number): number =>
      bytes[side][(side === 'accepted' ? a : b) + channel] ?? 0;
    const moved = [0, 1, 2].map((channel) => code('current', channel) - code('accepted', channel));
    const share = moved.reduce((sum, step, channel) => sum + step * (way[channel] ?? 0), 0) / (length * length);
    if (share * length < LEAST_TELLING_CODES || (share - 1) * length > FLAT_CODES) return false;
    const k = Math.min(1, share);
    const off = Math.hypot(...moved.map((step, channel) => step - k * (way[channel] ?? 0)));
    const other = [0, 1, 2].map((channel) => code('accepted', channel) - k * (before[channel] ?? 0));
    const most = (1 - k) * 255 + FLAT_CODES;
    return off <= FLAT_CODES && other.every((rest) => rest >= -FLAT_CODES && rest <= most);
  };
}

/** From a colour around (`from`) to the place's own. */
interface Segment {
  readonly from: Codes;
  readonly to: Codes;
}

function segmentsOf({ own, around }: SeenColors): readonly Segment[] | null {
  const to = codesOf(own);
  if (to === null) return null;
  const segments = around.flatMap((color) => {
    const from = codesOf(color);
    return from === null ? [] : [{ from, to }];
  });
  return segments.length === 0 ? null : segments;
}

function isOnAny(segments: readonly Segment[], bytes: Uint8Array, at: number): boolean {
  return segments.some(({ from, to }) => {
    const v = [to[0] - from[0], to[1] - from[1], to[2] - from[2]] as const;
    const p = [(bytes[at] ?? 0) - from[0], (bytes[at + 1] ?? 0) - from[1], (bytes[at + 2] ?? 0) - from[2]] as const;
    const squared = v[0] * v[0] + v[1] * v[1] + v[2] * v[2];
    const share = squared === 0 ? 0 : Math.min(1, Math.max(0, (p[0] * v[0] + p[1] * v[1] + p[2] * v[2]) / squared));
    return Math.hypot(p[0] - share * v[0], p[1] - share * v[1], p[2] - share * v[2]) <= MIXTURE_CODES;
  });
}

function isNear(bytes: Uint8Array, at: number, [red, green, blue]: Codes): boolean {
  const far = (code: number | undefined, wanted: number): boolean => Math.abs((code ?? 0) - wanted) > FLAT_CODES;
  return !far(bytes[at], red) && !far(bytes[at + 1], green) && !far(bytes[at + 2], blue);
}

/** `#rrggbb`, `rgb(r, g, b)` or `rgb(r g b)`, as samples and computed styles have them; null for all else, translucent ones too. */
function codesOf(color: string): Codes | null {
  const hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(color);
  if (hex !== null)
    return [Number.parseInt(hex[1] ?? '', 16), Number.parseInt(hex[2] ?? '', 16), Number.parseInt(hex[3] ?? '', 16)];
  const rgb = /^rgb\(\s*(\d+)[\s,]+(\d+)[\s,]+(\d+)\s*\)$/.exec(color);
  return rgb === null ? null : [Number(rgb[1]), Number(rgb[2]), Number(rgb[3])];
}
