// Configuration and pages → the plan: every page in every theme, state and viewport it is to be captured in.
import type { Page, Theme, Viewport } from './configuration.ts';
import { REST_STATE } from '../samples/view.ts';
import type { View, ViewRef } from '../samples/view.ts';

export interface PlanInput {
  /** Address the app answers on, without a trailing slash. */
  readonly origin: string;
  readonly pages: readonly Page[];
  readonly themes: readonly Theme[];
  readonly viewports: readonly Viewport[];
}

/**
 * @returns views of one page, state and viewport next to each other, themes in the order of the configuration;
 *   their number is the sum over pages of themes × (states + 1) × viewports
 */
export function makePlan(input: PlanInput): readonly View[] {
  return input.pages.flatMap((page) => {
    const viewports = input.viewports.filter((v) => page.viewports === undefined || page.viewports.includes(v.name));
    return viewports.flatMap((viewport) =>
      [REST_STATE, ...page.states].flatMap((state) =>
        input.themes.map((theme): View => {
          const ref = { page: page.name, theme: theme.name, state, viewport: viewport.name };
          return { id: viewId(ref), ...ref, url: input.origin + page.path };
        }),
      ),
    );
  });
}

/** `page@theme/state/viewport`, each part percent-encoded where it holds one of the separators or white space. */
export function viewId(ref: Omit<ViewRef, 'id'>): string {
  const part = (text: string): string => text.replace(/[%@/\s?#]/g, (c) => encodeURIComponent(c));
  return `${part(ref.page)}@${part(ref.theme)}/${part(ref.state)}/${part(ref.viewport)}`;
}

/** Names the group of views that are judged together: one page, state and viewport in all its themes. */
export function groupId(ref: Omit<ViewRef, 'id'>): string {
  return viewId({ ...ref, theme: '*' });
}
