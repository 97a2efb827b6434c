// Random choices that a seed repeats (mulberry32, public domain).
export interface Seeded {
  /** 0 ≤ x < 1. */
  next(): number;
  whole(least: number, most: number): number;
  pick<T>(items: readonly T[]): T;
  shuffled<T>(items: readonly T[]): T[];
}

export function seeded(seed: number): Seeded {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (least: number, most: number): number => least + Math.floor(next() * (most - least + 1));
  return {
    next,
    whole,
    pick: (items) => {
      const item = items[whole(0, items.length - 1)];
      if (item === undefined) throw new RangeError('nothing to pick from');
      return item;
    },
    shuffled: (items) => {
      const out = [...items];
      for (let at = out.length - 1; at > 0; at -= 1) {
        const other = whole(0, at);
        const [a, b] = [out[at], out[other]];
        if (a !== undefined && b !== undefined) [out[at], out[other]] = [b, a];
      }
      return out;
    },
  };
}
