// Writing modes, lines and columns; colour notations.
import Color from 'colorjs.io';
import type { Case } from './case.ts';
import { codes } from './case.ts';

const WRITING = 'CSS Writing Modes 4, CSS Multi-column 1, CSS Text 3: lines, not colours';
const TEAL = '#0b3d4f';
const on = (style: string, text = 'Level and tide'): string =>
  `<p style="margin:0;background:${TEAL};color:#fff;${style}">${text}</p>`;
const seen = [{ color: '#ffffff', background: TEAL, verdict: 'pass' }] as const;

/** `#rrggbb` by colorjs.io 0.7 (second library); channels outside sRGB are clipped, as screens do (CSS Color 4 §13.1). */
function byColorJs(css: string): string {
  const [red = 0, green = 0, blue = 0] = new Color(css).to('srgb').coords.map((v) => 255 * (v ?? 0));
  return codes(red, green, blue);
}

const CONVERTED = [
  'rebeccapurple',
  '#0b3d4fff',
  'rgb(11 61 79)',
  'rgb(none 61 79)',
  'hsl(196 76% 18%)',
  'hwb(196 4% 69%)',
  'lab(24 -11 -15)',
  'lch(24 18.6 234)',
  'oklab(0.34 -0.04 -0.045)',
  'oklch(0.34 0.06 228)',
  'oklch(0.45 0.3 20)',
  'color(srgb 0.2 0.4 0.6)',
  'color(srgb-linear 0.05 0.1 0.2)',
  'color(display-p3 0.2 0.4 0.6)',
  'color(a98-rgb 0.2 0.4 0.6)',
  'color(prophoto-rgb 0.2 0.3 0.4)',
  // Not rec2020: drafts of CSS Color 4 differ in its transfer function, and so do browsers and libraries.
  'color(xyz-d65 0.1 0.1 0.2)',
] as const;

const NOTATIONS: readonly (readonly [css: string, hex: string])[] = [
  ...CONVERTED.map((css) => [css, byColorJs(css)] as const),
  ['color-mix(in srgb, #e8a33d 40%, #0b3d4f)', codes(99.4, 101.8, 71.8)],
  ['color-mix(in srgb-linear, #e8a33d 40%, #0b3d4f)', codes(154.4, 116, 72.4)],
  ['rgb(from #e8a33d calc(r / 2) calc(g / 2) calc(b / 2))', codes(116, 81.5, 30.5)],
  ['light-dark(#0b3d4f, #fff)', '#0b3d4f'],
  ['CanvasText', '#000000'],
  ['LinkText', '#0000ee'],
];

export const WRITINGS: readonly Case[] = [
  ...NOTATIONS.map(([css, hex]): Case => ({
    name: `ink written as ${css}`,
    source: 'CSS Color 4 §10, CSS Color 5',
    html: `<p style="color:${css};font-weight:700;margin:0">Level and tide</p>`,
    expect: [{ color: hex, background: '#ffffff' }],
  })),
  {
    name: 'a background in a wide gamut is what the screen shows of it',
    source: 'CSS Color 4 §10.9: display-p3 green (0 1 0) lies outside sRGB; clipped to #00ff00',
    html: '<p style="margin:0;background:color(display-p3 0 1 0);color:#000">Level</p>',
    expect: [{ color: '#000000', background: '#00ff00' }],
  },
  {
    name: 'custom properties are followed',
    source: 'CSS Variables 1',
    html: `<div style="--deep:${TEAL};--paint:var(--deep)"><p style="margin:0;background:var(--paint);color:var(--none,#fff)">Level</p></div>`,
    expect: seen,
  },
  {
    name: 'currentcolor as background equals the ink',
    source: 'CSS Color 4 §6.4: contrast 1',
    html: '<p style="margin:0;color:#0b3d4f;background:currentcolor">Level</p>',
    expect: [{ verdict: 'fail', min: [1, 1], color: TEAL, background: TEAL }],
  },
  { name: 'vertical lines', source: WRITING, html: on('writing-mode:vertical-rl;height:90px', 'Level'), expect: seen },
  { name: 'sideways lines', source: WRITING, html: on('writing-mode:sideways-lr;height:90px', 'Level'), expect: seen },
  { name: 'right to left', source: WRITING, html: on('direction:rtl', 'שלום'), expect: seen },
  { name: 'both directions in one line', source: WRITING, html: on('', 'Level שלום tide'), expect: seen },
  {
    name: 'columns',
    source: WRITING,
    html: on('columns:3;width:400px', 'Level and tide and height and more of it over columns'),
    expect: seen,
  },
  { name: 'letter spacing', source: WRITING, html: on('letter-spacing:6px'), expect: seen },
  { name: 'small capitals', source: WRITING, html: on('font-variant:small-caps'), expect: seen },
  {
    name: 'capitals by style: the text stays as written',
    source: WRITING,
    html: on('text-transform:uppercase'),
    expect: [{ ...seen[0], text: 'Level' }],
  },
  { name: 'preserved spaces', source: WRITING, html: on('white-space:pre', 'Level    tide'), expect: seen },
  { name: 'justified', source: WRITING, html: on('text-align:justify;width:150px', 'Level and tide and height'), expect: seen },
  {
    name: 'lines closer than their glyphs are high',
    source: WRITING,
    html: on('line-height:.8;width:100px', 'gauge jetty pile'),
    expect: seen,
  },
  { name: 'a slanted font', source: WRITING, html: on('font-style:italic'), expect: seen },
  { name: 'a light font', source: WRITING, html: on('font-weight:300;font-size:13px'), expect: seen },
  { name: 'very small letters', source: WRITING, html: on('font-size:9px'), expect: seen },
  {
    name: 'very large letters',
    source: WRITING,
    html: on('font-size:70px;line-height:80px', 'Tide'),
    expect: [{ ...seen[0], large: true }],
  },
  { name: 'at a fraction of a pixel', source: WRITING, html: on('position:relative;left:.37px;top:.61px'), expect: seen },
  {
    name: 'text broken by an element is two runs',
    source: 'CSS Display 4: text runs',
    html: '<p>Level <b style="color:#0b3d4f">and</b> tide</p>',
    expect: [
      { text: 'Level', color: '#000000' },
      { text: 'and', color: TEAL },
      { text: 'tide', color: '#000000' },
    ],
  },
  {
    name: 'one run over two boxes with backgrounds of their own',
    source: 'CSS Display 4: text runs; split by backdrop',
    html: '<div style="position:relative;width:90px;line-height:30px;background:#fff;z-index:0"><div style="position:absolute;top:30px;left:0;width:90px;height:30px;background:#0b3d4f;z-index:-1"></div>Level falling</div>',
    expect: [
      { text: 'Level', background: '#ffffff', verdict: 'pass' },
      { text: 'Level', background: TEAL, verdict: 'fail' },
    ],
  },
];
