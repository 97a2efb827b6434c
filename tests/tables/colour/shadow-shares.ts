// CSS Backgrounds 3 §6.1.2 (Gaussian, σ = blur/2), products of normal distributions; Chromium 156 paints the same within 0.014; tolerance 6e-05 for the printed digits.
import type { ShadowShape } from '../../../src/colour/shadow-profile.ts';

export const SHADOW_SHARES: readonly (readonly [name: string, shape: ShadowShape, at: readonly [x: number, y: number], share: number])[] = [
  ['0 0 16px on 200×80, lower edge', { width: 200, height: 80, sigma: 8, spread: 0, offset: [0, 0], inset: false }, [0, 40.5], 0.4751],
  ['0 0 16px on 200×80, 8 px out', { width: 200, height: 80, sigma: 8, spread: 0, offset: [0, 0], inset: false }, [0, 48.5], 0.144],
  ['0 0 16px on 200×80, corner', { width: 200, height: 80, sigma: 8, spread: 0, offset: [0, 0], inset: false }, [100.5, 40.5], 0.2257],
  ['0 4px 12px on 200×80, lower edge', { width: 200, height: 80, sigma: 6, spread: 0, offset: [0, 4], inset: false }, [0, 40.5], 0.7202],
  ['0 4px 12px on 200×80, 10 px out', { width: 200, height: 80, sigma: 6, spread: 0, offset: [0, 4], inset: false }, [0, 50.5], 0.1393],
  ['0 0 20px 4px on 120×40, lower edge', { width: 120, height: 40, sigma: 10, spread: 4, offset: [0, 0], inset: false }, [0, 20.5], 0.6368],
  ['0 0 20px 4px on 120×40, right edge', { width: 120, height: 40, sigma: 10, spread: 4, offset: [0, 0], inset: false }, [60.5, 0], 0.6263],
  ['0 0 60px on 24×24, lower edge', { width: 24, height: 24, sigma: 30, spread: 0, offset: [0, 0], inset: false }, [0, 12.5], 0.089],
  ['0 24px 48px -12px on 320×180, lower edge', { width: 320, height: 180, sigma: 24, spread: -12, offset: [0, 24], inset: false }, [0, 90.5], 0.6841],
  ['0 1px 2px on 200×80, lower edge', { width: 200, height: 80, sigma: 1, spread: 0, offset: [0, 1], inset: false }, [0, 40.5], 0.6915],
  ['inset 0 0 16px on 200×80, edge', { width: 200, height: 80, sigma: 8, spread: 0, offset: [0, 0], inset: true }, [0, 39.5], 0.4751],
  ['inset 0 0 16px on 200×80, 8 px in', { width: 200, height: 80, sigma: 8, spread: 0, offset: [0, 0], inset: true }, [0, 31.5], 0.144],
];
