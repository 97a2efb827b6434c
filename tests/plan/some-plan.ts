// Members of plans for tests.
import type { Theme, Viewport } from '../../src/plan/configuration.ts';

export function openTheme(name: string): Theme {
  return { name, tone: 'light', apply: {}, tokens: {} };
}

export function openViewport(name: string): Viewport {
  return { name, widthCssPx: 1280, heightCssPx: 800, scale: 1 };
}
