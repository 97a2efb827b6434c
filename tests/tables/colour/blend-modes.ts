// Compositing and Blending 1 §9, §10, Level 2 (plus-lighter); backdrop #2f7f86, source #e8a33d, both opaque; formula, equal to pixels of Chromium 156 within 0.7; tolerance 0.5 for the printed digits.
import type { BlendMode } from '../../../src/colour/composite.ts';

export const BLEND_MODES: readonly (readonly [mode: BlendMode, codes: readonly [number, number, number]])[] = [
  ['normal', [232, 163, 61]],
  ['hard-light', [217, 163, 64]],
  ['multiply', [43, 81, 32]],
  ['soft-light', [98, 142, 101]],
  ['screen', [236, 209, 163]],
  ['difference', [185, 36, 73]],
  ['overlay', [86, 162, 71]],
  ['exclusion', [193, 128, 131]],
  ['darken', [47, 127, 61]],
  ['hue', [134, 99, 47]],
  ['lighten', [232, 163, 134]],
  ['saturation', [0, 146, 159]],
  ['color-dodge', [255, 255, 176]],
  ['color', [159, 95, 0]],
  ['color-burn', [26, 55, 0]],
  ['luminosity', [116, 196, 203]],
  ['plus-lighter', [255, 255, 195]],
];
