// How long anything may take before it counts as failed, in ms, and how large a page may be.

export interface Limits {
  /** All steps of one view together; its load is part of the first view that shares it. */
  readonly viewMs: number;
  /** Until the document is there. */
  readonly loadMs: number;
  /** Until fonts, pictures, network and document rest. */
  readonly settleMs: number;
  /** One call into the page, one picture. */
  readonly callMs: number;
  /** Device px; what lies below is cut off with a note. */
  readonly heightPx: number;
  /** Painted areas smaller than this share of the viewport are no surfaces, 0–1. */
  readonly surfaceShare: number;
  /** All of looking up where colours are written, for one load of a page. */
  readonly writtenMs: number;
}

/**
 * Ours: slow applications under test answer within half a minute, or a person would have given up; 512 px² of 1280 × 800 is a
 * badge of 16 × 32. Most pages need a fiftieth of the time for what is written where, also on a busy machine, so that the same is found every
 * night; one with ten thousand nested rules would need minutes (measured).
 */
export const LIMITS: Limits = {
  viewMs: 60_000,
  loadMs: 30_000,
  settleMs: 8_000,
  callMs: 60_000,
  heightPx: 120_000,
  surfaceShare: 0.0005,
  writtenMs: 20_000,
};

/** The limits under a time of their own for each view: a load has half of it, resting a seventh, and none has more than usual. */
export function limitsWithin(viewMs: number): Limits {
  return {
    ...LIMITS,
    viewMs,
    loadMs: Math.min(LIMITS.loadMs, viewMs / 2),
    settleMs: Math.min(LIMITS.settleMs, viewMs / 7),
    callMs: Math.max(LIMITS.callMs, viewMs),
  };
}
