// CAM16 (Li and others 2017), sRGB, L_A 16 cd/m², average surround; derived with colorjs.io, Y_b 100 and 20 also with colour-science 0.4.6; printed to one decimal; tolerance 0.06 for the printed digits.

export const CAM16: readonly (readonly [srgb: string, background: number, lightness: number, chroma: number, colourfulness: number, saturation: number])[] = [
  ['#ff0000', 100, 37, 105.2, 85.2, 106.5],
  ['#ff0000', 20, 46.1, 112.9, 91.5, 90.8],
  ['#ff0000', 0.605, 53.5, 185.6, 150.4, 81.5],
  ['#00ff00', 100, 74, 108.8, 88.1, 91.1],
  ['#00ff00', 20, 79.2, 108.1, 87.6, 77.6],
  ['#00ff00', 0.605, 82.8, 168.7, 136.7, 69.6],
  ['#0000ff', 100, 16.9, 73.9, 59.9, 108.5],
  ['#0000ff', 20, 25.2, 86.6, 70.1, 92.5],
  ['#0000ff', 0.605, 32.8, 150.8, 122.2, 83],
  ['#ff00ff', 100, 46.3, 102.2, 82.8, 99.2],
  ['#ff00ff', 20, 55, 107, 86.7, 84.6],
  ['#ff00ff', 0.605, 61.7, 172.9, 140.1, 75.9],
  ['#00e5ff', 100, 70, 55.9, 45.3, 66.2],
  ['#00e5ff', 20, 75.8, 55.8, 45.2, 56.4],
  ['#00e5ff', 0.605, 79.9, 87.5, 70.9, 50.6],
  ['#ffb300', 100, 65.3, 59.4, 48.2, 69.5],
  ['#ffb300', 20, 71.8, 59.9, 48.5, 59.2],
  ['#ffb300', 0.605, 76.5, 94.4, 76.5, 53.1],
];
