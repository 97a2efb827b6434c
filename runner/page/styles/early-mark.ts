/** Carries what an element had before its theme was put on early (put-on-early.ts) to `putOn`, which takes it away. */
export const EARLY_MARK = 'data-gloam-before';
