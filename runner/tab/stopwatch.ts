// Where the time of a run goes, by stage. Stages overlap (a page is read while its picture is compressed, pages render side by side),
// so their sum may pass the time on the clock.

export const STAGES = [
  'starting',
  'loading',
  'settling',
  'proving',
  'picture',
  'source',
  'reading',
  'tracing',
  'decoding',
  'text',
  'surfaces',
  'written',
  'states',
  'storing',
  'judging',
  'explaining',
] as const;
export type Stage = (typeof STAGES)[number];

export class Stopwatch {
  readonly #spent = new Map<Stage, { ms: number; times: number }>();

  /** @returns what `work` returns; the time counts also when it throws */
  async time<T>(stage: Stage, work: () => Promise<T> | T): Promise<T> {
    const from = performance.now();
    try {
      return await work();
    } finally {
      const spent = this.#spent.get(stage) ?? { ms: 0, times: 0 };
      this.#spent.set(stage, { ms: spent.ms + performance.now() - from, times: spent.times + 1 });
    }
  }

  /** Stages that took any time, in the order of a view's way. */
  rows(): readonly { readonly stage: Stage; readonly ms: number; readonly times: number }[] {
    return STAGES.flatMap((stage) => {
      const spent = this.#spent.get(stage);
      return spent === undefined ? [] : [{ stage, ms: Math.round(spent.ms), times: spent.times }];
    });
  }
}
