// How colours may look to people with a colour-vision deficiency; an aid for looking, it proves nothing.
import type { Opaque } from './color.ts';
import { toEncoded, toLinear } from './contrast-ratio.ts';

export type Deficiency = 'protan' | 'deutan' | 'tritan';

type Matrix = readonly [readonly [number, number, number], readonly [number, number, number], readonly [number, number, number]];

/** Dichromacy on linear light. Machado, Oliveira, Fernandes 2009, severity 1. */
const MACHADO = {
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
} satisfies Record<Exclude<Deficiency, 'tritan'>, Matrix>;

/** Brettel, Viénot, Mollon 1997 for tritan: two half planes, told apart by the sign of this sum. */
const TRITAN_SIDE = [0.03901, -0.02788, -0.01113] as const;
const TRITAN: { readonly above: Matrix; readonly below: Matrix } = {
  above: [
    [1.01277, 0.13548, -0.14826],
    [-0.01243, 0.86812, 0.14431],
    [0.07589, 0.805, 0.11911],
  ],
  below: [
    [0.93678, 0.18979, -0.12657],
    [0.06154, 0.81526, 0.1232],
    [-0.37562, 1.12767, 0.24796],
  ],
};

/** The colour as a dichromat may see it, clipped to sRGB. */
export function seenWith(deficiency: Deficiency, color: Opaque): Opaque {
  const linear = [toLinear(color.r), toLinear(color.g), toLinear(color.b)] as const;
  const [x, y, z] = linear;
  const side = TRITAN_SIDE[0] * x + TRITAN_SIDE[1] * y + TRITAN_SIDE[2] * z;
  const matrix = deficiency === 'tritan' ? (side > 0 ? TRITAN.above : TRITAN.below) : MACHADO[deficiency];
  const channel = (row: readonly [number, number, number]): number =>
    toEncoded(Math.min(1, Math.max(0, row[0] * x + row[1] * y + row[2] * z)));
  return { r: channel(matrix[0]), g: channel(matrix[1]), b: channel(matrix[2]), alpha: 1 };
}
