import { testCases } from './judge-cases.ts';

// Each place has a colour of its own: places of one colour are reported once.
// Expected verdicts: the worked cases of the rule (tests/checks/neon.test.ts, tests/tables/colour/neon-swatches.ts), laid out as a page would.
const block = (style: string, text = ''): string => `<div style="${style}">${text}</div>`;
const badges = (n: number): string => Array.from({ length: n }, () => '<span class="b">ok</span>').join(' ');

testCases({
  check: 'neon',
  fires: [
    { name: 'a banner in pure cyan', html: block('height:48px;background:#00e5ff') },
    { name: 'a strip in pure green', html: block('width:600px;height:40px;background:#39ff14') },
    { name: 'a header in pure blue, though its contrast ratio is low', html: block('height:120px;background:#0000ff') },
    { name: 'a banner in violet, as much as sRGB holds at that lightness', html: block('height:72px;background:#a664fe') },
    { name: 'a banner in light green', html: block('height:72px;background:#4ade80') },
    { name: 'a banner in light pink', html: block('height:72px;background:#f472b6') },
    { name: 'a chip of 88 × 32', html: block('width:88px;height:32px;background:#ff00b4') },
    {
      name: 'a button that got brighter in the dark',
      html: '<button>Book</button>',
      css: 'button{width:140px;height:40px;border:0;background:#e65100;color:#fff}',
      dusk: 'button{background:#ff6d00}',
    },
    {
      name: 'an alarm tile',
      html: block('width:300px;height:120px', ''),
      css: 'div{background:#d50000}',
      dusk: 'div{background:#ff1744}',
    },
    {
      name: 'a card on a mid-dark panel',
      html: `<div class="p">${block('width:240px;height:90px;background:#ff3d7f')}</div>`,
      css: '.p{padding:40px;background:#f2f4f7}',
      dusk: '.p{background:#3a3f47}',
    },
    {
      name: 'fourteen badges of one colour',
      html: badges(14),
      css: '.b{display:inline-block;width:56px;height:18px;background:#00c853}',
      dusk: '.b{background:#00e67f}',
    },
    { name: 'a drawer', html: block('width:260px;height:300px'), css: 'div{background:#651fff}', dusk: 'div{background:#7c4dff}' },
    { name: 'a gradient saturated from end to end', html: block('height:60px;background:linear-gradient(90deg,#00e5ff,#00c8ff)') },
    {
      name: 'a generated bar',
      html: '<div class="p"></div>',
      css: '.p::before{content:"";display:block;width:400px;height:40px;background:#45ff14}',
    },
    { name: 'a nearly opaque layer', html: block('height:48px;background:rgb(0 229 255 / .92)') },
    { name: 'a wide-gamut colour', html: block('width:300px;height:60px;background:color(display-p3 1 0 0.6)') },
    {
      name: 'a table row',
      html: '<table><tr><td>4.1 m</td><td>rising</td></tr></table>',
      css: 'table{width:100%;border-collapse:collapse}tr{background:#00eaff;height:40px}',
    },
    {
      name: 'a submit button',
      html: '<input type="submit" value="Send">',
      css: 'input{width:160px;height:44px;border:0;background:#00e66d;color:#000}',
    },
    {
      name: 'a link that looks like a button',
      html: '<a href="#x">Open the lock</a>',
      css: 'a{display:inline-block;padding:12px 40px;background:#ff00aa;color:#fff}',
    },
    {
      name: 'a panel in a shadow tree',
      html: '<div><template shadowrootmode="open"><div style="height:48px;background:#00dcff"></div></template></div>',
    },
    {
      name: 'a banner that a filter saturates',
      html: block('height:48px;background:#d0326a', ''),
      dusk: 'div{filter:saturate(2.2) brightness(1.15)}',
    },
  ],
  silent: [
    {
      name: 'a fill as strong in the reference theme',
      html: block('width:120px;height:40px'),
      css: 'div{background:#0550ae}',
      dusk: 'div{background:#1f6feb}',
    },
    { name: 'one small badge', html: badges(1), css: '.b{display:inline-block;width:56px;height:18px;background:#ff6d00}' },
    { name: 'a status dot', html: block('width:10px;height:10px;border-radius:5px;background:#00e676') },
    { name: 'a thin level bar', html: block('width:400px;height:6px;background:#00e5ff') },
    {
      name: 'a muted button',
      html: '<button>Take</button>',
      css: 'button{width:140px;height:40px;border:0;background:#00838f;color:#fff}',
      dusk: 'button{background:#0b5d6b}',
    },
    {
      name: 'a dark burgundy',
      html: block('width:140px;height:40px'),
      css: 'div{background:#b71c1c}',
      dusk: 'div{background:#7a1f2b}',
    },
    {
      name: 'primary buttons of ordinary size',
      html: '<button>Book</button> <button>Moor</button> <button>Pay</button> <button>Leave</button>',
      css: 'button{width:140px;height:40px;border:0;color:#fff;background:#2563eb}button:nth-child(2){background:#7c3aed}button:nth-child(3){background:#16a34a}button:nth-child(4){background:#dc2626}',
    },
    { name: 'a blue link', html: '<p><a href="#x" style="color:#58a6ff">Tide table of the north quay</a></p>' },
    { name: 'a dark green', html: block('width:140px;height:40px;background:#2e7d32') },
    { name: 'a softened banner', html: block('height:48px'), css: 'div{background:#00b8d4}', dusk: 'div{background:#2b7f8c}' },
    { name: 'a pastel tile', html: block('width:300px;height:120px;background:#9fe8d8') },
    {
      name: 'a rail that is dark in both themes',
      html: `<div style="padding:40px;background:#10151c">${block('width:64px;height:200px;background:#00e5ff')}</div>`,
    },
    {
      name: 'a chip on grey',
      html: `<div class="p">${block('width:240px;height:90px;background:#ff3d7f')}</div>`,
      css: '.p{padding:40px;background:#f2f4f7}',
      dusk: '.p{background:#5a6068}',
    },
    { name: 'a photo', html: '<img data-photo alt="quay" width="240" height="160">' },
    {
      name: 'a chart',
      html: '<svg width="400" height="120" role="img" aria-label="level"><rect width="400" height="120" fill="#00e5ff"/></svg>',
    },
    { name: 'a drawn chart', html: '<canvas width="400" height="120" data-draw="#39ff14"></canvas>' },
    {
      name: 'bars of a diagram',
      html: `<div role="img" aria-label="levels">${block('width:400px;height:30px;background:#00e5ff')}</div>`,
    },
    {
      name: 'a progress bar',
      html: `<div role="progressbar" aria-valuenow="70">${block('width:400px;height:20px;background:#39ff14')}</div>`,
    },
    { name: 'text alone', html: '<p style="font-size:40px;color:#00e5ff">4.12 m</p>' },
    { name: 'a border alone', html: block('width:300px;height:80px;border:3px solid #00e5ff') },
    { name: 'an outline alone', html: block('width:300px;height:80px;outline:3px solid #39ff14') },
    {
      name: 'a saturated fill on a panel that stays white',
      html: `<div style="padding:40px;background:#fff">${block('width:200px;height:60px;background:#ff00aa')}</div>`,
    },
    { name: 'a gradient that is mostly dark', html: block('height:60px;background:linear-gradient(90deg,#121212 70%,#00e5ff)') },
  ],
});
