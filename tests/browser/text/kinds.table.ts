// Kinds of text: generated, in controls, in drawings, in shadow trees and frames; what is exempt.
import type { Case } from './case.ts';
import { codes } from './case.ts';

const PSEUDO = 'CSS Pseudo-Elements 4';
const RENDERING = 'HTML §15 Rendering (form controls), CSS Color 4 §6.2 system colours';
const INCIDENTAL = 'WCAG 2.2 SC 1.4.3 "Incidental"';

export const KINDS: readonly Case[] = [
  {
    name: 'text before an element is judged in its own colour',
    source: `${PSEUDO} §3.1`,
    html: '<style>#ID::before{content:"Now ";color:#0b3d4f}</style><p id="ID">rising</p>',
    expect: [
      { text: 'rising', color: '#000000', background: '#ffffff' },
      { text: 'Now', color: '#0b3d4f', background: '#ffffff' },
    ],
  },
  {
    name: 'text after an element lies on the background of its own',
    source: `${PSEUDO} §3.1`,
    html: '<style>#ID::after{content:"new";color:#fff;background:#0b3d4f;padding:0 4px;margin-left:8px}</style><p id="ID">Level</p>',
    expect: [
      { text: 'Level', color: '#000000', background: '#ffffff' },
      { text: 'new', color: '#ffffff', background: '#0b3d4f' },
    ],
  },
  {
    name: 'text from an attribute is judged',
    source: 'CSS Values 4 §7.7: attr()',
    html: '<style>#ID::before{content:attr(data-level);color:#0b3d4f}</style><p id="ID" data-level="2.4 m"></p>',
    expect: [{ text: '2.4 m', color: '#0b3d4f', background: '#ffffff' }],
  },
  {
    name: 'counted numbers are judged',
    source: 'CSS Lists 3 §4: counter()',
    html: '<style>#ID{counter-reset:berth 6}#ID::before{counter-increment:berth;content:"Berth " counter(berth);color:#0b3d4f}</style><p id="ID"></p>',
    expect: [{ text: 'Berth 7', color: '#0b3d4f' }],
  },
  {
    name: 'a translucent pseudo-element is mixed',
    source: 'source-over: black .5 on white',
    html: '<style>#ID::before{content:"Level";opacity:.5}</style><p id="ID"></p>',
    expect: [{ text: 'Level', color: codes(127.5, 127.5, 127.5), background: '#ffffff' }],
  },
  {
    name: 'the number of a list item is judged in the colour of the marker',
    source: `${PSEUDO} §4.2`,
    html: '<style>#ID::marker{color:#0b3d4f}</style><ol style="margin:0;padding-left:40px"><li id="ID">Level</li></ol>',
    expect: [
      { text: 'Level', color: '#000000' },
      { text: '1.', color: '#0b3d4f', background: '#ffffff' },
    ],
  },
  {
    name: 'bullets are graphics',
    source: 'CSS Counter Styles 3 §6.2',
    html: '<ul style="margin:0"><li>Level</li></ul>',
    expect: [{ text: 'Level' }],
  },
  {
    name: 'separators drawn between links are decoration',
    source: `${INCIDENTAL}: symbols alone say nothing`,
    html: '<style>#ID::after{content:" / ";color:#ccc}</style><p><a id="ID">Harbour</a></p>',
    expect: [
      { text: 'Harbour', verdict: 'pass' },
      { text: '/', verdict: 'exempt', exempt: 'decoration', color: '#cccccc' },
    ],
  },
  {
    name: 'generated text with an empty alternative is decoration',
    source: `${INCIDENTAL}; CSS Content 3 §2.4`,
    html: '<style>#ID::before{content:"new" / "";color:#ccc}</style><p id="ID">Level</p>',
    expect: [
      { text: 'Level', verdict: 'pass' },
      { text: 'new', verdict: 'exempt', exempt: 'decoration' },
    ],
  },
  {
    name: 'the first letter may have another colour: both are judged',
    source: `${PSEUDO} §2.2`,
    html: '<style>#ID::first-letter{color:#e8a33d}</style><p id="ID">Level</p>',
    expect: [
      { text: 'Level', color: '#e8a33d', background: '#ffffff', verdict: 'fail' },
      { text: 'Level', color: '#000000', background: '#ffffff', verdict: 'pass' },
    ],
  },
  {
    name: 'the first line may have another colour: both are judged',
    source: `${PSEUDO} §2.1`,
    html: '<style>#ID::first-line{color:#e8a33d}</style><p id="ID" style="margin:0">Level<br>Tide</p>',
    expect: [
      { text: 'Level', color: '#e8a33d', verdict: 'fail' },
      { text: 'Tide', color: '#000000', verdict: 'pass' },
    ],
  },
  {
    name: 'one node over two lines is split where the first line is coloured',
    source: `${PSEUDO} §2.1`,
    html: '<style>#ID::first-line{color:#e8a33d}</style><p id="ID" style="margin:0;width:80px">Level falling</p>',
    expect: [
      { text: 'Level', color: '#e8a33d', verdict: 'fail' },
      { text: 'Level', color: '#000000', verdict: 'pass' },
    ],
  },
  {
    name: 'the value of a field is judged',
    source: RENDERING,
    html: '<input style="color:#0b3d4f;background:#fc0;font-size:20px" value="Level">',
    expect: [{ text: 'Level', color: '#0b3d4f', background: '#ffcc00' }],
  },
  {
    name: 'the browser’s own field colours are judged',
    source: `${RENDERING}: Field white, FieldText black`,
    html: '<input value="Level">',
    expect: [{ text: 'Level', color: '#000000', background: '#ffffff', verdict: 'pass' }],
  },
  {
    name: 'the browser’s own placeholder passes',
    source: 'Chromium’s default #757575 (measured): 4.6075 on white',
    html: '<input placeholder="Berth">',
    expect: [{ text: 'Berth', color: '#757575', background: '#ffffff', verdict: 'pass', min: [4.6, 4.61] }],
  },
  {
    name: 'a pale placeholder fails',
    source: `${PSEUDO} §4.3; WCAG 2.2 SC 1.4.3 covers placeholders`,
    html: '<style>#ID::placeholder{color:#bbb}</style><input id="ID" placeholder="Berth">',
    expect: [{ text: 'Berth', color: '#bbbbbb', background: '#ffffff', verdict: 'fail' }],
  },
  {
    name: 'opacity of a placeholder counts',
    source: `${PSEUDO} §4.3: black .5 on white`,
    html: '<style>#ID::placeholder{color:#000;opacity:.5}</style><input id="ID" placeholder="Berth" style="font-size:24px;font-weight:700">',
    expect: [{ text: 'Berth', color: codes(127.5, 127.5, 127.5), background: '#ffffff' }],
  },
  {
    name: 'a field with a picture behind its text is measured from pixels',
    source: 'source-over: black .5 on #fc0 = 127.5 102 0',
    html: '<input value="Level" style="border:0;font-size:20px;color:#fff;background:linear-gradient(rgb(0 0 0/.5),rgb(0 0 0/.5)) #fc0">',
    expect: [{ text: 'Level', color: '#ffffff', background: codes(127.5, 102, 0) }],
  },
  {
    name: 'a field inside an inverting filter is measured from pixels',
    source: 'Filter Effects 1 §8: 255 − v',
    html: '<div style="filter:invert(1)"><input value="Level" style="border:0;font-size:20px;color:#123456;background:#fc0"></div>',
    expect: [{ text: 'Level', color: '#edcba9', background: '#0033ff' }],
  },
  {
    name: 'a text area is judged',
    source: RENDERING,
    html: '<textarea style="color:#0b3d4f;background:#fc0">Level</textarea>',
    expect: [{ text: 'Level', color: '#0b3d4f', background: '#ffcc00' }],
  },
  {
    name: 'the chosen option of a list box is judged',
    source: RENDERING,
    html: '<select style="color:#0b3d4f;background:#fc0;font-size:20px"><option>Level</option><option>Tide</option></select>',
    expect: [{ text: 'Level', color: '#0b3d4f', background: '#ffcc00' }],
  },
  {
    name: 'a styled list box with a drawn arrow is judged',
    source: RENDERING,
    html: '<select style="appearance:none;border:0;padding:4px 40px 4px 8px;color:#0b3d4f;background:linear-gradient(#000,#000) right/20px 20px no-repeat #fc0;font-size:20px"><option>Level</option></select>',
    expect: [{ text: 'Level', color: '#0b3d4f', background: '#ffcc00' }],
  },
  {
    name: 'the browser’s own buttons are judged',
    source: `${RENDERING}: ButtonFace #efefef, ButtonText black`,
    html: '<input type="button" value="Moor">',
    expect: [{ text: 'Moor', color: '#000000', background: '#efefef', verdict: 'pass' }],
  },
  {
    name: 'a submit button without a value has a label',
    source: 'HTML §4.10.5.1.18',
    html: '<input type="submit" style="background:#0b3d4f;color:#fff;border:0">',
    expect: [{ text: 'Submit', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'text in a button element is judged',
    source: RENDERING,
    html: '<button style="background:#0b3d4f;color:#fff;border:0">Moor</button>',
    expect: [{ text: 'Moor', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'the button of a file field is judged apart from its text',
    source: `${PSEUDO} §4.4: ::file-selector-button`,
    html: '<style>#ID::file-selector-button{background:#0b3d4f;color:#fff;border:0;padding:4px 10px}</style><input type="file" id="ID" style="color:#e8a33d;font-size:18px">',
    expect: [
      { text: 'Choose', color: '#ffffff', background: '#0b3d4f', verdict: 'pass' },
      { text: 'No file', color: '#e8a33d', background: '#ffffff', verdict: 'fail' },
    ],
  },
  {
    name: 'a date is judged',
    source: RENDERING,
    html: '<input type="date" value="2031-04-05" style="color:#0b3d4f;background:#fc0;border:0;font-size:20px">',
    expect: [{ color: '#0b3d4f', background: '#ffcc00' }],
  },
  {
    name: 'a number is judged',
    source: RENDERING,
    html: '<input type="number" value="24" style="color:#0b3d4f;background:#fc0;border:0;font-size:20px">',
    expect: [{ text: '24', color: '#0b3d4f', background: '#ffcc00' }],
  },
  {
    name: 'hidden words of a password are judged as dots',
    source: RENDERING,
    html: '<input type="password" value="secret" style="color:#0b3d4f;background:#fc0;border:0;font-size:20px">',
    expect: [{ text: '•', color: '#0b3d4f', background: '#ffcc00' }],
  },
  {
    name: 'check boxes, sliders and colours have no text',
    source: 'HTML §4.10.5.1',
    html: '<input type="checkbox"><input type="radio"><input type="range"><input type="color">',
    expect: [],
  },
  {
    name: 'options of an open list are judged',
    source: RENDERING,
    html: '<select size="2" style="font-size:18px;color:#0b3d4f;background:#fc0"><option>Level</option><option>Tide</option></select>',
    expect: [
      { text: 'Level', color: '#0b3d4f', background: '#ffcc00' },
      { text: 'Tide', color: '#0b3d4f', background: '#ffcc00' },
    ],
  },
  {
    name: 'a disabled field is exempt',
    source: `${INCIDENTAL}: inactive component`,
    html: '<input disabled value="Level" style="color:#ccc">',
    expect: [{ text: 'Level', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'a disabled button is exempt',
    source: `${INCIDENTAL}: inactive component`,
    html: '<button disabled>Moor</button>',
    expect: [{ verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'the label of a disabled field is exempt',
    source: `${INCIDENTAL}: inactive component, its label`,
    html: '<label style="color:#ccc">Berth <input disabled></label>',
    expect: [{ text: 'Berth', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'a label that points to a disabled field is exempt',
    source: `${INCIDENTAL}: inactive component, its label`,
    html: '<label for="ID" style="color:#ccc">Berth</label><input id="ID" disabled>',
    expect: [{ text: 'Berth', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'the label of an active field is not exempt',
    source: INCIDENTAL,
    html: '<label style="color:#ccc">Berth <input></label>',
    expect: [{ text: 'Berth', verdict: 'fail' }],
  },
  {
    name: 'all controls of a disabled group are exempt',
    source: 'HTML §4.10.15: disabled fieldset',
    html: '<fieldset disabled style="margin:0"><button style="color:#bbb">Moor</button></fieldset>',
    expect: [{ text: 'Moor', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'what is marked as disabled is exempt',
    source: 'WAI-ARIA 1.2 aria-disabled',
    html: '<div role="button" aria-disabled="true" style="color:#ccc">Moor</div>',
    expect: [{ text: 'Moor', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'a link without an address that takes no pointer is exempt',
    source: `${INCIDENTAL}: inactive component; HTML §4.6.1: a without href is a placeholder for a link`,
    html: '<a style="color:#ccc;pointer-events:none">Next page</a>',
    expect: [{ text: 'Next', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'a link without an address that takes the pointer, and one that has an address, are judged',
    source: INCIDENTAL,
    html: '<a style="color:#ccc">Next page</a> <b><a href="#x" style="color:#ccc;pointer-events:none">Log</a></b>',
    expect: [
      { text: 'Next', verdict: 'fail' },
      { text: 'Log', verdict: 'fail' },
    ],
  },
  {
    name: 'inert content is exempt',
    source: 'HTML §6.3: inert',
    html: '<div inert style="color:#ccc">Moor</div>',
    expect: [{ text: 'Moor', verdict: 'exempt', exempt: 'inactive' }],
  },
  {
    name: 'text hidden from readers is judged: eyes see it',
    source: 'WAI-ARIA 1.2 aria-hidden says nothing about sight',
    html: '<p aria-hidden="true" style="color:#ccc">Level</p>',
    expect: [{ text: 'Level', verdict: 'fail' }],
  },
  {
    name: 'text of a drawing has its fill',
    source: 'SVG 2 §13.2',
    html: '<svg width="200" height="40"><text y="25" font-size="20" fill="#0b3d4f">Level</text></svg>',
    expect: [{ text: 'Level', color: '#0b3d4f', background: '#ffffff' }],
  },
  {
    name: 'text of a drawing lies on the shape beneath',
    source: 'SVG 2 §3.4',
    html: '<svg width="200" height="60"><rect width="200" height="60" fill="#0b3d4f"/><text x="20" y="35" font-size="20" fill="#fff">Level</text></svg>',
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'fill opacity mixes the ink',
    source: 'SVG 2 §13.4: black .5 on #fc0 = 127.5 102 0',
    html: '<svg width="200" height="60"><rect width="200" height="60" fill="#fc0"/><text x="20" y="40" font-size="24" font-weight="700" fill-opacity=".5">Level</text></svg>',
    expect: [{ text: 'Level', color: codes(127.5, 102, 0), background: '#ffcc00' }],
  },
  {
    name: 'currentColor in a drawing is the colour of the text around',
    source: 'SVG 2 §13.2',
    html: '<div style="color:#0b3d4f"><svg width="200" height="40"><text y="25" font-size="20" fill="currentColor">Level</text></svg></div>',
    expect: [{ text: 'Level', color: '#0b3d4f' }],
  },
  {
    name: 'a span inside drawn text has its own fill',
    source: 'SVG 2 §11.2',
    html: '<svg width="200" height="40"><text y="25" font-size="20">Level <tspan fill="#e8a33d">falling</tspan></text></svg>',
    expect: [
      { text: 'Level', color: '#000000' },
      { text: 'falling', color: '#e8a33d', verdict: 'fail' },
    ],
  },
  {
    name: 'drawn text filled with a gradient of one colour',
    source: 'SVG 2 §13.2, paint servers',
    html: '<svg width="300" height="60"><defs><linearGradient id="ID"><stop stop-color="#0b3d4f"/><stop offset="1" stop-color="#0b3d4f"/></linearGradient></defs><text y="40" font-size="36" font-weight="700" fill="url(#ID)">Level</text></svg>',
    expect: [{ text: 'Level', color: '#0b3d4f', background: '#ffffff' }],
  },
  {
    name: 'drawn text is as large as its drawing shows it',
    source: 'SVG 2 §8.2: viewBox 100 on 300 px scales by 3, 10·3 = 30',
    html: '<svg width="300" height="60" viewBox="0 0 100 20"><text y="15" font-size="10" fill="#949494">Level</text></svg>',
    expect: [{ text: 'Level', fontSize: 30, large: true, verdict: 'pass' }],
  },
  {
    name: 'HTML inside a drawing is judged',
    source: 'SVG 2 §12.4: foreignObject',
    html: '<svg width="200" height="60"><foreignObject width="200" height="60"><p style="margin:0;color:#fff;background:#0b3d4f">Level</p></foreignObject></svg>',
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'text in a drawing around a photo is part of a picture',
    source: `${INCIDENTAL}: part of a picture with significant other content`,
    html: '<svg width="200" height="60"><image width="200" height="60" href="data:image/png;base64,iVBORw0KGgo="/><text y="30" fill="#ddd">Quay</text></svg>',
    expect: [{ text: 'Quay', verdict: 'exempt', exempt: 'decoration' }],
  },
  {
    name: 'words kept in a drawing’s title are not seen',
    source: 'SVG 2 §5.8',
    html: '<svg width="200" height="40"><title>Chart</title><desc>of tides</desc><text y="25">Level</text></svg>',
    expect: [{ text: 'Level' }],
  },
  {
    name: 'text of an open shadow tree lies on what is there',
    source: 'CSS Scoping 1: flat tree',
    html: '<div id="ID"></div><script>document.getElementById("ID").attachShadow({mode:"open"}).innerHTML=`<style>p{background:#0b3d4f;color:#fff;margin:0}</style><p>Level</p>`</script>',
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'slotted text lies on what its slot lies on',
    source: 'CSS Scoping 1: flat tree',
    html: '<div id="ID"><span style="color:#fff">Level</span></div><script>document.getElementById("ID").attachShadow({mode:"open"}).innerHTML=`<div style="background:#0b3d4f"><slot></slot></div>`</script>',
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'bare text that is slotted is judged too',
    source: 'CSS Scoping 1: flat tree',
    html: '<div id="ID">Level</div><script>document.getElementById("ID").attachShadow({mode:"open"}).innerHTML=`<div style="background:#0b3d4f;color:#fff"><slot></slot></div>`</script>',
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'what no slot takes is not seen',
    source: 'CSS Scoping 1: unslotted children are not rendered',
    html: '<div id="ID">Level<span>Tide</span></div><script>document.getElementById("ID").attachShadow({mode:"open"}).innerHTML=`<p style="margin:0">Height</p>`</script>',
    expect: [{ text: 'Height' }],
  },
  {
    name: 'a shadow tree in a shadow tree, filtered',
    source: 'CSS Scoping 1, Filter Effects 1 §8',
    html: '<div id="ID" style="filter:invert(1)"></div><script>{const a=document.getElementById("ID").attachShadow({mode:"open"});a.innerHTML="<div></div>";a.firstChild.attachShadow({mode:"open"}).innerHTML=`<p style="margin:0;background:#fc0;color:#123456">Level</p>`}</script>',
    expect: [{ text: 'Level', color: '#edcba9', background: '#0033ff' }],
  },
  {
    name: 'a frame of the same origin is judged where it is shown',
    source: 'HTML §4.8.5: srcdoc',
    html: `<iframe style="border:3px solid;width:300px;height:60px;padding:5px" srcdoc="<body style='margin:0;background:#0b3d4f;color:#fff'>Level"></iframe>`,
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a transparent frame shows what lies behind',
    source: 'CSS Color Adjust 1 §2.4: same scheme, no canvas of its own',
    html: `<div style="background:#0b3d4f"><iframe style="border:0;width:300px;height:60px" srcdoc="<body style='margin:0;color:#fff'>Level"></iframe></div>`,
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a frame inside a filter is measured from pixels',
    source: 'Filter Effects 1 §8',
    html: `<div style="filter:invert(1)"><iframe style="border:0;width:300px;height:60px" srcdoc="<body style='margin:0;background:#fc0;color:#123456'>Level"></iframe></div>`,
    expect: [{ text: 'Level', color: '#edcba9', background: '#0033ff' }],
  },
  {
    name: 'text that may be edited is judged',
    source: 'HTML §6.8.1',
    html: '<p contenteditable style="color:#0b3d4f">Level</p>',
    expect: [{ text: 'Level', color: '#0b3d4f' }],
  },
  {
    name: 'reading aids are judged apart from what they stand over',
    source: 'CSS Ruby 1',
    html: '<p style="line-height:50px;margin:0"><ruby>Level<rt style="color:#bbb">tide</rt></ruby></p>',
    expect: [
      { text: 'Level', verdict: 'pass' },
      { text: 'tide', verdict: 'fail', color: '#bbbbbb' },
    ],
  },
  {
    name: 'an open fold shows summary and content',
    source: 'HTML §4.11.1',
    html: '<details open><summary>Tides</summary>Level</details>',
    expect: [{ text: 'Tides' }, { text: 'Level' }],
  },
  {
    name: 'a legend lies on the group’s surroundings',
    source: 'HTML §15.3.13',
    html: '<fieldset style="margin:10px 0 0;border:2px solid #000"><legend>Berth</legend></fieldset>',
    expect: [{ text: 'Berth', color: '#000000', background: '#ffffff', min: [21, 21] }],
  },
];
