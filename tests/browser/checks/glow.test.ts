import { testCases } from './judge-cases.ts';

// Expected verdicts: peaks by CSS Backgrounds 3 §6.1.2 over the dark page #121212 or a card #1e1e1e (tests/checks/glow.test.ts).
const card = (shadow: string, more = ''): string =>
  `<div class="c" style="width:240px;height:90px;background:var(--face);box-shadow:${shadow};${more}">gauge</div>`;
const STROKES =
  '<svg width="96" height="96" viewBox="0 0 96 96" fill="none" stroke-width="4"><path d="M20 80 48 16 76 80Z"/></svg>';

// Each shadow has numbers of its own: one declaration at several places is said once.
/** Painted over what touches it. */
const bright = (width: string): string =>
  `<div style="position:relative;z-index:1;width:${width};height:90px;background:#eef2f4"></div>`;
const row = (middle: string): string => `<div style="display:flex">${bright('100px')}${middle}${bright('100px')}</div>`;
const between = (middle: string): string => bright('440px') + row(middle);

testCases({
  check: 'glow',
  fires: [
    {
      name: 'a bar that glows far more than in the reference theme',
      html: '<div style="padding:40px;background:#12071f"><div class="c">gauge</div></div>',
      css: '.c{width:240px;height:90px;background:#2a1245;box-shadow:0 0 16px rgb(120 200 255 / .12)}',
      dusk: '.c{box-shadow:0 0 16px rgb(120 200 255 / .7)}',
    },
    { name: 'white at 8 %', html: card('0 2px 8px rgb(255 255 255 / .08)') },
    { name: 'cyan at half strength', html: card('0 0 16px rgb(0 229 255 / .5)') },
    { name: 'pure blue, hardly lighter but coloured', html: card('0 0 24px 2px rgb(0 0 255 / .5)') },
    { name: 'the light theme’s grey shadow', html: card('0 2px 8px rgb(60 64 67 / .3)') },
    { name: 'a slate shadow of the light theme, large', html: card('0 10px 28px rgb(61 90 107 / .3)') },
    { name: 'the second of a list', html: card('0 1px 2px rgb(0 0 0 / .4), 0 0 20px rgb(120 200 255 / .35)') },
    { name: 'a shadow with spread', html: card('0 0 20px 6px rgb(255 200 80 / .25)') },
    { name: 'an inset glow', html: card('inset 0 0 18px rgb(0 229 255 / .4)') },
    { name: 'text with a halo', html: '<h2>4.12 m</h2>', css: 'h2{font-size:36px}', dusk: 'h2{text-shadow:0 0 12px #4fd1e0}' },
    {
      name: 'text with a white halo',
      html: '<p>Quay is open</p>',
      css: 'p{font-size:28px;font-weight:700}',
      dusk: 'p{text-shadow:0 0 8px #fff}',
    },
    {
      name: 'strokes with a drop shadow',
      html: STROKES,
      css: 'svg{stroke:#52616a}',
      dusk: 'svg{stroke:#a3adb2;filter:drop-shadow(0 0 6px #e8c15a)}',
    },
    {
      name: 'a photo with a light drop shadow',
      html: '<img data-photo alt="quay" width="240" height="160" style="filter:drop-shadow(0 0 10px rgb(255 255 255 / .6))">',
    },
    {
      name: 'dark shadow under an inverting filter',
      html: `<div class="i">${card('0 6px 20px rgb(0 0 0 / .35)', 'background:#fff;color:#000')}</div>`,
      css: '.i{padding:40px;background:#eef2f4}',
      dusk: '.i{filter:invert(1)}',
    },
    {
      name: 'a button that glows',
      html: '<button>Take</button>',
      css: 'button{padding:10px 30px;border:0;background:var(--brand);color:#fff}',
      dusk: 'button{box-shadow:0 0 14px #3fe0f0}',
    },
    {
      name: 'a rounded avatar',
      html: '<div style="width:72px;height:72px;border-radius:36px;background:#2c4a55;box-shadow:0 0 18px 4px rgb(180 220 255 / .4)"></div>',
    },
    {
      name: 'a menu on a card',
      html: `<div style="padding:40px;background:var(--face)">${card('0 8px 24px rgb(120 140 160 / .5)', 'background:#26292b')}</div>`,
    },
    { name: 'a white box', html: card('0 0 16px rgb(255 255 255 / .5)', 'background:#fff;color:#111') },
    { name: 'a box between bright neighbours', html: row(card('0 0 15px rgb(255 255 255 / .5)', 'width:60px')) },
    { name: 'a box with bright neighbours on three sides', html: between(card('0 0 17px rgb(255 255 255 / .5)')) },
    {
      name: 'a white box with bright neighbours on three sides',
      html: between(card('0 0 18px rgb(255 255 255 / .5)', 'background:#fff;color:#111')),
    },
    {
      name: 'a row of white boxes that touch each other',
      html: `<div style="display:flex">${Array.from({ length: 3 }, () => card('0 2px 18px rgb(255 255 255 / .4)', 'background:#fff;color:#111')).join('')}</div>`,
    },
  ],
  silent: [
    {
      name: 'a bar that glows as much in the reference theme',
      html: '<div style="padding:40px;background:#12071f"><div class="c">gauge</div></div>',
      css: '.c{width:240px;height:90px;background:#2a1245;box-shadow:0 0 16px rgb(120 200 255 / .5)}',
    },
    { name: 'black at 30 %', html: card('0 4px 12px rgb(0 0 0 / .3)') },
    { name: 'dark slate, too faint to see', html: card('0 8px 24px rgb(16 24 40 / .2)') },
    { name: 'a focus ring', html: card('0 0 0 3px #4fd1e0') },
    { name: 'two rings', html: card('0 0 0 2px #121212, 0 0 0 4px #4fd1e0') },
    { name: 'an inset hairline', html: card('inset 0 1px 0 rgb(255 255 255 / .2)') },
    { name: 'an inset line with a pixel of blur', html: card('inset 0 1px 1px rgb(255 255 255 / .2)') },
    { name: 'white at 1 %', html: card('0 2px 8px rgb(255 255 255 / .01)') },
    { name: 'a shadow wholly under its box', html: card('0 0 12px -30px rgb(255 255 255 / .9)') },
    {
      name: 'a dark shadow on a dark card',
      html: `<div style="padding:40px;background:var(--face)">${card('0 4px 16px var(--fall)', 'background:#2a2a2a')}</div>`,
    },
    {
      name: 'a light shadow clipped away',
      html: `<div style="overflow:hidden;width:240px;height:90px">${card('0 0 16px rgb(255 255 255 / .5)')}</div>`,
    },
    {
      name: 'text with a dark shadow',
      html: '<h2>Harbour</h2>',
      css: 'h2{color:#fff;background:#2c7f8c;padding:20px;text-shadow:0 1px 3px rgb(0 0 0 / .6)}',
    },
    { name: 'text with a hard edge', html: '<h2>Harbour</h2>', css: 'h2{text-shadow:0 1px 0 #555}' },
    {
      name: 'strokes with a dark drop shadow',
      html: STROKES,
      css: 'svg{stroke:#52616a}',
      dusk: 'svg{stroke:#a3adb2;filter:drop-shadow(0 2px 4px #000)}',
    },
    {
      name: 'a light glow on a panel that is lighter still',
      html: `<div style="padding:40px;background:#fff">${card('0 0 16px rgb(200 220 230 / .6)')}</div>`,
    },
    {
      name: 'a light shadow that bright neighbours cover on all sides',
      html: between(card('0 0 5px rgb(255 255 255 / .5)')) + bright('440px'),
    },
    {
      name: 'a dark shadow between bright neighbours',
      html: between(card('0 4px 16px rgb(0 0 0 / .6)')),
    },
    { name: 'a transparent shadow', html: card('0 0 20px transparent') },
    { name: 'no shadow at all', html: card('none') },
    {
      name: 'a glow of the light theme alone',
      html: '<div class="c">gauge</div>',
      css: '.c{width:240px;height:90px;background:var(--face);box-shadow:0 0 16px #9fd}',
      dusk: '.c{box-shadow:none}',
    },
  ],
});
