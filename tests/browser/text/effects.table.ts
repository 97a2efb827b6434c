// Blend modes, filters, masks, clips and transforms.
import type { Case } from './case.ts';
import { codes } from './case.ts';

const B = 'background:#2f7f86';
const BLEND = 'Compositing 1 §10; background B(b,s) for b #2f7f86, s #e8a33d ; black ink';

/** Black (s = 0) on b = 47 127 134, by the formula of each mode; Lum b = .3·47 + .59·127 + .11·134 = 103.77. */
const MODES: readonly (readonly [
  mode: string,
  background: readonly [number, number, number],
  ink: readonly [number, number, number],
  why: string,
])[] = [
  ['normal', [232, 163, 61], [0, 0, 0], 's'],
  ['multiply', [43, 81, 32], [0, 0, 0], 'b·0'],
  ['screen', [236, 209, 163], [47, 127, 134], 'b + 0 − 0'],
  ['overlay', [86, 162, 71], [0, 0, 13], 'hard-light(0, b): 0 for b ≤ ½, else 2b − 1'],
  ['darken', [47, 127, 61], [0, 0, 0], 'min'],
  ['lighten', [232, 163, 134], [47, 127, 134], 'max'],
  ['color-dodge', [255, 255, 176], [47, 127, 134], 'b / (1 − 0)'],
  ['color-burn', [26, 55, 0], [0, 0, 0], 's = 0: 0'],
  ['hard-light', [217, 163, 64], [0, 0, 0], '2·b·0'],
  ['soft-light', [98, 142, 101], [8.66, 63.25, 70.4], 'b − b(1 − b) = b²'],
  ['difference', [185, 36, 73], [47, 127, 134], '|b − 0|'],
  ['exclusion', [193, 128, 131], [47, 127, 134], 'b + 0 − 0'],
  ['hue', [134, 99, 47], [103.77, 103.77, 103.77], 'black has no saturation: grey of Lum b'],
  ['saturation', [0, 146, 159], [103.77, 103.77, 103.77], 'saturation 0: grey of Lum b'],
  ['color', [159, 95, 0], [103.77, 103.77, 103.77], 'colour of black at Lum b'],
  ['luminosity', [116, 196, 203], [0, 0, 0], 'Lum 0'],
  ['plus-lighter', [255, 255, 195], [47, 127, 134], 'b + 0'],
];

const FILTER = 'Filter Effects 1 §8, shorthand functions on encoded sRGB';

export const EFFECTS: readonly Case[] = [
  ...MODES.map(([mode, background, ink, why]): Case => ({
    name: `${mode} mixes background and ink with what lies behind`,
    source: `${BLEND}: ${why}`,
    html: `<div style="${B}"><p style="margin:0;background:#e8a33d;color:#000;font-weight:700;mix-blend-mode:${mode}">Level</p></div>`,
    expect: [{ color: codes(...ink), background: codes(...background) }],
  })),
  {
    name: 'blend mode and opacity act together',
    source:
      'Compositing 1 §10.2 (multiply), CSS Color 4 §3.3 (opacity): #e8a33d multiply + opacity .5 on #0b3d4f = 10.5 50 48.95; black .5 = 5.5 30.5 39.5',
    html: '<div style="background:#0b3d4f"><p style="margin:0;background:#e8a33d;color:#000;font-weight:700;mix-blend-mode:multiply;opacity:.5">Level</p></div>',
    expect: [{ color: codes(5.5, 30.5, 39.5), background: codes(10.5, 50, 48.95) }],
  },
  {
    name: 'isolation keeps blending inside',
    source: 'Compositing 1 §2.1.2: nothing lies behind inside the isolated group',
    html: `<div style="${B}"><div style="isolation:isolate"><p style="margin:0;background:#e8a33d;color:#000;mix-blend-mode:multiply">Level</p></div></div>`,
    expect: [{ color: '#000000', background: '#e8a33d' }],
  },
  {
    name: 'text alone can be blended',
    source: 'Compositing 1 §10: difference of white and #2f7f86 = 208 128 121',
    html: `<div style="${B}"><p style="margin:0;color:#fff;font-weight:700;mix-blend-mode:difference">Level and tide</p></div>`,
    expect: [{ color: codes(208, 128, 121), background: '#2f7f86' }],
  },
  {
    name: 'background layers are mixed among themselves only',
    source: 'Compositing 1 §4.3: multiply of #e8a33d on #2f7f86 = 43 81 32',
    html: '<p style="background:linear-gradient(#e8a33d,#e8a33d) #2f7f86;background-blend-mode:multiply;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: codes(43, 81, 32) }],
  },
  {
    name: 'invert turns ink and background over',
    source: `${FILTER}: 255 − v`,
    html: '<div style="filter:invert(1)"><p style="color:#123456;background:#fc0">Level</p></div>',
    expect: [{ color: '#edcba9', background: '#0033ff' }],
  },
  {
    name: 'invert and opacity',
    source:
      'Filter Effects 1, invert(), CSS Color 4 §3.3 (opacity): #e8a33d invert(1) + opacity .5 on #0b3d4f = 17 76.5 136.5; black → white .5 = 133 158 167',
    html: '<div style="background:#0b3d4f"><p style="margin:0;background:#e8a33d;color:#000;filter:invert(1);opacity:.5;font-weight:700">Level</p></div>',
    expect: [{ color: codes(133, 158, 167), background: codes(17, 76.5, 136.5) }],
  },
  {
    name: 'filters run in the order written',
    source: 'Filter Effects 1, functions in their order: brightness(.5) invert(1) of #e8a33d = 139 173.5 224.5; of black = 255',
    html: '<p style="background:#e8a33d;color:#000;filter:brightness(.5) invert(1)">Level</p>',
    expect: [{ color: '#ffffff', background: codes(139, 173.5, 224.5) }],
  },
  {
    name: 'and the other way round',
    source: 'Filter Effects 1, functions in their order: invert(1) brightness(.5) of #e8a33d = 11.5 46 97; of black = 127.5',
    html: '<p style="background:#e8a33d;color:#000;filter:invert(1) brightness(.5)">Level</p>',
    expect: [{ color: codes(127.5, 127.5, 127.5), background: codes(11.5, 46, 97) }],
  },
  {
    name: 'grayscale',
    source: `${FILTER}: .2126·232 + .7152·163 + .0722·61 = 170.3`,
    html: '<p style="background:#e8a33d;color:#000;filter:grayscale(1)">Level</p>',
    expect: [{ color: '#000000', background: codes(170.3, 170.3, 170.3) }],
  },
  {
    name: 'contrast',
    source: `${FILTER}: (v − 127.5)·.5 + 127.5`,
    html: '<p style="background:#e8a33d;color:#000;filter:contrast(.5)">Level</p>',
    expect: [{ color: codes(63.75, 63.75, 63.75), background: codes(179.75, 145.25, 94.25) }],
  },
  {
    name: 'the naive dark theme: invert and turn the hue',
    source: `${FILTER}: hueRotate(180°) rows −.574 1.43 .144 / .426 .43 .144 / .426 1.43 −.856 on 23 92 194`,
    html: '<p style="background:#e8a33d;color:#000;filter:invert(1) hue-rotate(180deg)">Level</p>',
    expect: [{ color: '#ffffff', background: codes(146.3, 77.3, 0) }],
  },
  {
    name: 'filters of ancestors and of the element add up',
    source: `${FILTER}: inverted twice`,
    html: '<div style="filter:invert(1)"><p style="filter:invert(1);background:#e8a33d;color:#000">Level</p></div>',
    expect: [{ color: '#000000', background: '#e8a33d' }],
  },
  {
    name: 'sepia',
    source: `${FILTER}: rows .393 .769 .189 / .349 .686 .168 / .272 .534 .131 on 11 61 79 = 66.2 59 45.9`,
    html: '<p style="background:#0b3d4f;color:#fff;filter:sepia(1)">Level</p>',
    expect: [{ background: codes(66.2, 59, 45.9) }],
  },
  {
    name: 'a backdrop filter turns what lies behind',
    source: 'Filter Effects 2, backdrop-filter: backdrop invert(1), black .25, over #0b3d4f = 183 145.5 132',
    html: '<div style="background:#0b3d4f"><p style="margin:0;backdrop-filter:invert(1);background:rgb(0 0 0/.25);color:#fff">Level</p></div>',
    expect: [{ color: '#ffffff', background: codes(183, 145.5, 132) }],
  },
  {
    name: 'a backdrop filter sees nothing beyond its backdrop root',
    source: 'Filter Effects 2, backdrop root: same inside opacity .5 = 9.6 53.4 69.1; white ink .5 = 133 158 167',
    html: '<div style="background:#0b3d4f"><div style="opacity:.5"><p style="margin:0;backdrop-filter:invert(1);background:rgb(0 0 0/.25);color:#fff;font-weight:700">Level</p></div></div>',
    expect: [{ color: codes(133, 158, 167), background: codes(9.6, 53.4, 69.1) }],
  },
  {
    name: 'a full mask changes nothing',
    source: 'CSS Masking 1 §7',
    html: '<p style="background:#0b3d4f;color:#fff;mask-image:linear-gradient(#000,#000)">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a half mask acts like opacity',
    source: 'CSS Masking 1 §7: alpha .5; bg .5·(255,204,0) + 127.5',
    html: '<p style="background:#fc0;color:#000;font-weight:700;mask-image:linear-gradient(rgb(0 0 0/.5),rgb(0 0 0/.5))">Level</p>',
    expect: [{ color: codes(127.5, 127.5, 127.5), background: codes(255, 229.5, 127.5) }],
  },
  {
    name: 'a mask that hides everything leaves nothing to judge',
    source: 'CSS Masking 1 §7: alpha 0',
    html: '<p style="mask-image:linear-gradient(transparent,transparent)">Level</p>',
    expect: [],
  },
  {
    name: 'a clip path that cuts everything away leaves nothing to judge',
    source: 'CSS Masking 1 §5',
    html: '<p style="clip-path:inset(50%)">Level</p>',
    expect: [],
  },
  {
    name: 'a clip path that leaves the text leaves its colours',
    source: 'CSS Masking 1 §5',
    html: '<p style="background:#0b3d4f;color:#fff;clip-path:inset(0 0 0 0 round 8px)">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'turned text keeps its colours',
    source: 'CSS Transforms 1: no colour is touched',
    html: '<p style="background:#0b3d4f;color:#fff;transform:rotate(6deg);width:200px;font-weight:700">Level and tide</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f', fontSize: 20 }],
  },
  {
    name: 'text scaled up is as large as it is seen',
    source: 'WCAG 2.2 "large scale": size as rendered, 13·2 = 26 px ≥ 24',
    html: '<p style="font-size:13px;transform:scale(2);transform-origin:0 0;color:#949494;margin:0">Level</p>',
    expect: [{ fontSize: 26, large: true, verdict: 'pass' }],
  },
  {
    name: 'text scaled down is as small as it is seen',
    source: 'WCAG 2.2 "large scale": 40·.5 = 20 px < 24',
    html: '<div style="transform:scale(.5);transform-origin:0 0"><p style="font-size:40px;line-height:50px;color:#949494;margin:0">Level</p></div>',
    expect: [{ fontSize: 20, large: false, verdict: 'fail' }],
  },
  {
    name: 'the scale property counts like the transform',
    source: 'CSS Transforms 2 §5',
    html: '<p style="font-size:13px;scale:2;transform-origin:0 0;margin:0">Level</p>',
    expect: [{ fontSize: 26, large: true }],
  },
  {
    name: 'zoom counts',
    source: 'CSS Viewport 1 (zoom): 13·2 = 26 px',
    html: '<p style="font-size:13px;zoom:2;margin:0">Level</p>',
    expect: [{ fontSize: 26, large: true }],
  },
  {
    name: 'a blur of what lies behind a flat colour changes nothing',
    source: 'Filter Effects 1 §8: a blur of one colour is that colour',
    html: '<div style="background:#0b3d4f;height:80px"><p style="margin:20px;backdrop-filter:blur(4px);color:#fff">Level</p></div>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
];
