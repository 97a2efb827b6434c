// Ramps with planted faults. The ramp without faults is the worked example of the ramp checks (eleven steps of one hue, #f2f8fa to
// #08202d, contrast about equal from step to step); each row changes it and names what must be found, and nothing else may be.
// Origin of the verdicts: derived, from the thresholds (L* reversal; CIEDE2000 below 2 with ΔE OK below .02; a jump above 2.5
// medians; hue more than 15° off; ΔE OK .04 off the neighbours' course). The third and fourth rows of "twins" and the first
// reversal come with the example, from our own notes on token checks, with their CIEDE2000 (.67, .61) and L* (+5.93): recorded. The example's hue runs from 218° to 236°;
// where a change moves the median from 223.4° to 220.3°, its last step is 15.3° off and is named too.

export const EXAMPLE: readonly string[] = [
  '#f2f8fa',
  '#dcecf1',
  '#bcdae3',
  '#93c1cf',
  '#68a4b6',
  '#47889c',
  '#2f7086',
  '#1f586c',
  '#16465a',
  '#0f3344',
  '#08202d',
];

export interface RampRow {
  readonly name: string;
  /** Place in the example (0–10) → what stands there instead; null takes the step away. */
  readonly change?: Readonly<Record<number, string | null>>;
  /** Instead of the example. */
  readonly colors?: readonly string[];
  /** `code place`, sorted; the place counted in what stands there, from 0. */
  readonly found: readonly string[];
}

export const RAMP_ROWS: readonly RampRow[] = [
  { name: 'the example itself', found: [] },
  { name: 'the example from dark to light', colors: EXAMPLE.toReversed(), found: [] },
  { name: 'a lighter step after a darker one', change: { 6: '#2a6f86', 7: '#30808f' }, found: ['ramp-hue-drift 10', 'ramp-off-course 7', 'ramp-reversal 7'] },
  { name: 'a step swapped with the next', change: { 3: '#68a4b6', 4: '#93c1cf' }, found: ['ramp-off-course 3', 'ramp-reversal 3'] },
  { name: 'a dark step far too light', change: { 8: '#5a93a6' }, found: ['ramp-off-course 8', 'ramp-reversal 8', 'ramp-spacing 9'] },
  { name: 'a light step far too dark', change: { 2: '#47889c' }, found: ['ramp-off-course 2', 'ramp-reversal 2', 'ramp-spacing 2'] },
  { name: 'the last step lighter than the one before', change: { 10: '#16465a' }, found: ['ramp-reversal 10'] },
  { name: 'the first step darker than the second', change: { 0: '#bcdae3' }, found: ['ramp-hue-drift 10', 'ramp-reversal 0'] },
  { name: 'white after white-ish: the whole ramp runs the other way from one step', colors: ['#ffffff', '#dddddd', '#eeeeee', '#999999', '#555555', '#111111'], found: ['ramp-off-course 2', 'ramp-reversal 2'] },
  { name: 'twins by two codes', change: { 7: '#2f7288' }, found: ['ramp-off-course 7', 'ramp-reversal 7', 'ramp-twins 7'] },
  { name: 'twins: #dcecf1 and #d9eaf0', change: { 2: '#d9eaf0' }, found: ['ramp-off-course 2', 'ramp-twins 2'] },
  { name: 'twins: #2f7086 and #2a6f86', change: { 7: '#2a6f86' }, found: ['ramp-off-course 7', 'ramp-twins 7'] },
  { name: 'one colour twice', change: { 5: '#68a4b6' }, found: ['ramp-off-course 5', 'ramp-twins 5'] },
  { name: 'a step left out is a jump, not an error of a neighbour', change: { 3: null, 4: null, 5: null }, found: ['ramp-spacing 3'] },
  { name: 'one step of another hue', change: { 5: '#6d8a5a' }, found: ['ramp-hue-drift 5', 'ramp-off-course 5'] },
  { name: 'one step of a slightly different hue', change: { 5: '#47869f' }, found: [] },
  { name: 'the dark end turns to purple', change: { 9: '#2b2c4d', 10: '#1c1a33' }, found: ['ramp-hue-drift 10', 'ramp-hue-drift 9'] },
  { name: 'a grey step in a ramp of one hue', change: { 5: '#7d7d7d' }, found: ['ramp-off-course 5'] },
  { name: 'a step that kept its full chroma', change: { 5: '#008fc4' }, found: ['ramp-off-course 5'] },
  { name: 'a step outside sRGB', change: { 5: 'color(display-p3 0.1 0.56 0.68)' }, found: ['ramp-off-course 5', 'ramp-out-of-gamut 5'] },
  { name: 'a neutral ramp', colors: ['#ffffff', '#ececec', '#d4d4d4', '#b4b4b4', '#8e8e8e', '#6a6a6a', '#4a4a4a', '#2e2e2e', '#181818'], found: [] },
  { name: 'a neutral ramp with a step twice as far', colors: ['#ffffff', '#f2f2f2', '#e4e4e4', '#d5d5d5', '#c6c6c6', '#868686', '#777777', '#686868'], found: ['ramp-spacing 5'] },
  { name: 'a ramp all of one lightness has no direction', colors: ['#808080', '#808080', '#808080'], found: ['ramp-twins 1', 'ramp-twins 2'] },
  { name: 'a short ramp', colors: ['#f2f8fa', '#68a4b6', '#08202d'], found: [] },
  { name: 'a short ramp out of order', colors: ['#f2f8fa', '#08202d', '#68a4b6'], found: ['ramp-reversal 2'] },
];
