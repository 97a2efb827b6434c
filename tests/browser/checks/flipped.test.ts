import { testCases } from './judge-cases.ts';

// Expected verdicts: tone is told at L* 50 (ours); a surface under `stay` keeps its tone and is within 15 L* of the reference theme.
const box = (cls: string, size = 'width:320px;height:160px', text = 'Lock 3'): string =>
  `<div class="${cls}" style="${size}">${text}</div>`;

testCases({
  check: 'flipped',
  stay: [
    { selector: '.dark', tone: 'dark' },
    { selector: '.light', tone: 'light' },
  ],
  fires: [
    {
      name: 'a menu that must stay dark turned light',
      html: box('dark'),
      css: '.dark{background:#16323a}',
      dusk: '.dark{background:#d8e4e8}',
    },
    {
      name: 'paper that must stay light turned dark',
      html: box('light'),
      css: '.light{background:#fff}',
      dusk: '.light{background:#1e1e1e}',
    },
    {
      name: 'a toast under an inverting filter',
      html: `<div class="i">${box('dark')}</div>`,
      css: '.dark{background:#102a33}',
      dusk: '.i{filter:invert(1) hue-rotate(180deg)}',
    },
    {
      name: 'a small tip turned light',
      html: box('dark', 'width:120px;height:36px'),
      css: '.dark{background:#222}',
      dusk: '.dark{background:#eee}',
    },
    {
      name: 'a dark bar that became far lighter',
      html: box('dark'),
      css: '.dark{background:#0d1a1f}',
      dusk: '.dark{background:#4d6a72}',
    },
    { name: 'paper that became grey', html: box('light'), css: '.light{background:#fff}', dusk: '.light{background:#b4b8ba}' },
    {
      name: 'a generated panel turned light',
      html: '<div class="dark"></div>',
      css: '.dark::before{content:"";display:block;width:300px;height:60px;background:#1b2b33}',
      dusk: '.dark::before{background:#cfd9de}',
    },
    {
      name: 'a gradient turned light',
      html: box('dark'),
      css: '.dark{background:linear-gradient(#16323a,#0d1a1f)}',
      dusk: '.dark{background:linear-gradient(#d8e4e8,#eef4f6)}',
    },
    {
      name: 'a dialog turned dark',
      html: '<dialog open class="light" style="position:static">Terms</dialog>',
      css: 'dialog{background:#fdfdfd;color:#111;width:300px;height:120px}',
      dusk: 'dialog{background:#232323}',
    },
    {
      name: 'half covered by a light layer',
      html: box('dark'),
      css: '.dark{background:#16323a}',
      dusk: '.dark{background:rgb(255 255 255 / .8)}',
    },
    {
      name: 'not declared: a dark menu swapped with its page',
      html: box('m'),
      css: '.m{background:#16323a}',
      dusk: '.m{background:#dfe9ec}',
    },
    {
      name: 'not declared: a dark aside swapped',
      html: '<aside>Legend</aside>',
      css: 'aside{width:260px;height:240px;background:#20262a;color:#fff}',
      dusk: 'aside{background:#e8edf0;color:#111}',
    },
    {
      name: 'not declared: a header swapped',
      html: '<header>Harbour</header>',
      css: 'header{height:64px;background:#0b3d4f;color:#fff}',
      dusk: 'header{background:#b9d7e2;color:#111}',
    },
    {
      name: 'not declared: a generated band swapped',
      html: '<div class="m"></div>',
      css: '.m::before{content:"";display:block;height:60px;background:#1f2a30}',
      dusk: '.m::before{background:#e4eaed}',
    },
    {
      name: 'not declared: a footer under a filter',
      html: '<div class="i"><div class="m" style="height:80px"></div></div>',
      css: '.i{padding:30px;background:#fff}.m{background:#10242b}',
      dusk: '.i{filter:invert(1)}',
    },
  ],
  silent: [
    { name: 'a menu that stayed as it is', html: box('dark'), css: '.dark{background:#16323a}' },
    { name: 'a menu a little darker', html: box('dark'), css: '.dark{background:#1f3d46}', dusk: '.dark{background:#16323a}' },
    { name: 'paper that stayed', html: box('light'), css: '.light{background:#fff}' },
    { name: 'paper a little dimmed', html: box('light'), css: '.light{background:#fff}', dusk: '.light{background:#e4e6e7}' },
    { name: 'a card that went from light to dark', html: box('m'), css: '.m{background:#fff}', dusk: '.m{background:#1e1e1e}' },
    {
      name: 'a button that swaps on purpose',
      html: '<button>Go</button>',
      css: 'button{width:300px;height:60px;border:0;background:#111;color:#fff}',
      dusk: 'button{background:#fff;color:#111}',
    },
    {
      name: 'a chip that swaps',
      html: box('m', 'width:90px;height:30px'),
      css: '.m{background:#222;color:#fff}',
      dusk: '.m{background:#eee;color:#111}',
    },
    { name: 'a dark bar that stays dark on the dark page', html: box('m', 'height:64px'), css: '.m{background:#16323a}' },
    { name: 'a tint near its page in both themes', html: box('m'), css: '.m{background:#dfe6ea}', dusk: '.m{background:#232b2e}' },
    { name: 'a photo', html: '<img data-photo alt="quay" width="240" height="160">' },
    { name: 'a photo as background', html: '<div data-photo-behind style="width:240px;height:160px"></div>' },
    {
      name: 'a chart that swaps',
      html: '<svg width="400" height="120" role="img" aria-label="level"><rect width="400" height="120"/></svg>',
      css: 'rect{fill:#111}',
      dusk: 'rect{fill:#eee}',
    },
    { name: 'a canvas that is the same', html: '<canvas width="400" height="120" data-draw="#16323a"></canvas>' },
    {
      name: 'a link that looks like a button and swaps',
      html: '<a href="#x">All berths</a>',
      css: 'a{display:inline-block;padding:20px 140px;background:#111;color:#fff}',
      dusk: 'a{background:#f2f2f2;color:#111}',
    },
    {
      name: 'a double inversion',
      html: `<div class="i"><div class="j">${box('dark')}</div></div>`,
      css: '.dark{background:#16323a}',
      dusk: '.i{filter:invert(1)}.j{filter:invert(1)}',
    },
    { name: 'a mid-tone surface', html: box('m'), css: '.m{background:#6b7f87}', dusk: '.m{background:#7f949c}' },
  ],
});
