// Which fills glare on a dark ground, seen by eye on sheets of swatches: nine OKLCH hues × five lightnesses, as colourful as sRGB allows and at
// 60 and 70 % of that, rendered by Chromium; the reference theme shows each on white. Swatches that could be called either are left out.
// Recorded while the bounds were set, by one eye on one screen: it guards against change and is no independent proof.

interface Swatches {
  readonly ground: string;
  /** CSS px. */
  readonly size: readonly [width: number, height: number];
  readonly neon: readonly string[];
  readonly calm: readonly string[];
}

const DEEP = ['#a20118', '#7e4503', '#615604', '#036819', '#06625f', '#045c82', '#6f00c2', '#940376'];
const PASTEL = ['#febab4', '#ffbe8a', '#95d7fe', '#b7cefe', '#d6c2fe', '#ffb1e4', '#9fe8d8'];
const MUTED = ['#883935', '#48814a', '#466cc8', '#8352c7', '#a64b8b', '#b88254', '#5c9d98', '#9c7bd3', '#71beb9', '#b6a1df'];
const BRIGHT = ['#ff333c', '#f201c3', '#0ad13c', '#ff71d6', '#e9cf06', '#09f748', '#0aece3', '#00e5ff', '#39ff14'];

export const NEON_SWATCHES: readonly Swatches[] = [
  {
    ground: '#121212',
    size: [1200, 48],
    neon: [...BRIGHT, '#d50323', '#275bff', '#9204fd', '#c2029c', '#02ad2f', '#5687ff', '#a664fe', '#fb8e0a', '#0fc7c0', '#28bbfe'],
    calm: [...DEEP, ...PASTEL, ...MUTED, '#a65c03', '#817201', '#038a24', '#05837e', '#037bab', '#a39005', '#02a49e'],
  },
  {
    ground: '#000000',
    size: [1200, 48],
    neon: [...BRIGHT, '#d50323', '#9204fd', '#c2029c', '#a664fe', '#fb8e0a', '#28bbfe'],
    calm: [...DEEP, ...PASTEL, ...MUTED, '#817201', '#05837e', '#02a49e'],
  },
  {
    ground: '#2a2f38',
    size: [1200, 48],
    neon: [...BRIGHT, '#fb8e0a', '#28bbfe'],
    calm: [...DEEP, ...PASTEL, ...MUTED, '#a65c03', '#817201', '#038a24', '#05837e', '#037bab', '#a39005', '#02a49e'],
  },
  {
    ground: '#121212',
    size: [140, 40],
    neon: [...BRIGHT, '#00e676', '#ff00aa', '#ff1744'],
    calm: [
      ...DEEP,
      ...PASTEL,
      ...MUTED,
      '#275bff',
      '#2563eb',
      '#3b82f6',
      '#5687ff',
      '#7c3aed',
      '#8b5cf6',
      '#a664fe',
      '#16a34a',
      '#0b9bd6',
      '#d07502',
      '#ff847d',
      '#bd96fe',
      '#87acfe',
      '#dc2626',
      '#e25f5a',
    ],
  },
];
