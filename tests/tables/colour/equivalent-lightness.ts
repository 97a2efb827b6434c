// High, Green, Nussbaum 2023, The Helmholtz–Kohlrausch effect, L_EAL on CIELAB with D65 white; derived with culori and colorjs.io; tolerance 0.006 for the printed digits.

export const EQUIVALENT_LIGHTNESS: readonly (readonly [srgb: string, lightness: number, equivalent: number])[] = [
  ['#ff0000', 53.24, 77.9],
  ['#00ff00', 87.74, 102.65],
  ['#0000ff', 32.3, 72.43],
  ['#ff00ff', 60.32, 97.42],
  ['#00e5ff', 83.58, 92.75],
  ['#ffb300', 78.17, 87.21],
];
