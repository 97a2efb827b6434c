// Unusual homes of text: where a text node has no parent element, another one than its markup says, or where there is no text node at
// all. The truth of each is worked by hand; the page's picture is the second opinion (homes.test.ts).
import type { Case } from './case.ts';
import { codes } from './case.ts';

const SHADOW = 'DOM §4.8 shadow trees; CSS Scoping 1 §3.4: flat tree';
const INLINE = 'CSS Pseudo-Elements 4';
const INCIDENTAL = 'WCAG 2.2 SC 1.4.3 "Incidental"';
const NAVY = '#0b3d4f';

const tree = (html: string, mode: 'open' | 'closed' = 'open'): string =>
  `<script>document.getElementById("ID").attachShadow({mode:"${mode}"}).innerHTML=\`${html}\`</script>`;

export const HOMES: readonly Case[] = [
  {
    name: 'text that is a direct child of a shadow root',
    source: `${SHADOW}: it inherits from the host`,
    html: `<div id="ID" style="color:${NAVY}"></div>${tree('Level')}`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff', verdict: 'pass' }],
  },
  {
    name: 'direct text of a shadow root beside an element',
    source: SHADOW,
    html: `<div id="ID" style="background:#fc0;color:${NAVY}"></div>${tree('Level <b style="color:#c8c8c8">Tide</b>')}`,
    expect: [
      { text: 'Level', color: NAVY, background: '#ffcc00' },
      { text: 'Tide', color: '#c8c8c8', background: '#ffcc00', verdict: 'fail' },
    ],
  },
  {
    name: 'direct text of a shadow root coloured by :host',
    source: 'CSS Scoping 1 §3.1: :host',
    html: `<div id="ID"></div>${tree(`<style>:host{display:block;background:${NAVY};color:#fff}</style>Level`)}`,
    expect: [{ text: 'Level', color: '#ffffff', background: NAVY }],
  },
  {
    name: 'text of a closed shadow tree',
    source: SHADOW,
    html: `<div id="ID"></div>${tree(`<p style="margin:0;background:${NAVY};color:#fff">Level</p>`, 'closed')}`,
    expect: [{ text: 'Level', color: '#ffffff', background: NAVY }],
  },
  {
    name: 'direct text of a closed shadow root',
    source: SHADOW,
    html: `<div id="ID" style="color:#c8c8c8"></div>${tree('Level', 'closed')}`,
    expect: [{ text: 'Level', color: '#c8c8c8', background: '#ffffff', verdict: 'fail' }],
  },
  {
    name: 'text slotted into a closed shadow tree',
    source: SHADOW,
    html: `<div id="ID">Level</div>${tree(`<div style="background:${NAVY};color:#fff"><slot></slot></div>`, 'closed')}`,
    expect: [{ text: 'Level', color: '#ffffff', background: NAVY }],
  },
  {
    name: 'a closed shadow tree written in markup',
    source: 'HTML §4.12.3: shadowrootmode',
    html: `<div><template shadowrootmode="closed"><p style="margin:0;background:${NAVY};color:#fff">Level</p></template></div>`,
    expect: [{ text: 'Level', color: '#ffffff', background: NAVY }],
  },
  {
    name: 'a closed tree in an open one',
    source: SHADOW,
    html: '<div id="ID"></div><script>{const a=document.getElementById("ID").attachShadow({mode:"open"});a.innerHTML="<div></div>";a.firstChild.attachShadow({mode:"closed"}).innerHTML=`<p style="margin:0;background:#fc0;color:#123456">Level</p>`}</script>',
    expect: [{ text: 'Level', color: '#123456', background: '#ffcc00' }],
  },
  {
    name: 'generated text in a closed tree',
    source: `${INLINE} §3.1`,
    html: `<div id="ID"></div>${tree('<style>p{margin:0}p::before{content:"Level";color:#0b3d4f}</style><p></p>', 'closed')}`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'fallback text of a slot',
    source: 'HTML §4.12.4: shown where nothing is assigned',
    html: `<div id="ID"></div>${tree(`<slot style="color:${NAVY}">Level</slot>`)}`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'fallback that gives way to slotted text',
    source: 'HTML §4.12.4',
    html: `<div id="ID">Tide</div>${tree('<slot><b>Level</b></slot>')}`,
    expect: [{ text: 'Tide', color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'text that a script assigns to a slot',
    source: 'HTML §4.12.4: slotAssignment manual',
    html: `<div id="ID">Level</div><script>{const h=document.getElementById("ID"),r=h.attachShadow({mode:"open",slotAssignment:"manual"});r.innerHTML='<i style="color:${NAVY}"><slot></slot></i>';r.querySelector("slot").assign(h.firstChild)}</script>`,
    expect: [{ text: 'Level', color: NAVY }],
  },
  {
    name: 'text that passes through two slots',
    source: SHADOW,
    html: `<div id="ID">Level</div><script>{const a=document.getElementById("ID").attachShadow({mode:"open"});a.innerHTML='<div><slot></slot></div>';a.firstChild.attachShadow({mode:"open"}).innerHTML='<p style="margin:0;background:${NAVY};color:#fff"><slot></slot></p>'}</script>`,
    expect: [{ text: 'Level', color: '#ffffff', background: NAVY }],
  },
  {
    name: 'text of a part',
    source: 'CSS Shadow Parts 1',
    html: `<style>#ID::part(label){color:${NAVY};background:#fc0}</style><div id="ID"></div>${tree('<span part="label">Level</span>')}`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffcc00' }],
  },
  {
    name: 'text of an element without a box',
    source: 'CSS Display 3 §2.5: its background is not painted, its colour is inherited',
    html: `<div style="display:contents;background:#fc0;color:${NAVY}">Level</div>`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'direct text of a shadow root whose host has no box',
    source: 'CSS Display 3 §2.5',
    html: `<div id="ID" style="display:contents;color:${NAVY}"></div>${tree('Level')}`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'direct text of an open fold, in its own colours',
    source: `${INLINE}: ::details-content`,
    html: `<style>#ID::details-content{color:#fff;background:${NAVY}}</style><details id="ID" open><summary>Tides</summary>Level</details>`,
    expect: [
      { text: 'Tides', color: '#000000', background: '#ffffff' },
      { text: 'Level', color: '#ffffff', background: NAVY },
    ],
  },
  {
    name: 'a closed fold whose content is shown all the same',
    source: `${INLINE}: ::details-content; CSS Contain 2 §4`,
    html: '<style>#ID::details-content{content-visibility:visible}</style><details id="ID"><summary>Tides</summary>Level<p style="margin:0">High</p></details>',
    expect: [{ text: 'Tides' }, { text: 'Level', color: '#000000' }, { text: 'High', color: '#000000' }],
  },
  {
    name: 'a summary is read in its own colour',
    source: 'HTML §4.11.2',
    html: `<details><summary style="color:${NAVY}">Tides</summary>Level</details>`,
    expect: [{ text: 'Tides', color: NAVY }],
  },
  {
    name: 'options of a list that is open',
    source: 'HTML §4.10.7: display size',
    html: `<select size="2" style="background:#fc0;font-size:20px"><option style="color:${NAVY}">Level</option><option style="color:#c8c8c8">Tide</option></select>`,
    expect: [
      { text: 'Level', color: NAVY, background: '#ffcc00' },
      { text: 'Tide', color: '#c8c8c8', background: '#ffcc00', verdict: 'fail' },
    ],
  },
  {
    name: 'the name of a group of options',
    source: 'HTML §4.10.9: optgroup label',
    html: `<select size="2" style="background:#fff;font-size:20px;color:${NAVY}"><optgroup label="Harbour" style="color:#c8c8c8"><option style="color:${NAVY}">Level</option></optgroup></select>`,
    expect: [
      { text: 'Harbour', color: '#c8c8c8', background: '#ffffff', verdict: 'fail' },
      { text: 'Level', color: NAVY, background: '#ffffff' },
    ],
  },
  {
    name: 'the chosen option in a button that the author drew',
    source: 'HTML: customizable select, selectedcontent',
    html: `<style>#ID,#ID::picker(select){appearance:base-select}</style><select id="ID" style="color:${NAVY};background:#fff"><button><selectedcontent></selectedcontent></button><option>Level</option></select>`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'a legend',
    source: 'HTML §15.3.13: rendered legend',
    html: `<fieldset style="margin:0"><legend style="color:${NAVY}">Berth</legend>Level</fieldset>`,
    expect: [
      { text: 'Berth', color: NAVY },
      { text: 'Level', color: '#000000' },
    ],
  },
  {
    name: 'a formula',
    source: 'MathML Core §2.1: inherits colour',
    html: `<math style="color:${NAVY};font-size:24px"><mrow><mi>height</mi><mo>=</mo><mtext style="color:#c8c8c8">level</mtext></mrow></math>`,
    expect: [
      { text: 'height', color: NAVY },
      { text: '=', color: NAVY },
      { text: 'level', color: '#c8c8c8', verdict: 'fail' },
    ],
  },
  {
    name: 'reading aids over their base',
    source: 'CSS Ruby 1',
    html: `<p style="margin:0;line-height:60px;font-size:32px"><ruby style="color:${NAVY}">Level<rp>(</rp><rt style="color:#c8c8c8">tide</rt><rp>)</rp></ruby></p>`,
    expect: [
      { text: 'Level', color: NAVY },
      { text: 'tide', color: '#c8c8c8', verdict: 'fail' },
    ],
  },
  {
    name: 'words in a list marker',
    source: `${INLINE} §4.2: content of ::marker`,
    html: `<style>#ID::marker{content:"Berth: ";color:${NAVY}}</style><ul style="margin:0;padding-left:120px"><li id="ID">Level</ul>`,
    expect: [
      { text: 'Level', color: '#000000' },
      { text: 'Berth:', color: NAVY },
    ],
  },
  {
    name: 'a counter in the marker of a bulleted list',
    source: `${INLINE} §4.2; CSS Lists 3 §4`,
    html: `<style>#ID{counter-reset:berth 6}#ID li{counter-increment:berth}#ID li::marker{content:"No " counter(berth) " ";color:${NAVY}}</style><ul id="ID" style="margin:0;padding-left:120px"><li>Level</ul>`,
    expect: [
      { text: 'Level', color: '#000000' },
      { text: 'No 7', color: NAVY },
    ],
  },
  {
    name: 'a string as list style',
    source: 'CSS Counter Styles 3 §6: <string>',
    html: `<style>#ID::marker{color:${NAVY}}</style><ul style="margin:0;padding-left:120px;list-style-type:'Buoy '"><li id="ID">Level</ul>`,
    expect: [
      { text: 'Level', color: '#000000' },
      { text: 'Buoy', color: NAVY },
    ],
  },
  {
    name: 'a first line and a first letter in colours of their own',
    source: `${INLINE} §2`,
    html: `<style>#ID::first-line{color:${NAVY}}#ID::first-letter{color:#c8c8c8}</style><p id="ID" style="margin:0">Level<br>Tide</p>`,
    expect: [
      { text: 'Level', color: '#c8c8c8', verdict: 'fail' },
      { text: 'Level', color: NAVY, verdict: 'pass' },
      { text: 'Tide', color: '#000000' },
    ],
  },
  {
    name: 'text from an attribute and a counter together',
    source: 'CSS Values 4 §7.7 attr(); CSS Lists 3 §4',
    html: `<style>#ID{counter-reset:n 3}#ID::after{content:attr(data-unit) " " counter(n);color:${NAVY}}</style><p id="ID" data-unit="Gauge" style="margin:0"></p>`,
    expect: [{ text: 'Gauge 3', color: NAVY }],
  },
  {
    name: 'the button of a file field',
    source: `${INLINE} §4.4`,
    html: `<style>#ID::file-selector-button{color:#fff;background:${NAVY};border:0;font-size:20px}</style><input id="ID" type="file" style="font-size:20px;color:#c8c8c8">`,
    expect: [
      { text: 'Choose', color: '#ffffff', background: NAVY },
      { text: 'No file', color: '#c8c8c8', background: '#ffffff', verdict: 'fail' },
    ],
  },
  {
    name: 'a date',
    source: 'HTML §4.10.5.1.7; its parts inherit the field’s colour',
    html: `<style>#ID::-webkit-calendar-picker-indicator{display:none}</style><input id="ID" type="date" value="2031-05-04" style="color:${NAVY};background:#fc0;font-size:20px;border:0">`,
    expect: [{ text: '2031-05-04', color: NAVY, background: '#ffcc00' }],
  },
  {
    name: 'a number',
    source: 'HTML §4.10.5.1.12',
    html: `<input type="number" value="24" style="color:${NAVY};background:#fc0;font-size:20px;border:0">`,
    expect: [{ text: '24', color: NAVY, background: '#ffcc00' }],
  },
  {
    name: 'words in place of a picture that could not be had',
    source: 'HTML §15.4.3: alternative text is rendered',
    html: `<img src="data:image/png;base64,AA==" alt="Level at the quay" style="color:${NAVY};font-size:20px">`,
    expect: [{ text: 'Level at', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'words in place of an object that could not be had',
    source: 'HTML §4.8.7: fallback content',
    html: `<object data="/nothing-here" type="image/png"><span style="color:${NAVY}">Level</span></object>`,
    expect: [{ text: 'Level', color: NAVY }],
  },
  {
    name: 'a style sheet that is shown',
    source: 'CSS Display 3: display none is but the browser’s rule',
    html: `<style style="display:block;color:${NAVY}">level</style>`,
    expect: [{ text: 'level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'drawn text by reference',
    source: 'SVG 2 §5.6: use',
    html: `<svg width="300" height="60"><defs><text id="ID" y="40" font-size="36" font-weight="700" fill="${NAVY}">Level</text></defs><use href="#ID" x="80"/></svg>`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'drawn text that nothing refers to is not seen',
    source: 'SVG 2 §5.5: defs',
    html: '<svg width="300" height="40"><defs><text y="25">Level</text></defs><text y="25">Tide</text></svg>',
    expect: [{ text: 'Tide' }],
  },
  {
    name: 'drawn text along a line',
    source: 'SVG 2 §11.8: textPath',
    html: `<svg width="400" height="60"><path id="ID" d="M10 40 L390 40" fill="none"/><text font-size="28" font-weight="700" fill="${NAVY}"><textPath href="#ID">Level</textPath></text></svg>`,
    expect: [{ text: 'Level', color: NAVY, background: '#ffffff' }],
  },
  {
    name: 'a cell made of bare text by script',
    source: 'CSS Tables 3 §3.2: anonymous boxes',
    html: `<table id="ID" style="color:${NAVY};border-spacing:0"></table><script>document.getElementById("ID").append("Level")</script>`,
    expect: [{ text: 'Level', color: NAVY }],
  },
  {
    name: 'a button in the first legend of a disabled group stays enabled',
    source: 'HTML §4.10.15: not the descendants of its first legend',
    html: '<fieldset disabled style="margin:0"><legend><button style="color:#bbb;background:#fff">Moor</button></legend><button style="color:#bbb">Cast off</button></fieldset>',
    expect: [
      { text: 'Moor', color: '#bbbbbb', background: '#ffffff', verdict: 'fail' },
      { text: 'Cast off', verdict: 'exempt', exempt: 'inactive' },
    ],
  },
  {
    name: 'a second legend is no exception',
    source: 'HTML §4.10.15: first legend element child',
    html: '<fieldset disabled style="margin:0"><legend>Berth</legend><legend><button style="color:#bbb">Moor</button></legend></fieldset>',
    expect: [
      { text: 'Berth', verdict: 'pass' },
      { text: 'Moor', verdict: 'exempt', exempt: 'inactive' },
    ],
  },
  {
    name: 'the first legend of a group inside a disabled group',
    source: 'HTML §4.10.15: any disabled ancestor counts',
    html: '<fieldset disabled style="margin:0"><fieldset><legend><button style="color:#bbb">Moor</button></legend></fieldset></fieldset>',
    expect: [{ text: 'Moor', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'text slotted into a disabled custom element',
    source: `${INCIDENTAL}: inactive component; the attribute of form controls: common practice`,
    html: `<harbour-chip id="ID" disabled style="color:#c8c8c8">Moor</harbour-chip>${tree('<span><slot></slot></span>')}`,
    expect: [{ text: 'Moor', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'the label in the shadow tree of a disabled custom element',
    source: `${INCIDENTAL}: inactive component`,
    html: `<harbour-field id="ID" aria-disabled="true" style="color:#c8c8c8"></harbour-field>${tree('<label>Berth</label>')}`,
    expect: [{ text: 'Berth', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'text slotted into a disabled button of a shadow tree',
    source: `${INCIDENTAL}: inactive component; flat tree`,
    html: `<harbour-key id="ID" style="color:#c8c8c8">Moor</harbour-key>${tree('<button disabled style="color:inherit"><slot></slot></button>')}`,
    expect: [{ text: 'Moor', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'text slotted into a custom element that is not disabled',
    source: INCIDENTAL,
    html: `<harbour-chip id="ID" style="color:#c8c8c8">Moor</harbour-chip>${tree('<span><slot></slot></span>')}`,
    expect: [{ text: 'Moor', color: '#c8c8c8', verdict: 'fail' }],
  },
  {
    name: 'the current entry of a menu leads nowhere and is judged',
    source: 'WAI-ARIA 1.2 aria-current: it is what is shown',
    html: '<nav><a aria-current="page" style="color:#c8c8c8;pointer-events:none">Tides</a></nav>',
    expect: [{ text: 'Tides', color: '#c8c8c8', verdict: 'fail' }],
  },
  {
    name: 'so is one that is marked as active by its name',
    source: 'common practice',
    html: '<ul style="margin:0;list-style:none"><li class="page-item active"><a style="color:#c8c8c8;pointer-events:none">Tides</a></li></ul>',
    expect: [{ text: 'Tides', color: '#c8c8c8', verdict: 'fail' }],
  },
  {
    name: 'a faded placeholder',
    source: `${INLINE} §4.3: black .4 on white is 153`,
    html: '<style>#ID::placeholder{color:rgb(0 0 0/.4)}</style><textarea id="ID" placeholder="Berth" style="font-size:20px;resize:none"></textarea>',
    expect: [{ text: 'Berth', color: codes(153, 153, 153), background: '#ffffff', verdict: 'fail' }],
  },
];
