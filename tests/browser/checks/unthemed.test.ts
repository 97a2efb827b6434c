import { testCases } from './judge-cases.ts';

// Expected verdicts by the words of the check: a literal that stayed while what surrounds it changed theme, and shows it.
const box = (text = 'Almanac', more = ''): string => `<div class="s" style="width:300px;height:90px;${more}">${text}</div>`;
const BELL =
  '<svg class="i" width="20" height="20" viewBox="0 0 20 20" fill="none" stroke-width="1.6"><path d="M5 14V9a5 5 0 0 1 10 0v5l1.5 1.5h-13z"/></svg>';
const FLAT = 'button{border:0;background:none;padding:8px}';

testCases({
  check: 'unthemed',
  fires: [
    { name: 'a white panel', html: box(), css: '.s{background:#fff;color:#111}' },
    { name: 'a cream callout', html: box(), css: '.s{background:#fdf8e7;color:#222}' },
    { name: 'a pastel callout', html: box(), css: '.s{background:#e3f4f7;color:#123}' },
    {
      name: 'a panel on a card',
      html: `<div style="padding:40px;background:var(--face)">${box()}</div>`,
      css: '.s{background:#f4f6f7;color:#222}',
    },
    {
      name: 'a frame that stays white',
      html: `<iframe title="Log" style="width:300px;height:90px;border:0" srcdoc="<html style='background:#fff;color:#111'><p>Log of the pier</p>"></iframe>`,
    },
    {
      name: 'a frame whose body stays white',
      html: `<iframe title="Log" style="width:300px;height:90px;border:0" srcdoc="<body style='background:#fff;color:#111'><p>Log of the pier</p>"></iframe>`,
    },
    {
      name: 'a clear frame on a background that stays white',
      html: `<iframe title="Log" style="width:300px;height:90px;border:0;background:#fff" srcdoc="<p>Log of the pier</p>"></iframe>`,
    },
    {
      name: 'a frame of another origin that stays white',
      html: `<iframe title="Log" sandbox style="width:300px;height:90px;border:0" srcdoc="<body style='background:#fff;color:#111'><p>Log of the pier</p>"></iframe>`,
    },
    {
      name: 'a frame that the browser paints white, since it does not know the scheme of what it lies in',
      html: `<iframe title="Log" style="width:300px;height:90px;border:0" srcdoc="<p>Log of the pier</p>"></iframe>`,
      dusk: 'iframe{color-scheme:dark}',
    },
    {
      name: 'the same of another origin',
      html: `<iframe title="Log" sandbox style="width:300px;height:90px;border:0" srcdoc="<p>Log of the pier</p>"></iframe>`,
      dusk: 'iframe{color-scheme:dark}',
    },
    { name: 'a panel whose token stays white', html: box(), css: '--paper:#fff;.s{background:var(--paper);color:#111}' },
    {
      name: 'a header row whose token stays light',
      html: '<table><thead><tr class="s"><th>Level</th><th>Trend</th></tr></thead><tr><td>4.1 m</td><td>rising</td></tr></table>',
      css: '--head:#e9eef1;table{width:100%;border-collapse:collapse}.s{background:var(--head);color:#222;height:40px}',
    },
    { name: 'an inline style', html: box('Almanac', 'background:#fffbe8;color:#222') },
    {
      name: 'a generated band',
      html: '<div class="s"></div>',
      css: '.s::before{content:"";display:block;width:400px;height:60px;background:#f2f2f2}',
    },
    {
      name: 'a field left white',
      html: '<input aria-label="Vessel" value="Gannet">',
      css: 'input{width:240px;height:40px;border:1px solid #888;background:#fff;color:#111}',
    },
    {
      name: 'a field that the browser draws',
      html: '<textarea aria-label="Notes" rows="3" cols="40"></textarea>',
      css: 'textarea{color:#111}',
    },
    {
      name: 'a table row',
      html: '<table><tr class="s"><td>4.1 m</td><td>rising</td></tr></table>',
      css: 'table{width:100%;border-collapse:collapse}.s{background:#eef3f5;color:#222;height:40px}',
    },
    { name: 'a gradient', html: box(), css: '.s{background:linear-gradient(#fff,#f4f7f8);color:#222}' },
    { name: 'a canvas painted white', html: '<canvas width="300" height="120" data-draw="#ffffff"></canvas>' },
    { name: 'dark ink', html: '<p>The gauge is read by hand.</p>', css: 'p{color:#333}' },
    {
      name: 'a dark heading on a card',
      html: '<div style="padding:30px;background:var(--face)"><h2>Retention</h2></div>',
      css: 'h2{color:#2a2a2a}',
    },
    { name: 'grey ink that can still be read', html: '<p>Edition of the spring</p>', css: 'p{color:#767676}' },
    {
      name: 'a dark icon alone in a button',
      html: `<button aria-label="Alarms">${BELL}</button>`,
      css: `${FLAT}svg{stroke:#2d3a3f}`,
    },
    { name: 'a light border', html: '<div class="s" style="width:300px;height:60px"></div>', css: '.s{border:1px solid #e3e8ea}' },
    { name: 'a light rule under a heading', html: '<h2 class="s">Tides</h2>', css: '.s{border-bottom:1px solid #dde3e6}' },
    {
      // Derived: #dfe6ea reaches 1.3 on white and 14.8 on #121212.
      name: 'the edge of a field that was hardly seen and glares',
      html: '<input aria-label="Pager" class="s">',
      css: 'input{background:var(--page);border:1px solid #dfe6ea}',
    },
    {
      name: 'dark ink on a layer that changed',
      html: '<div style="padding:20px;background:rgb(128 128 128 / .1)"><p>Notice</p></div>',
      css: 'p{color:#222}',
    },
    {
      name: 'a line that was hardly seen and is the strongest thing in sight',
      html: '<p>Open</p>',
      css: 'p{padding:16px;border-bottom:1px solid #dfe6ea}',
    },
  ],
  silent: [
    {
      name: 'the edge of a field that is strong in both themes',
      html: '<input aria-label="Pager">',
      css: 'input{background:var(--page);border:1px solid #767676}',
    },
    {
      name: 'the edge of a field that turns with the theme',
      html: '<input aria-label="Pager">',
      css: 'input{background:var(--page);border:1px solid #dfe6ea}',
      dusk: 'input{border-color:#404040}',
    },
    {
      name: 'the white thumb of a switch that is off',
      html: '<button role="switch" aria-checked="false" aria-label="Siren"><i></i></button>',
      css: 'button{position:relative;width:60px;height:28px;border:0;border-radius:14px;background:rgb(0 0 0 / .1)}i{position:absolute;left:2px;top:2px;width:24px;height:24px;border-radius:50%;background:#fff}',
      dusk: 'button{background:rgb(255 255 255 / .1)}',
    },
    {
      name: 'a gold star, which stays gold',
      html: '<p><svg width="24" height="24"><path fill="#faaf00" d="M12 2l3 7h7l-6 4 3 8-7-5-7 5 3-8-6-4h7z"/></svg></p>',
    },
    { name: 'a bright accent line', html: '<p>Open</p>', css: 'p{padding:16px;border-left:4px solid #ffd23f}' },
    {
      name: 'white ink on a violet panel that became black',
      html: '<p>Open</p>',
      css: 'p{padding:16px;background:#5f61b0;color:#fff}',
      dusk: 'p{background:#141414}',
    },
    { name: 'a mid grey alert', html: box(), css: '.s{background:#95a5a6;color:#111}' },
    { name: 'a panel of the theme', html: box(), css: '.s{background:var(--face)}' },
    {
      name: 'a small chip that a token keeps white',
      html: '<div class="s" style="width:60px;height:24px"></div>',
      css: '--paper:#fff;.s{background:var(--paper);color:#111}',
    },
    { name: 'ink of the theme', html: '<p>Quay</p>', css: 'p{color:var(--ink)}' },
    { name: 'ink that a token keeps', html: '<p>Quay</p>', css: '--stamp:#767676;p{color:var(--stamp)}' },
    {
      name: 'a panel that must stay light',
      html: '<div class="paper" style="width:300px;height:90px">Print</div>',
      css: '.paper{background:#fff;color:#111}',
    },
    {
      name: 'a frame that lets the page through',
      html: `<iframe title="Log" style="width:300px;height:90px;border:0" srcdoc="<p style='color:#777'>"></iframe>`,
    },
    {
      name: 'a frame of another origin that lets the page through',
      html: `<iframe title="Log" sandbox style="width:300px;height:90px;border:0" srcdoc="<p style='color:#777'>"></iframe>`,
    },
    {
      name: 'a frame that is dark by itself',
      html: `<iframe title="Log" style="width:300px;height:90px;border:0" srcdoc="<meta name='color-scheme' content='dark'><p>Log of the pier</p>"></iframe>`,
      dusk: 'iframe{color-scheme:dark}',
    },
    { name: 'a photo', html: '<img data-photo alt="quay" width="240" height="160">' },
    { name: 'a photo as background', html: '<div data-photo-behind style="width:240px;height:160px"></div>' },
    { name: 'a white layer that lets through', html: box(), css: '.s{background:rgb(255 255 255 / .12)}' },
    { name: 'a black layer that lets through', html: box(), css: '.s{background:rgb(0 0 0 / .08)}' },
    {
      name: 'an accent that suits both themes',
      html: '<button>Book</button>',
      css: 'button{width:140px;height:40px;border:0;background:#2a7f8c;color:#fff}',
    },
    {
      name: 'a yellow button',
      html: '<button>Warn</button>',
      css: 'button{width:140px;height:40px;border:0;background:#ffc107;color:#111}',
    },
    { name: 'white ink on an accent', html: '<p>Open</p>', css: 'p{background:#0b5d6b;color:#fff;padding:10px}' },
    {
      name: 'ink on a panel that is the same',
      html: `<div class="paper"><p>Print</p></div>`,
      css: '.paper{background:#fff;padding:20px}p{color:#333}',
    },
    { name: 'a dark panel that stays dark', html: box(), css: '.s{background:#16323a;color:#fff}' },
    {
      name: 'a light panel on a part that is dark in both themes',
      html: `<div style="padding:40px;background:#10151c">${box()}</div>`,
      css: '.s{background:#e8edf0;color:#111}',
    },
    { name: 'a literal that the dark theme replaces', html: box(), css: '.s{background:#fff}', dusk: '.s{background:#222}' },
    { name: 'a border of the theme', html: '<div style="width:300px;height:60px;border:1px solid var(--edge)"></div>' },
    { name: 'a grey border that suits both', html: '<div style="width:300px;height:60px;border:1px solid #7a858a"></div>' },
    { name: 'mixed from a token', html: box(), css: '.s{background:color-mix(in srgb,var(--face) 80%,#2a7f8c)}' },
  ],
  stay: [{ selector: '.paper', tone: 'light' }],
});
