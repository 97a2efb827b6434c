// Something wrong with a store, as doctor tells it.
export interface StoreFault {
  readonly kind: 'database' | 'row' | 'content' | 'blob-missing' | 'blob-damaged' | 'unknown-file';
  /** File, or table. */
  readonly where: string;
  /** What is wrong, and what it costs. */
  readonly message: string;
  /** What was done about it; null when nothing was, or could be. */
  readonly mended: string | null;
}
