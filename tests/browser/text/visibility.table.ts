// What is not seen is not judged; what is seen is.
import type { Case } from './case.ts';

const HIDDEN = 'CSS Display 4, CSS Overflow 3, CSS Contain 2: not rendered or clipped';
const LONG = 'Level and tide and height';

export const VISIBILITY: readonly Case[] = [
  { name: 'display none', source: HIDDEN, html: '<p style="display:none">Level</p>', expect: [] },
  { name: 'the hidden attribute', source: 'HTML §6.1', html: '<p hidden>Level</p>', expect: [] },
  { name: 'hidden until found', source: 'HTML §6.1', html: '<p hidden="until-found">Level</p>', expect: [] },
  { name: 'visibility hidden', source: 'CSS Display 4 §4', html: '<p style="visibility:hidden">Level</p>', expect: [] },
  {
    name: 'made visible again inside something hidden',
    source: 'CSS Display 4 §4: descendants may be visible',
    html: '<div style="visibility:hidden;background:#0b3d4f">Tide <span style="visibility:visible">Level</span></div>',
    expect: [{ text: 'Level', color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'content-visibility hidden',
    source: 'CSS Contain 2 §4',
    html: '<div style="content-visibility:hidden">Level<p>Tide</p></div>',
    expect: [],
  },
  { name: 'opacity 0', source: 'CSS Color 4 §3.3', html: '<div style="opacity:0"><p>Level</p></div>', expect: [] },
  { name: 'transparent ink', source: 'CSS Color 4 §6.3', html: '<p style="color:transparent">Level</p>', expect: [] },
  { name: 'white space only', source: 'CSS Text 3 §4.1', html: '<p>  \n\t &nbsp;</p>', expect: [] },
  { name: 'size 0', source: 'CSS Fonts 4 §2.5', html: '<p style="font-size:0">Level</p>', expect: [] },
  {
    name: 'a box folded to nothing',
    source: HIDDEN,
    html: '<div style="max-height:0;overflow:hidden"><p style="margin:0">Level</p></div>',
    expect: [],
  },
  {
    name: 'text for readers only: one pixel, clipped',
    source: HIDDEN,
    html: '<span style="position:absolute;width:1px;height:1px;overflow:hidden;clip:rect(0,0,0,0);white-space:nowrap">Level</span>',
    expect: [],
  },
  {
    name: 'text for readers only: clip path',
    source: HIDDEN,
    html: '<span style="position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap">Level</span>',
    expect: [],
  },
  {
    name: 'the old clip property',
    source: 'CSS Masking 1 §6.2',
    html: '<span style="position:absolute;clip:rect(0,0,0,0)">Level</span>',
    expect: [],
  },
  {
    name: 'moved out of the page to the left',
    source: HIDDEN,
    html: '<p style="position:absolute;left:-9999px">Level</p>',
    expect: [],
  },
  {
    name: 'indented out of its box',
    source: HIDDEN,
    html: '<p style="text-indent:-9999px;overflow:hidden;background:#0b3d4f">Level</p>',
    expect: [],
  },
  {
    name: 'a closed fold',
    source: 'HTML §4.11.1',
    html: '<details><summary>Tides</summary>Level<p>High</p></details>',
    expect: [{ text: 'Tides' }],
  },
  { name: 'a closed dialog', source: 'HTML §4.11.4', html: '<dialog>Level</dialog>', expect: [] },
  { name: 'a closed popover', source: 'HTML §6.12', html: '<div popover>Level</div>', expect: [] },
  { name: 'a template', source: 'HTML §4.12.3', html: '<template><p>Level</p></template>', expect: [] },
  { name: 'options of a closed list', source: 'HTML §4.10.8', html: '<datalist><option>Level</option></datalist>', expect: [] },
  {
    name: 'scrolled out of its box',
    source: HIDDEN,
    html: '<div id="ID" style="height:24px;overflow:auto;line-height:24px">Level<br>Tide<br>Height</div><script>document.getElementById("ID").scrollTop=24</script>',
    expect: [{ text: 'Tide' }],
  },
  {
    name: 'scrolled half out: judged on what is left',
    source: HIDDEN,
    html: '<div style="height:14px;overflow:hidden;line-height:24px;background:#0b3d4f;color:#fff;font-weight:700">Level</div>',
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a positioned part is not cut by a box that does not hold it',
    source: 'CSS Overflow 3 §3: containing block chain',
    html: '<div style="height:20px;overflow:hidden"><p style="position:absolute;top:40px;margin:0">Level</p></div>',
    expect: [{ text: 'Level' }],
  },
  {
    name: 'a positioned part is cut by the box that holds it',
    source: 'CSS Overflow 3 §3',
    html: '<div style="height:20px;overflow:hidden;position:relative"><p style="position:absolute;top:40px;margin:0">Level</p></div>',
    expect: [],
  },
  {
    name: 'private-use glyphs are graphics',
    source: 'Unicode 16 §23.5; WCAG 2.2 SC 1.4.11 covers them',
    html: '<p>\ue001\ue002</p>',
    expect: [],
  },
  { name: 'emoji are graphics', source: 'UTS #51', html: '<p>\u{1F6A2}\u{1F6A2}</p>', expect: [] },
  {
    name: 'words of icon fonts are graphics',
    source: 'WCAG 2.2 SC 1.4.11 covers icons',
    html: '<p style="font-family:\'Harbour Icons\',sans-serif">anchor</p>',
    expect: [],
  },
  {
    name: 'covered in the middle, seen at both ends',
    source: 'CSS 2.2 Appendix E',
    html: `<p style="margin:0">${LONG}</p><div style="position:absolute;top:0;left:60px;width:60px;height:40px;background:#e8a33d"></div>`,
    expect: [{ color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'covered by a picture',
    source: 'CSS 2.2 Appendix E',
    html: '<p style="margin:0">Level</p><img alt="" style="position:absolute;top:0;width:300px;height:40px" src="data:image/svg+xml,%3Csvg xmlns=\'http://www.w3.org/2000/svg\'%3E%3Crect width=\'300\' height=\'150\' fill=\'red\'/%3E%3C/svg%3E">',
    expect: [],
  },
  {
    name: 'letters equal to their background under a cover are not seen',
    source: 'CSS 2.2 Appendix E',
    html: '<p style="margin:0;color:#fff">Level</p><div style="position:absolute;top:0;width:300px;height:40px;background:#e8a33d"></div>',
    expect: [],
  },
  {
    name: 'a collapsed row',
    source: 'CSS Tables 3 §5.1',
    html: '<table><tr style="visibility:collapse"><td>Level</td></tr><tr><td>Tide</td></tr></table>',
    expect: [{ text: 'Tide' }],
  },
  {
    name: 'cut off by an ellipsis: judged on what is left',
    source: 'CSS Overflow 3 §5.1',
    html: `<p style="width:90px;overflow:hidden;text-overflow:ellipsis;white-space:nowrap;color:#0b3d4f">${LONG}</p>`,
    expect: [{ text: 'Level', color: '#0b3d4f', background: '#ffffff' }],
  },
  {
    name: 'lines beyond a clamp are not seen',
    source: 'CSS Overflow 4 §4',
    html: '<div style="display:-webkit-box;-webkit-line-clamp:1;-webkit-box-orient:vertical;overflow:hidden;width:120px;line-height:24px;background:linear-gradient(#0b3d4f 24px,#e8a33d 24px);color:#fff">Level and tide and height</div>',
    expect: [{ text: 'Level', background: '#0b3d4f' }],
  },
];
