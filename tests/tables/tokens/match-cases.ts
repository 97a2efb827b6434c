// A literal colour and the tokens that may stand in for it. Tokens: name → colour in the light and the dark theme, and the role it was
// met in (none: never met). Origin: rows 1 to 4 are the worked example of our own matching rule, recorded with its CIEDE2000 and
// contrasts; the others derived from the rule (role, contrast kept everywhere, nearest, semantic before ramp, own before global).
import type { Role } from '../../../src/tokens/roles.ts';

export interface MatchRow {
  readonly name: string;
  readonly tokens: Readonly<Record<string, readonly [light: string, dark: string, role: Role | null]>>;
  readonly literal: string;
  readonly role: Role;
  /** A token, or a colour. */
  readonly on?: string;
  readonly required?: number;
  /** What the author wrote for the dark theme, if anything. */
  readonly dark?: string;
  readonly component?: string;
  /** `token confidence`, best first; `!` after it: fails somewhere. */
  readonly found: readonly string[];
  readonly gap: boolean;
  readonly wrongRole?: readonly string[];
}

const WATER = {
  'water.fill': ['#2f7086', '#16465a', 'surface'],
  'water.soft': ['#2f7086', '#93c1cf', 'surface'],
  'tide.deep': ['#1f586c', '#0f3344', 'surface'],
  'edge.strong': ['#2a6f86', '#2a6f86', 'edge'],
} as const satisfies MatchRow['tokens'];

export const MATCH_ROWS: readonly MatchRow[] = [
  {
    name: 'the worked example: a background under white text',
    tokens: WATER,
    literal: '#2a6f86',
    role: 'surface',
    on: '#ffffff',
    found: ['water.fill same', 'tide.deep none', 'water.soft same !'],
    gap: false,
    wrongRole: ['edge.strong'],
  },
  { name: 'the same as an edge: the role decides', tokens: WATER, literal: '#2a6f86', role: 'edge', found: ['edge.strong same'], gap: false, wrongRole: ['water.fill', 'water.soft'] },
  {
    name: 'without the token that keeps its contrast there is a gap',
    tokens: { 'water.soft': WATER['water.soft'], 'tide.deep': WATER['tide.deep'] },
    literal: '#2a6f86',
    role: 'surface',
    on: '#ffffff',
    found: ['tide.deep none', 'water.soft same !'],
    gap: true,
  },
  { name: 'nothing near: a gap', tokens: WATER, literal: '#d0342c', role: 'surface', found: ['tide.deep none', 'water.fill none', 'water.soft none'], gap: true },
  {
    name: 'only tokens of another role: a gap that names them',
    tokens: { 'edge.strong': WATER['edge.strong'] },
    literal: '#2a6f86',
    role: 'surface',
    found: [],
    gap: true,
    wrongRole: ['edge.strong'],
  },
  {
    name: 'nearest first',
    tokens: { a: ['#336699', '#336699', 'ink'], b: ['#346799', '#346799', 'ink'], c: ['#3a6a9a', '#3a6a9a', 'ink'], d: ['#4070a0', '#4070a0', 'ink'] },
    literal: '#336699',
    role: 'ink',
    found: ['a same', 'b same', 'c near', 'd similar'],
    gap: false,
  },
  {
    name: 'ink on a token: contrast is asked in every theme, of the token’s colour there',
    tokens: { page: ['#ffffff', '#121212', 'surface'], stays: ['#333333', '#333333', 'ink'], turns: ['#363636', '#e0e0e0', 'ink'] },
    literal: '#333333',
    role: 'ink',
    on: 'page',
    found: ['turns same', 'stays same !'],
    gap: false,
  },
  {
    name: 'ink without a partner: nothing is known of contrast',
    tokens: { stays: ['#333333', '#333333', 'ink'] },
    literal: '#333333',
    role: 'ink',
    found: ['stays same'],
    gap: false,
  },
  {
    name: 'large text needs less',
    tokens: { soft: ['#808080', '#808080', 'ink'] },
    literal: '#808080',
    role: 'ink',
    on: '#ffffff',
    required: 3,
    found: ['soft same'],
    gap: false,
  },
  { name: 'and small text more', tokens: { soft: ['#808080', '#808080', 'ink'] }, literal: '#808080', role: 'ink', on: '#ffffff', found: ['soft same !'], gap: true },
  {
    name: 'a verdict must not get worse: 7.0 is given up for 6.9',
    tokens: { paler: ['#5a5a5a', '#5a5a5a', 'ink'], equal: ['#585858', '#585858', 'ink'] },
    literal: '#595959',
    role: 'ink',
    on: '#ffffff',
    found: ['equal same', 'paler same !'],
    gap: false,
  },
  {
    name: 'an edge needs 3',
    tokens: { page: ['#ffffff', '#ffffff', 'surface'], faint: ['#a0a0a0', '#a0a0a0', 'edge'], firm: ['#8f8f8f', '#8f8f8f', 'edge'] },
    literal: '#909090',
    role: 'edge',
    on: 'page',
    found: ['firm same', 'faint none !'],
    gap: false,
  },
  {
    name: 'a colour written for both themes must fit in both',
    tokens: { a: ['#336699', '#99bbdd', 'ink'], b: ['#336699', '#336699', 'ink'] },
    literal: '#336699',
    dark: '#99bbdd',
    role: 'ink',
    found: ['a same', 'b none'],
    gap: false,
  },
  {
    name: 'own component before global',
    tokens: { 'mark.main': ['#333333', '#eeeeee', 'ink'], 'zone.mark': ['#333333', '#eeeeee', 'ink'] },
    literal: '#333333',
    role: 'ink',
    component: 'zone',
    found: ['zone.mark same', 'mark.main same'],
    gap: false,
  },
  { name: 'and by name when nothing else tells', tokens: { b: ['#333333', '#eeeeee', 'ink'], a: ['#333333', '#eeeeee', 'ink'] }, literal: '#333333', role: 'ink', found: ['a same', 'b same'], gap: false },
  {
    name: 'tokens never met come after those met in the role',
    tokens: { never: ['#333333', '#eeeeee', null], met: ['#343434', '#eeeeee', 'ink'] },
    literal: '#333333',
    role: 'ink',
    found: ['met same', 'never same'],
    gap: false,
  },
  {
    name: 'a translucent literal is compared as seen on its partner',
    tokens: { page: ['#ffffff', '#ffffff', 'surface'], grey: ['#7f7f7f', '#7f7f7f', 'edge'], black: ['#000000', '#000000', 'edge'] },
    literal: 'rgb(0 0 0 / 50%)',
    role: 'edge',
    on: 'page',
    found: ['grey same', 'black none'],
    gap: false,
  },
  {
    name: 'without one it is not the opaque colour that it makes on white: on black the two part',
    tokens: { grey: ['#7f7f7f', '#7f7f7f', 'surface'], veil: ['#00000080', '#00000080', 'surface'] },
    literal: '#00000080',
    role: 'surface',
    found: ['veil same', 'grey none'],
    gap: false,
  },
];
