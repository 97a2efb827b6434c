// Layers beneath text: translucency, opacity groups, what lies behind by painting order.
import type { Case } from './case.ts';
import { codes } from './case.ts';

const OVER = 'Compositing 1 §5.1 source-over: co = αs·Cs + (1−αs)·Cb on encoded channels';
const GROUP = 'CSS Color 4 §3.3 (opacity): element and descendants are one group';
const ORDER = 'CSS 2.2 Appendix E, painting order';

export const LAYERS: readonly Case[] = [
  {
    name: 'text without any background lies on the white canvas',
    source: 'CSS Color Adjust 1: Canvas of a light scheme is white',
    html: '<p>Level</p>',
    expect: [{ color: '#000000', background: '#ffffff', verdict: 'pass', min: [21, 21] }],
  },
  {
    name: 'text lies on its own background',
    source: 'CSS Backgrounds 3 §2.2',
    html: '<p style="color:#e8a33d;background:#0b3d4f">Level</p>',
    expect: [{ color: '#e8a33d', background: '#0b3d4f' }],
  },
  {
    name: 'the nearest opaque ancestor is the background, however far up',
    source: 'CSS Backgrounds 3 §2.2: backgrounds do not inherit, they show through',
    html: '<div style="background:#0b3d4f"><div><div><section><p style="color:#fff">Level</p></section></div></div></div>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'black at half on white is the middle code',
    source: `${OVER}: .5·0 + .5·255 = 127.5`,
    html: '<p style="background:rgb(0 0 0/.5);color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: codes(127.5, 127.5, 127.5) }],
  },
  {
    name: 'two translucent layers are laid one after the other',
    source: `${OVER}: #1f6feb .4, #e8a33d .25 on #0b3d4f → 72.25 101.5 121.3 (reference table)`,
    html: '<div style="background:#0b3d4f"><div style="background:rgb(31 111 235/.4)"><p style="background:rgb(232 163 61/.25);color:#fff">Level</p></div></div>',
    expect: [{ color: '#ffffff', background: codes(72.25, 101.5, 121.3) }],
  },
  {
    name: 'a faint white on near black stays near black',
    source: `${OVER}: .08·255 + .92·18 = 36.96`,
    html: '<div style="background:#121212"><p style="background:rgb(255 255 255/.08);color:#fff">Level</p></div>',
    expect: [{ background: codes(36.96, 36.96, 36.96) }],
  },
  {
    name: 'a translucent ink is judged as it is mixed',
    source: `${OVER}: white .6 on #0b3d4f = 157.4 177.4 184.6; contrast 5.2709 (reference "contrast and colour" §1)`,
    html: '<p style="background:#0b3d4f;color:rgb(255 255 255/.6);font-weight:700">Level and tide</p>',
    expect: [{ color: codes(157.4, 177.4, 184.6), background: '#0b3d4f', min: [5.26, 5.28], verdict: 'pass' }],
  },
  {
    name: 'black at .54 on white just passes',
    source: `${OVER}: .46·255 = 117.3; contrast 4.5878 (WCAG 2.2, contrast ratio)`,
    html: '<p style="color:rgb(0 0 0/.54)">Level</p>',
    expect: [{ color: codes(117.3, 117.3, 117.3), min: [4.58, 4.6], verdict: 'pass' }],
  },
  {
    name: 'opacity of the element fades its ink',
    source: `${GROUP}: .5·0 + .5·255`,
    html: '<p style="opacity:.5">Level</p>',
    expect: [{ color: codes(127.5, 127.5, 127.5), background: '#ffffff' }],
  },
  {
    name: 'opacity fades background and ink together',
    source: `${GROUP}: bg .5·(255,204,0)+127.5; ink .5·0+127.5`,
    html: '<p style="opacity:.5;background:#fc0">Level</p>',
    expect: [{ color: codes(127.5, 127.5, 127.5), background: codes(255, 229.5, 127.5) }],
  },
  {
    name: 'opacities of nested groups multiply',
    source: `${GROUP}: alpha .25 → .75·255 = 191.25`,
    html: '<div style="opacity:.5"><p style="opacity:.5">Level</p></div>',
    expect: [{ color: codes(191.25, 191.25, 191.25), background: '#ffffff' }],
  },
  {
    name: 'inside a group the upper layer hides the lower before the group fades',
    source: `${GROUP}: [red, blue over it] .5 on white = 127.5 127.5 255`,
    html: '<div style="opacity:.5;background:red"><p style="background:blue;color:#fff">Level</p></div>',
    expect: [{ color: '#ffffff', background: codes(127.5, 127.5, 255) }],
  },
  {
    name: 'two faded layers are not one faded group',
    source: `${OVER}: red .5 then blue .5 on white = 127.5 63.75 191.25`,
    html: '<div style="background:rgb(255 0 0/.5)"><p style="background:rgb(0 0 255/.5);color:#fff">Level</p></div>',
    expect: [{ color: '#ffffff', background: codes(127.5, 63.75, 191.25) }],
  },
  {
    name: 'a translucent ink in a faded group is faded twice',
    source: `${GROUP} and ${OVER}: alpha .5·.5`,
    html: '<div style="opacity:.5"><p style="color:rgb(0 0 0/.5)">Level</p></div>',
    expect: [{ color: codes(191.25, 191.25, 191.25), background: '#ffffff' }],
  },
  {
    name: 'an inline background counts',
    source: ORDER,
    html: '<p>Now <span style="background:#0b3d4f;color:#fff">rising</span></p>',
    expect: [
      { text: 'Now', background: '#ffffff' },
      { text: 'rising', color: '#ffffff', background: '#0b3d4f' },
    ],
  },
  {
    name: 'marked text lies on the browser yellow',
    source: 'HTML §15.3.4: mark { background: yellow; color: black }',
    html: '<p><mark>Level</mark></p>',
    expect: [{ color: '#000000', background: '#ffff00' }],
  },
  {
    name: 'a block pulled over its neighbour lies on the neighbour',
    source: `${ORDER}: block backgrounds before inline content`,
    html: '<div style="height:60px;background:#123456"></div><p style="margin:-40px 0 0;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'two items in one grid cell: the later lies on the earlier',
    source: ORDER,
    html: '<div style="display:grid;grid-template:60px/200px"><div style="grid-area:1/1;background:#123456"></div><p style="grid-area:1/1;color:#fff;margin:0">Level</p></div>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a positioned sibling before lies beneath a positioned text',
    source: ORDER,
    html: '<div style="position:absolute;width:300px;height:60px;background:#123456"></div><p style="position:relative;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a layer with negative z-index lies between its context and the text',
    source: ORDER,
    html: '<div style="position:relative;z-index:0;background:#fff;height:60px"><div style="position:absolute;inset:0;z-index:-1;background:#123456"></div><p style="color:#fff;margin:0">Level</p></div>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a positioned sibling after covers the text: nothing to judge',
    source: ORDER,
    html: '<p style="margin:0">Level</p><div style="position:absolute;top:0;width:300px;height:60px;background:#123456"></div>',
    expect: [],
  },
  {
    name: 'a partly covered text is judged on what is left of it',
    source: ORDER,
    html: '<p style="margin:0">Level and tide</p><div style="position:absolute;top:0;left:0;width:40px;height:60px;background:#123456"></div>',
    expect: [{ color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'a veil over the text fades its ink',
    source: `${OVER}: white .5 over black ink = 127.5, over white = 255; contrast of #808080 on white 3.9494 (WCAG 2.2, contrast ratio)`,
    html: '<p style="margin:0">Level and tide</p><div style="position:absolute;top:0;width:300px;height:60px;background:rgb(255 255 255/.5)"></div>',
    expect: [{ color: codes(127.5, 127.5, 127.5), background: '#ffffff', verdict: 'fail', min: [3.9, 4.02] }],
  },
  {
    name: 'a veil that takes no clicks counts all the same',
    source: `${OVER}: black .5 over white = 127.5`,
    html: '<p style="margin:0">Level and tide</p><div style="position:absolute;top:0;width:300px;height:60px;background:rgb(0 0 0/.5);pointer-events:none"></div>',
    expect: [{ color: '#000000', background: codes(127.5, 127.5, 127.5) }],
  },
  {
    name: 'a float lies on the block it floats in',
    source: ORDER,
    html: '<div style="background:#123456;height:60px"><span style="float:right;color:#fff">Level</span></div>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a table cell shows its row',
    source: 'CSS 2.2 §17.5.1, table layers',
    html: '<table><tr style="background:#123456"><td style="color:#fff">Level</td></tr></table>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a table cell shows its row group',
    source: 'CSS 2.2 §17.5.1, table layers',
    html: '<table><tbody style="background:#123456"><tr><td style="color:#fff">Level</td></tr></tbody></table>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a table cell shows its column, which is no ancestor of it',
    source: 'CSS 2.2 §17.5.1, table layers',
    html: '<table><colgroup><col style="background:#123456"></colgroup><tr><td style="color:#fff">Level</td></tr></table>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a translucent cell lies on its row',
    source: `${OVER}: black .5 on #fc0 = 127.5 102 0`,
    html: '<table><tr style="background:#fc0"><td style="background:rgb(0 0 0/.5);color:#fff">Level</td></tr></table>',
    expect: [{ color: '#ffffff', background: codes(127.5, 102, 0) }],
  },
  {
    name: 'a caption lies outside the table box',
    source: 'CSS 2.2 §17.4: the caption is outside the table box',
    html: '<table style="background:#123456"><caption>Tides</caption><tr><td style="color:#fff">Level</td></tr></table>',
    expect: [
      { text: 'Tides', color: '#000000', background: '#ffffff' },
      { text: 'Level', color: '#ffffff', background: '#123456' },
    ],
  },
  {
    name: 'text over a wide border lies on the border',
    source: ORDER,
    html: '<p style="border-left:200px solid #0b3d4f;text-indent:-190px;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'an inset shadow lies above the background',
    source: 'CSS Backgrounds 3 §7.2: inner shadows are drawn above the background',
    html: '<p style="background:#fff;box-shadow:inset 0 0 0 100px #0b3d4f;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'the outer shadow of the block above counts',
    source: 'CSS Backgrounds 3 §7.2: shadows with the background of their box',
    html: '<div style="height:20px;background:#fff;box-shadow:0 0 0 60px #123456"></div><p style="margin:4px 0;color:#fff">Level</p>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'the corners of a pill do not count',
    source: 'only what lies under the glyphs is background',
    html: '<p><span style="display:inline-block;background:#0b3d4f;color:#fff;border-radius:12px;padding:0 10px">Level</span></p>',
    expect: [{ color: '#ffffff', background: '#0b3d4f', min: [11.6, 11.8] }],
  },
  {
    name: 'a line drawn close to the text is no background',
    source: 'a neighbour never counts as background',
    html: '<p style="line-height:1;border-bottom:2px solid #000;display:inline-block">gauge jetty pile</p>',
    expect: [{ color: '#000000', background: '#ffffff', min: [21, 21] }],
  },
  {
    name: 'text in the very colour of its background is reported',
    source: 'contrast ratio 1 (WCAG 2.2 definition)',
    html: '<p style="background:#0b3d4f;color:#0b3d4f">Level</p>',
    expect: [{ color: '#0b3d4f', background: '#0b3d4f', verdict: 'fail', min: [1, 1] }],
  },
  {
    name: 'text one code from its background is reported with its ratio',
    source: 'WCAG 2.2 contrast of #0b3d4f and #0c3d4f: luminances .04201 and .04207 → 1.0006',
    html: '<p style="background:#0b3d4f;color:#0c3d4f">Level</p>',
    expect: [{ verdict: 'fail', min: [1, 1.01] }],
    within: 1,
  },
  {
    name: 'a sticky part lies on its own background',
    source: ORDER,
    html: '<div style="position:sticky;top:0;background:#123456;color:#fff">Level</div>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
  {
    name: 'a neighbour drawn over by overflow shows through',
    source: ORDER,
    html: '<div style="width:30px;height:40px;background:#fff;white-space:nowrap;color:#fff;position:relative;z-index:1"><span style="position:relative;left:60px">Level</span></div><div style="position:absolute;left:50px;top:0;width:200px;height:60px;background:#123456"></div>',
    expect: [{ color: '#ffffff', background: '#123456' }],
  },
];
