// Machado, Oliveira, Fernandes 2009 (protan, deutan, severity 1), Brettel, Viénot, Mollon 1997 (tritan), on linear light; derived from the printed matrices, tritan equal to two public implementations.
import type { Deficiency } from '../../../src/colour/colour-vision.ts';

export const COLOUR_VISION: readonly (readonly [srgb: string, deficiency: Deficiency, seen: string])[] = [
  ['#ff0000', 'protan', '#6d5f00'],
  ['#ff0000', 'deutan', '#a39000'],
  ['#ff0000', 'tritan', '#ff004e'],
];
