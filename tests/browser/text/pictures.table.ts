// Gradients, pictures and other backgrounds that are no flat colour; inks that are none either.
import type { Case } from './case.ts';
import { codes } from './case.ts';

const IMAGES = 'CSS Images 3 §3 (gradients), CSS Backgrounds 3 §2 (layers, position, size, repeat)';
const svg = (inner: string, size = 'width="40" height="40"'): string =>
  `data:image/svg+xml,${encodeURIComponent(`<svg xmlns="http://www.w3.org/2000/svg" ${size}>${inner}</svg>`)}`;
const FLAT = svg('<rect width="40" height="40" fill="#0b3d4f"/>');

export const PICTURES: readonly Case[] = [
  {
    name: 'a gradient of one colour is that colour',
    source: IMAGES,
    html: '<p style="background:linear-gradient(#0b3d4f,#0b3d4f);color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'black text over a hard step from black to white is mixed',
    source: `${IMAGES}: contrast 1 on the one side, 21 on the other`,
    html: '<p style="width:120px;background:linear-gradient(90deg,#000 60px,#fff 60px);white-space:nowrap">Level and tide</p>',
    expect: [{ verdict: 'mixed', min: [1, 1.01], max: [20.9, 21] }],
  },
  {
    name: 'lines on either side of a step are two runs',
    source: `${IMAGES}: 24 px lines, step at 24 px`,
    html: '<p style="margin:0;width:200px;line-height:24px;background:linear-gradient(#0b3d4f 24px,#e8a33d 24px);color:#fff">Level<br>Tide</p><p style="margin:0;width:90px;line-height:24px;background:linear-gradient(#0b3d4f 24px,#e8a33d 24px);color:#000">Height falling</p>',
    expect: [
      { text: 'Level', background: '#0b3d4f' },
      { text: 'Tide', background: '#e8a33d' },
      { text: 'Height', background: '#0b3d4f', verdict: 'fail' },
      { text: 'Height', background: '#e8a33d', verdict: 'pass' },
    ],
  },
  {
    name: 'stripes are met with all their colours',
    source: 'contrast of #808080: 3.9494 on white, 5.3172 on black (reference "contrast and colour" §1)',
    html: '<p style="background:repeating-linear-gradient(90deg,#000 0 4px,#fff 4px 8px);color:#808080">Level and tide</p>',
    expect: [{ verdict: 'mixed', min: [3.9, 4], max: [5.28, 5.36] }],
  },
  {
    name: 'a smooth gradient gives its worst and best place',
    source: `${IMAGES}: black on grey 128 → 5.3172 at the left edge, on white 21 at the right`,
    html: '<p style="width:110px;background:linear-gradient(90deg,#808080,#fff);white-space:nowrap;overflow:hidden;margin:0">iiiiiiiiiiiiiiiiiiiiiiiiii</p>',
    expect: [{ verdict: 'pass', min: [5.3, 6.2], max: [19, 21] }],
  },
  {
    name: 'a radial gradient with hard steps shows its middle',
    source: IMAGES,
    html: '<p style="width:200px;height:60px;margin:0;line-height:60px;text-align:center;background:radial-gradient(circle,#0b3d4f 90px,#fff 90px);color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a conic gradient shows the sector the text is in',
    source: IMAGES,
    html: '<p style="width:200px;height:60px;margin:0;text-align:right;background:conic-gradient(#0b3d4f 180deg,#fff 180deg);color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a translucent gradient lies on the colour below',
    source: 'source-over: black .5 on #fc0 = 127.5 102 0',
    html: '<p style="background:linear-gradient(rgb(0 0 0/.5),rgb(0 0 0/.5)) #fc0;color:#fff">Level</p>',
    expect: [{ background: codes(127.5, 102, 0) }],
  },
  {
    name: 'a background picture counts',
    source: IMAGES,
    html: `<p style="background:url('${FLAT}');color:#fff">Level</p>`,
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a picture beside the text does not count',
    source: `${IMAGES}: position and no-repeat`,
    html: `<p style="background:url('${FLAT}') right no-repeat">Level</p>`,
    expect: [{ color: '#000000', background: '#ffffff', min: [21, 21] }],
  },
  {
    name: 'a picture repeated along one axis covers the line it covers',
    source: `${IMAGES}: 20 px high after background-size, first line only`,
    html: `<p style="margin:0;line-height:40px;width:60px;background:url('${FLAT}') 0 0/40px 40px repeat-x #e8a33d">Level tide</p>`,
    expect: [
      { text: 'Level', background: '#0b3d4f' },
      { text: 'Level', background: '#e8a33d' },
    ],
  },
  {
    name: 'of two background layers the first written lies on top',
    source: 'CSS Backgrounds 3 §2.1: the first image is closest to the user',
    html: `<p style="background:linear-gradient(#0b3d4f,#0b3d4f),url('${svg('<rect width="40" height="40" fill="red"/>')}');color:#fff">Level</p>`,
    expect: [{ background: '#0b3d4f' }],
  },
  {
    name: 'an image beneath text counts',
    source: 'CSS 2.2 Appendix E',
    html: `<img src="${FLAT}" style="position:absolute;width:300px;height:60px;object-fit:cover" alt=""><p style="position:relative;color:#fff">Level</p>`,
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'beside a contained image its own background shows',
    source: 'CSS Images 3 §5.5: object-fit contain leaves room',
    html: `<img src="${svg('<rect width="40" height="40" fill="red"/>')}" style="position:absolute;width:300px;height:40px;object-fit:contain;background:#123456" alt=""><p style="position:relative;color:#fff;margin:0">Level</p>`,
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a drawn canvas beneath text counts',
    source: 'HTML §4.12.5.1: fillStyle',
    html: `<canvas id="ID" width="300" height="60" style="position:absolute"></canvas><p style="position:relative;color:#fff">Level</p><script>{const c=document.getElementById('ID').getContext('2d');c.fillStyle='#0b3d4f';c.fillRect(0,0,300,60)}</script>`,
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'the poster of a video counts',
    source: 'HTML §4.8.9: poster',
    html: `<video poster="${svg('<rect width="300" height="60" fill="#0b3d4f"/>', 'width="300" height="60"')}" width="300" height="60" style="position:absolute"></video><p style="position:relative;color:#fff">Level</p>`,
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a drawing beneath text counts',
    source: 'SVG 2 §3.4, rendering order',
    html: '<svg width="300" height="60" style="position:absolute"><rect width="300" height="60" fill="#0b3d4f"/></svg><p style="position:relative;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a single odd pixel of a picture does not decide',
    source: 'one black pixel in 400: .25 % of the area, below the 1 % quantile; black on white 21',
    html: `<p style="background:url('${svg('<rect width="20" height="20" fill="#fff"/><rect x="9" y="9" width="1" height="1" fill="#000" shape-rendering="crispEdges"/>', 'width="20" height="20"')}');font-size:40px;line-height:60px;margin:0">Tide tables</p>`,
    expect: [{ verdict: 'pass', min: [20, 21] }],
  },
  {
    name: 'a background drawn by a pseudo-element counts',
    source: 'CSS 2.2 Appendix E',
    html: '<style>#ID::before{content:"";position:absolute;inset:0;z-index:-1;background:#0b3d4f}</style><p id="ID" style="position:relative;z-index:0;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a scrim drawn by a pseudo-element lies on the picture',
    source: 'source-over: black .5 on #fc0 = 127.5 102 0',
    html: '<style>#ID::after{content:"";position:absolute;inset:0;z-index:-1;background:rgb(0 0 0/.5)}</style><p id="ID" style="position:relative;z-index:0;background:#fc0;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: codes(127.5, 102, 0) }],
  },
  {
    name: 'glyphs cut out of a background have its colour',
    source: 'CSS Backgrounds 4 §2.3.1: background-clip text',
    html: '<p style="background:linear-gradient(#0b3d4f,#0b3d4f);-webkit-background-clip:text;background-clip:text;color:transparent;font-weight:700">Level</p>',
    expect: [{ color: '#0b3d4f', background: '#ffffff', verdict: 'pass' }],
  },
  {
    name: 'a fill over a clipped background is mixed with it',
    source: 'source-over: black .5 over #e8a33d = 116 81.5 30.5',
    html: '<p style="background:linear-gradient(#e8a33d,#e8a33d);-webkit-background-clip:text;background-clip:text;color:rgb(0 0 0/.5);font-weight:700">Level</p>',
    expect: [{ color: codes(116, 81.5, 30.5), background: '#ffffff' }],
  },
  {
    name: 'a clipped gradient is judged over its length',
    source: 'WCAG 2.2, contrast ratio: red on white 3.9985, blue on white 8.5925',
    html: '<p style="width:118px;font:700 20px monospace;background:linear-gradient(90deg,red 50%,blue 50%);-webkit-background-clip:text;background-clip:text;color:transparent;white-space:nowrap">mmmmmmmmmm</p>',
    expect: [{ color: '#ff0000', background: '#ffffff', min: [3.99, 4.01], max: [8.58, 8.6] }],
  },
  {
    name: 'a clipped flat colour without image is the ink',
    source: 'CSS Backgrounds 4 §2.3.1',
    html: '<p style="background:#0b3d4f;-webkit-background-clip:text;background-clip:text;-webkit-text-fill-color:transparent">Level</p>',
    expect: [{ color: '#0b3d4f', background: '#ffffff' }],
  },
  {
    name: 'the fill colour beats the colour',
    source: 'Compatibility Standard §4: -webkit-text-fill-color',
    html: '<p style="color:#fff;-webkit-text-fill-color:#0b3d4f">Level</p>',
    expect: [{ color: '#0b3d4f', background: '#ffffff' }],
  },
  {
    name: 'a fill colour over a gradient is shown as it is',
    source: 'Compatibility Standard §4',
    html: '<p style="color:red;-webkit-text-fill-color:#fff;background:linear-gradient(90deg,#000,#222)">Level</p>',
    expect: [{ color: '#ffffff', min: [15, 21], verdict: 'pass' }],
    within: 40,
  },
  {
    name: 'a narrow border round letters is used as the letter',
    source: 'WCAG 2.2 "contrast ratio", note on borders: black border on white 21',
    html: '<p style="color:#fff;-webkit-text-stroke:1px #000;font-size:30px;line-height:40px">Level</p>',
    expect: [{ verdict: 'pass', min: [21, 21] }],
  },
  {
    name: 'a dark letter with a faint border keeps its own contrast',
    source: 'WCAG 2.2 "contrast ratio", note on borders: the better of both edges shows the letter',
    html: '<p style="color:#000;-webkit-text-stroke:1px #eee;font-size:30px;line-height:40px">Level</p>',
    expect: [{ verdict: 'pass', min: [21, 21] }],
  },
  {
    name: 'a wide border beneath the letters is their background',
    source: 'WCAG 2.2 "contrast ratio", note on borders: white on a black halo 21',
    html: '<p style="color:#fff;-webkit-text-stroke:6px #000;paint-order:stroke;font-size:30px;line-height:40px">Level</p>',
    expect: [{ verdict: 'pass', min: [21, 21] }],
  },
  {
    name: 'a sharp shadow on all sides is a border',
    source: 'WCAG 2.2 "contrast ratio", note on borders; ours: blur ≤ 3 px, alpha ≥ .9, all round',
    html: '<p style="color:#fff;text-shadow:1px 0 #000,-1px 0 #000,0 1px #000,0 -1px #000">Level</p>',
    expect: [{ verdict: 'pass', min: [21, 21] }],
  },
  {
    name: 'a soft shadow does not help',
    source: 'ours: only blur ≤ 3 px counts; white on white 1',
    html: '<p style="color:#fff;text-shadow:0 0 12px #000">Level</p>',
    expect: [{ verdict: 'fail', min: [1, 1] }],
  },
  {
    name: 'a shadow to one side does not help',
    source: 'ours: all round',
    html: '<p style="color:#fff;text-shadow:2px 2px 0 #000">Level</p>',
    expect: [{ verdict: 'fail', min: [1, 1] }],
  },
  {
    name: 'a shadow does not change what the letters lie on',
    source: 'ours: as the cases before',
    html: '<p style="color:#fff;background:#0b3d4f;text-shadow:0 1px 4px #000">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f', verdict: 'pass' }],
  },
  {
    name: 'only the shadow of a transparent text is seen: that cannot be told',
    source: 'WCAG 2.2 gives no rule for it',
    html: '<p style="color:transparent;text-shadow:0 0 2px #000">Level</p>',
    expect: [{ verdict: 'unknown' }],
  },
  {
    name: 'an underline in another colour is no ink',
    source: 'CSS Text Decoration 3 §2.3',
    html: '<p style="text-decoration:underline 2px #e8a33d;color:#0b3d4f">gauge jetty</p>',
    expect: [{ color: '#0b3d4f', background: '#ffffff', min: [11.6, 11.8] }],
  },
  {
    name: 'emphasis marks are no ink',
    source: 'CSS Text Decoration 3 §3.2',
    html: '<p style="text-emphasis:dot #e8a33d;line-height:50px;color:#0b3d4f;margin:0">Level</p>',
    expect: [{ color: '#0b3d4f', background: '#ffffff' }],
  },
];
