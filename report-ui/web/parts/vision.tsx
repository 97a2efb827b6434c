// Approximations of reduced colour vision as SVG filters in linear RGB.
// protan, deutan: Viénot, Brettel, Mollon 1999; tritan: Brettel, Viénot, Mollon 1997 with its two half-planes. An aid to a look, no proof.
import type { JSX } from 'preact';
import type { Option } from './choice.tsx';

export const VISIONS = ['none', 'protan', 'deutan', 'tritan'] as const;
export type Vision = (typeof VISIONS)[number];

export const VISION_OPTIONS: readonly Option[] = [
  { value: 'none', label: 'as captured' },
  { value: 'protan', label: 'reduced red (protan)' },
  { value: 'deutan', label: 'reduced green (deutan)' },
  { value: 'tritan', label: 'reduced blue (tritan)' },
];

type MatrixRow = readonly [number, number, number];
type Matrix = readonly [MatrixRow, MatrixRow, MatrixRow];

const PROTAN: Matrix = [
  [0.11238, 0.88762, 0],
  [0.11238, 0.88762, 0],
  [0.00401, -0.00401, 1],
];
const DEUTAN: Matrix = [
  [0.29275, 0.70725, 0],
  [0.29275, 0.70725, 0],
  [-0.02234, 0.02234, 1],
];
const TRITAN_PLANE: MatrixRow = [0.03901, -0.02788, -0.01113];
const TRITAN_ABOVE: Matrix = [
  [1.01277, 0.13548, -0.14826],
  [-0.01243, 0.86812, 0.14431],
  [0.07589, 0.805, 0.11911],
];
const TRITAN_BELOW: Matrix = [
  [0.93678, 0.18979, -0.12657],
  [0.06154, 0.81526, 0.1232],
  [-0.37562, 1.12767, 0.24796],
];
/** Makes the plane's sign a hard edge: from the least step of 8-bit linear light on, alpha is 0 or 1. */
const EDGE = 100_000;

function values(matrix: Matrix): string {
  return [...matrix.map((row) => [...row, 0, 0].join(' ')), '0 0 0 1 0'].join(' ');
}

export function VisionFilters(): JSX.Element {
  const plane = TRITAN_PLANE.map((factor) => factor * EDGE).join(' ');
  return (
    <svg class="unseen" aria-hidden="true" width="0" height="0">
      <filter id="vision-protan" color-interpolation-filters="linearRGB">
        <feColorMatrix values={values(PROTAN)} />
      </filter>
      <filter id="vision-deutan" color-interpolation-filters="linearRGB">
        <feColorMatrix values={values(DEUTAN)} />
      </filter>
      <filter id="vision-tritan" color-interpolation-filters="linearRGB">
        <feColorMatrix in="SourceGraphic" values={`0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 ${plane} 0 0`} result="side" />
        <feColorMatrix in="SourceGraphic" values={values(TRITAN_ABOVE)} result="above" />
        <feColorMatrix in="SourceGraphic" values={values(TRITAN_BELOW)} result="below" />
        <feComposite in="above" in2="side" operator="in" result="front" />
        <feMerge>
          <feMergeNode in="below" />
          <feMergeNode in="front" />
        </feMerge>
      </filter>
    </svg>
  );
}
