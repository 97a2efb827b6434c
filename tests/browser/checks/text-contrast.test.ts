import { testCases } from './judge-cases.ts';

// Expected verdicts: WCAG 2.2 SC 1.4.3 with its definitions; colours on the dark page #121212 (Y .00605) or as written.
testCases({
  check: 'text-contrast',
  fires: [
    { name: 'grey on the page', html: '<p style="color:#6b6b6b">Quay</p>' },
    { name: 'just below 4.5 on white', html: '<p style="background:#fff;color:#777">Quay</p>' },
    { name: 'just below 4.5 on black', html: '<p style="background:#000;color:#747474">Quay</p>' },
    { name: 'large text below 3', html: '<h2 style="font-size:32px;color:#555">Quay</h2>' },
    {
      name: 'bold but too small to be large',
      html: '<p style="background:#fff;color:#8a8a8a;font-size:18px;font-weight:700">Quay</p>',
    },
    { name: 'translucent ink', html: '<p style="background:#0b3d4f;color:rgb(255 255 255 / .4)">Quay</p>' },
    { name: 'a faded group', html: '<div style="opacity:.4"><p>Quay</p></div>' },
    { name: 'on a translucent layer', html: '<div style="background:rgb(255 255 255 / .5)"><p style="color:#ddd">Quay</p></div>' },
    {
      name: 'on part of a gradient',
      html: '<p style="background:linear-gradient(90deg,#000,#fff);color:#fff;width:400px">Quay four is open until the evening tide</p>',
    },
    {
      name: 'a placeholder',
      html: '<input placeholder="Vessel" style="background:#fff">',
      css: 'input::placeholder{color:#b5b5b5}',
    },
    { name: 'generated text', html: '<p class="g"></p>', css: '.g::before{content:"Rising";color:#444}' },
    { name: 'a link in a paragraph', html: '<p>See <a href="#x" style="color:#1a4fa3">the notice</a></p>' },
    { name: 'a button', html: '<button style="border:0;background:#e8a33d;color:#fff">Book</button>' },
    { name: 'text in an svg', html: '<svg width="200" height="40"><text y="24" fill="#444">4.1 m</text></svg>' },
    { name: 'ink equal to its background', html: '<p style="color:#121212">Quay</p>' },
    { name: 'under a filter', html: '<div style="filter:brightness(.35)"><p>Quay</p></div>' },
  ],
  silent: [
    { name: 'ink on the page', html: '<p>Quay</p>' },
    { name: 'just enough on white', html: '<p style="background:#fff;color:#767676">Quay</p>' },
    { name: 'just enough on black', html: '<p style="background:#000;color:#757575">Quay</p>' },
    { name: 'large text above 3', html: '<h2 style="background:#fff;font-size:32px;color:#949494">Quay</h2>' },
    { name: 'bold and large', html: '<p style="background:#fff;color:#8a8a8a;font-size:19px;font-weight:700">Quay</p>' },
    { name: 'a disabled button', html: '<button disabled style="border:0;background:#333;color:#555">Book</button>' },
    {
      name: 'the label of a disabled field',
      html: '<label for="case-label-x" style="color:#444">Vessel</label><input id="case-label-x" disabled>',
    },
    { name: 'hidden from view', html: '<p style="visibility:hidden;color:#222">Quay</p>' },
    {
      name: 'for screen readers only',
      html: '<p style="position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);color:#222">Quay</p>',
    },
    {
      name: 'covered by a panel',
      html: '<div style="position:relative;height:60px"><p style="color:#222">Quay</p><div style="position:absolute;inset:0;background:#fff"></div></div>',
    },
    { name: 'white on a dark gradient', html: '<p style="background:linear-gradient(90deg,#000,#345);color:#fff">Quay</p>' },
    {
      name: 'on a layer that helps',
      html: '<div style="background:#fff"><p style="background:rgb(0 0 0 / .8);color:#fff">Quay</p></div>',
    },
    { name: 'closed details', html: '<details><summary>More</summary><p style="color:#222">Quay</p></details>' },
    {
      name: 'a multiplied layer',
      html: '<div style="background:#fff;isolation:isolate"><p style="background:#0b5d6b;mix-blend-mode:multiply;color:#fff">Quay</p></div>',
    },
    {
      name: 'a placeholder strong enough',
      html: '<input placeholder="Vessel" style="background:#fff">',
      css: 'input::placeholder{color:#666}',
    },
    { name: 'blank text', html: '<p style="color:#121212"> &nbsp; </p>' },
  ],
});
