// Layers of attention: what a modal layer keeps from the reader is not judged in that state; what only looks like one changes nothing.
import type { Expected } from './case.ts';
import { codes } from './case.ts';

export interface LayerCase {
  /** A sentence about the product. */
  readonly name: string;
  readonly source: string;
  /** Body of a page of its own: layers cover the viewport. `Level` and the link are the page's, `Berth` the layer's. */
  readonly html: string;
  readonly css?: string;
  readonly expect: readonly Expected[];
}

const MODAL = 'HTML §6.3.1: a modal dialog makes all else inert';
const POPOVER = 'HTML §6.12 popover; CSS Position 4 §3.2 ::backdrop';
const CLAIM = 'WAI-ARIA 1.2 aria-modal: the author says that all else is not to be used; told true by the pointer (ours)';
const VEIL = 'ours: translucent, covers the viewport, takes the pointer (CSSOM View §7: elementFromPoint)';
const COVER =
  'ours: text below a translucent layer with text of its own is not meant to be read through it (CSS 2.2 Appendix E for the order)';
const NO_LAYER = 'ours: a layer that lets the pointer through, or does not cover the viewport, keeps nothing from the reader';

const PAGE = '<p id="level" style="color:#c8c8c8">Level</p><a href="#q" style="color:#0b3d4f">Quay</a>';
const DIALOG = 'position:fixed;left:200px;top:150px;width:240px;height:80px;background:#fff;color:#000';

const behind = (text: string): Expected => ({ text, verdict: 'exempt', exempt: 'behind' });
const PAGE_BEHIND = [behind('Level'), behind('Quay')];
/** #c8c8c8 on white: 1.67 (WCAG 2.2). */
const PAGE_JUDGED: readonly Expected[] = [
  { text: 'Level', color: '#c8c8c8', background: '#ffffff', verdict: 'fail' },
  { text: 'Quay', verdict: 'pass' },
];
const BERTH: Expected = { text: 'Berth', color: '#000000', background: '#ffffff', verdict: 'pass' };

const over = (share: number, page: number, veil: number): string => {
  const v = page * (1 - share) + veil * share;
  return codes(v, v, v);
};

export const MODAL_LAYERS: readonly LayerCase[] = [
  {
    name: 'behind a native modal dialog',
    source: MODAL,
    html: `${PAGE}<dialog id="d" style="background:#fff;color:#000;border:0">Berth</dialog><script>d.showModal()</script>`,
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'of two modal dialogs the later one is what is shown',
    source: MODAL,
    html: `${PAGE}<dialog id="b" style="background:#fff;color:#000;border:0">Berth</dialog><dialog id="a" style="border:0">Mooring</dialog><script>a.showModal();b.showModal()</script>`,
    expect: [...PAGE_BEHIND, behind('Mooring'), BERTH],
  },
  {
    name: 'a popover opened inside a modal dialog is part of it',
    source: `${MODAL}; ${POPOVER}`,
    html: `${PAGE}<dialog id="d" style="background:#fff;color:#000;border:0;width:400px;height:200px;margin:40px">Berth<div id="p" popover style="border:0;margin:0;left:60px;top:120px;background:#fff;color:#000">Hint</div></dialog><script>d.showModal();p.showPopover()</script>`,
    expect: [...PAGE_BEHIND, BERTH, { text: 'Hint', verdict: 'pass' }],
  },
  {
    name: 'behind a popover with a backdrop',
    source: POPOVER,
    html: `${PAGE}<div id="p" popover style="border:0;background:#fff;color:#000">Berth</div><script>p.showPopover()</script>`,
    css: '#p::backdrop{background:rgb(0 0 0/.5)}',
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'behind a dialog in a veil that is translucent by its colour',
    source: VEIL,
    html: `${PAGE}<div style="position:fixed;inset:0;background:rgb(0 0 0/.5)"><div role="dialog" style="${DIALOG}">Berth</div></div>`,
    expect: [{ ...behind('Level'), background: over(0.5, 255, 0) }, behind('Quay'), BERTH],
  },
  {
    name: 'behind a veil beside its dialog, translucent by opacity',
    source: VEIL,
    html: `${PAGE}<div style="position:fixed;inset:0;background:#000;opacity:.4;z-index:5"></div><div style="${DIALOG};z-index:6">Berth</div>`,
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'behind a veil made of a pseudo-element',
    source: VEIL,
    html: `${PAGE}<div style="${DIALOG};z-index:6">Berth</div>`,
    css: 'body::after{content:"";position:fixed;inset:0;z-index:5;background:rgb(10 20 30/.6)}',
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'behind a veil that blurs and has no colour',
    source: VEIL,
    html: `${PAGE}<div style="position:fixed;inset:0;backdrop-filter:blur(6px)"><div style="${DIALOG}">Berth</div></div>`,
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'behind a veil of a gradient',
    source: VEIL,
    html: `${PAGE}<div style="position:fixed;inset:0;background:linear-gradient(rgb(0 0 0/.3),rgb(0 0 0/.7))"><div style="${DIALOG}">Berth</div></div>`,
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'behind a veil that is positioned in the page',
    source: VEIL,
    html: `<div style="position:relative">${PAGE}</div><div style="position:absolute;left:0;top:0;width:100vw;height:100vh;background:rgb(0 0 0/.5)"></div><div style="${DIALOG}">Berth</div>`,
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'what a fixed veil will lie over once it is scrolled to is behind it as well',
    source: VEIL,
    html: `${PAGE}<p style="margin-top:900px;color:#c8c8c8">Tide</p><div style="position:fixed;inset:0;background:rgb(0 0 0/.5)"><div style="${DIALOG}">Berth</div></div>`,
    expect: [...PAGE_BEHIND, behind('Tide'), BERTH],
  },
  {
    name: 'behind a dialog that calls itself modal and keeps the pointer from the page',
    source: CLAIM,
    html: `${PAGE}<div style="position:fixed;inset:0"></div><div role="dialog" aria-modal="true" style="${DIALOG}">Berth</div>`,
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'behind a modal dialog of a shadow tree',
    source: MODAL,
    html: `${PAGE}<div id="h"></div><script>h.attachShadow({mode:'open'}).innerHTML='<div style="position:fixed;inset:0;background:rgb(0 0 0/.5)"><div style="${DIALOG}">Berth</div></div>'</script>`,
    expect: [...PAGE_BEHIND, BERTH],
  },
  {
    name: 'a notice above the veil is judged: it is seen',
    source: VEIL,
    html: `${PAGE}<div style="position:fixed;inset:0;z-index:5;background:rgb(0 0 0/.5)"><div style="${DIALOG}">Berth</div></div><div style="position:fixed;z-index:9;left:20px;top:400px;width:200px;background:#fff;color:#c8c8c8">Saved</div>`,
    expect: [...PAGE_BEHIND, BERTH, { text: 'Saved', color: '#c8c8c8', background: '#ffffff', verdict: 'fail' }],
  },
  {
    name: 'in a frame: the page around it is not behind its dialog',
    source: `${MODAL}: of its document`,
    html: `${PAGE}<iframe style="border:0;width:500px;height:300px" srcdoc="<body style='margin:0;font:20px sans-serif'><p>Tide</p><dialog id=d style='background:#fff;color:#000;border:0'>Berth</dialog><script>d.showModal()</script>"></iframe>`,
    expect: [...PAGE_JUDGED, behind('Tide'), BERTH],
  },
];

export const NO_LAYERS: readonly LayerCase[] = [
  {
    name: 'a dialog that is not modal leaves the page judged',
    source: 'HTML §4.11.4: show() and the open attribute make nothing inert',
    html: `${PAGE}<dialog open style="${DIALOG};border:0;margin:0">Berth</dialog>`,
    expect: [...PAGE_JUDGED, BERTH],
  },
  {
    name: 'a popover without a backdrop leaves the page judged',
    source: `${POPOVER}: transparent by default`,
    html: `${PAGE}<div id="p" popover style="border:0;background:#fff;color:#000">Berth</div><script>p.showPopover()</script>`,
    expect: [...PAGE_JUDGED, BERTH],
  },
  {
    name: 'a notice that calls itself modal while the page beside it is in use',
    source: CLAIM,
    html: `${PAGE}<div role="dialog" aria-modal="true" style="position:fixed;left:0;right:0;bottom:0;height:80px;background:#fff;color:#000">Berth</div>`,
    expect: [...PAGE_JUDGED, BERTH],
  },
  {
    name: 'a modal dialog that is closed by its opacity',
    source: `${CLAIM}; CSS Color 4 §3.3`,
    html: `${PAGE}<div style="position:fixed;inset:0;opacity:0;pointer-events:none"><div role="dialog" aria-modal="true" style="${DIALOG}">Berth</div></div>`,
    expect: PAGE_JUDGED,
  },
  {
    name: 'a translucent decoration that lets the pointer through',
    source: `${NO_LAYER}; white .2 over #c8c8c8 is 211, over white white`,
    html: `${PAGE}<div style="position:fixed;inset:0;pointer-events:none;background:rgb(255 255 255/.2)"></div>`,
    expect: [
      { text: 'Level', color: codes(211, 211, 211), background: '#ffffff', verdict: 'fail' },
      { text: 'Quay', verdict: 'pass' },
    ],
  },
  {
    name: 'a catcher of clicks that nobody sees',
    source: NO_LAYER,
    html: `${PAGE}<div style="position:fixed;inset:0"></div><ul style="${DIALOG};margin:0"><li>Berth</li></ul>`,
    expect: [...PAGE_JUDGED, BERTH],
  },
  {
    name: 'a grain over the page that hardly shows',
    source: `${NO_LAYER}; black .02 over white is 250, over #c8c8c8 196`,
    html: `${PAGE}<div style="position:fixed;inset:0;background:rgb(0 0 0/.02)"></div>`,
    expect: [
      { text: 'Level', color: codes(196, 196, 196), background: codes(249.9, 249.9, 249.9), verdict: 'fail' },
      { text: 'Quay' },
    ],
  },
  {
    name: 'a translucent layer below the page',
    source: 'CSS 2.2 Appendix E: a negative z-index is painted first',
    html: `${PAGE}<div style="position:fixed;inset:0;z-index:-1;background:rgb(0 0 0/.1)"></div>`,
    expect: [
      { text: 'Level', color: '#c8c8c8', background: over(0.1, 255, 0), verdict: 'fail' },
      { text: 'Quay', verdict: 'pass' },
    ],
  },
  {
    name: 'a translucent wrapper of all that is there',
    source: NO_LAYER,
    html: `<div style="position:absolute;inset:0;background:rgb(0 0 0/.1)">${PAGE}</div>`,
    expect: [
      { text: 'Level', color: '#c8c8c8', background: over(0.1, 255, 0), verdict: 'fail' },
      { text: 'Quay', verdict: 'pass' },
    ],
  },
  {
    name: 'a shade over the first screen says nothing of what stands below it',
    source: VEIL,
    html: `<div style="position:relative;height:100vh;overflow:hidden"><div style="position:absolute;inset:0;background:rgb(0 0 0/.5)"></div><h1 style="position:relative;color:#fff;background:#000">Harbour</h1></div>${PAGE}`,
    css: 'body{margin:0}',
    expect: [{ text: 'Harbour', verdict: 'pass' }, ...PAGE_JUDGED],
  },
  {
    name: 'a bar over half of the screen',
    source: NO_LAYER,
    html: `${PAGE}<div style="position:fixed;left:0;right:0;top:300px;bottom:0;background:rgb(0 0 0/.5)"><div style="${DIALOG};top:350px">Berth</div></div>`,
    expect: [...PAGE_JUDGED, BERTH],
  },
  {
    name: 'a notice hides the text that it covers, and only that',
    source: 'CSS 2.2 Appendix E: the first line, of 24 px from 8 px on, lies under a bar of 32 px',
    html: `<p style="margin:0;color:#c8c8c8">Level<br>Tide</p><div style="position:fixed;left:0;top:0;width:300px;height:32px;background:#0b3d4f;color:#fff"><span style="position:absolute;left:200px">Saved</span></div>`,
    css: 'body{margin:8px 0}',
    expect: [
      { text: 'Tide', color: '#c8c8c8', background: '#ffffff', verdict: 'fail' },
      { text: 'Saved', verdict: 'pass' },
    ],
  },
  {
    name: 'a translucent notice hides the part of a line that it covers, and the rest is judged as it is',
    source: `${COVER}; #767676 on white 4.54 (WCAG 2.2)`,
    html: `<p style="margin:0;color:#767676;white-space:nowrap">Level of the tide at the quay of the outer harbour</p><div style="position:fixed;left:200px;top:0;width:400px;height:40px;background:rgb(255 255 255/.8);color:#000">Saved</div>`,
    css: 'body{margin:8px 0}',
    expect: [
      { text: 'Level', color: '#767676', background: '#ffffff', verdict: 'pass', most: { width: 200, height: 40 } },
      { text: 'Saved', verdict: 'pass' },
    ],
  },
  {
    name: 'so does one whose colour is on a box within the one that is placed',
    source: `${COVER}; the line lies from 8 to 32 px, the box from 16 px on`,
    html: `<p style="margin:0;color:#767676">Level</p><div style="position:absolute;left:0;top:16px;width:400px"><div style="height:40px;background:rgb(0 0 0/.85);color:#fff;text-align:right">Saved</div></div>`,
    css: 'body{margin:8px 0}',
    expect: [
      { text: 'Level', verdict: 'exempt', exempt: 'behind' },
      { text: 'Saved', verdict: 'pass' },
    ],
  },
  {
    name: 'a translucent head that stays hides the lines under it',
    source: COVER,
    html: `<div style="position:sticky;top:0;height:40px;background:rgb(255 255 255/.8);color:#000">Saved</div><p style="margin:-34px 0 0;color:#767676">Level<br><br>Tide</p>`,
    css: 'body{margin:0}',
    expect: [
      { text: 'Level', verdict: 'exempt', exempt: 'behind' },
      { text: 'Tide', color: '#767676', background: '#ffffff', verdict: 'pass' },
      { text: 'Saved', verdict: 'pass' },
    ],
  },
  {
    name: 'a tint without text of its own is part of how the text below it looks',
    source: 'Compositing 1 source over: #767676 at .4 and white at .6 → 118 × .4 + 255 × .6 = 200 = #c8c8c8, 1.67 on white',
    html: '<p style="margin:0;color:#767676">Level</p><div style="position:absolute;left:0;top:0;width:300px;height:60px;background:rgb(255 255 255/.6)"></div>',
    expect: [{ text: 'Level', color: '#c8c8c8', background: '#ffffff', verdict: 'fail' }],
  },
];
