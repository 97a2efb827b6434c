// What is rendered: one page in one theme, one state and one viewport.

/** Whether a theme or surface reads as light or dark. */
export type Tone = 'light' | 'dark';

/** `[x, y, width, height]` in CSS px, page coordinates (origin: top left of the document). */
export type Rect = readonly [x: number, y: number, width: number, height: number];

/** The coordinates of a view in the plan. `id` is stable from night to night. */
export interface ViewRef {
  readonly id: string;
  readonly page: string;
  readonly theme: string;
  readonly state: string;
  readonly viewport: string;
}

/** A view of the plan, with what the runner needs to render it. */
export interface View extends ViewRef {
  /** Absolute address the page is loaded from (without what the theme adds to it). */
  readonly url: string;
}

/** State name of a page nobody touched. */
export const REST_STATE = 'rest';
