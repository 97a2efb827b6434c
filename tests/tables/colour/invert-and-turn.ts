// Filter Effects 1, invert(1) hue-rotate(180deg), formula equal to pixels of Chromium 156.

export const INVERT_AND_TURN: readonly (readonly [before: string, once: string, twice: string, lightnessBefore: number, lightnessOnce: number])[] = [
  ['#ff0000', '#ff9292', '#ac3f3f', 53.2, 72.2],
  ['#e8a33d', '#924d00', '#e5a053', 72, 40.3],
  ['#00ff00', '#009100', '#30c130', 87.7, 52.1],
  ['#1f6feb', '#50a0ff', '#2373d2', 49.1, 65],
  ['#0000ff', '#dadaff', '#202045', 32.3, 88.1],
  ['#0b3d4f', '#a3d5e7', '#0b3d4f', 23.6, 82.5],
  ['#ffff00', '#252500', '#dfdfba', 97.1, 13.9],
  ['#2f7f86', '#51a1a8', '#2f7f86', 48.9, 61.7],
];
