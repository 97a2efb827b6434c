// How long anything may take before it counts as failed, in ms, and how large a page may be.

export interface Limits {
  /** Until the document is there. */
  readonly loadMs: number;
  /** Until fonts, pictures, network and document rest. */
  readonly settleMs: number;
  /** One call into the page, one picture. */
  readonly callMs: number;
  /** Device px; what lies below is cut off with a note. */
  readonly heightPx: number;
}

/** Ours: slow applications under test answer within half a minute, or a person would have given up. */
export const LIMITS: Limits = { loadMs: 30_000, settleMs: 8_000, callMs: 60_000, heightPx: 120_000 };
