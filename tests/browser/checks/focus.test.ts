import { testCases } from './judge-cases.ts';

// Expected verdicts: SC 2.4.7 (an indicator is there), SC 1.4.11 (3:1); the change of the same pixels counts, as in SC 2.4.13.
const field = '<input class="f" aria-label="Vessel">';
const button = '<button class="f">Book</button>';
const link = '<a class="f" href="#x">All berths</a>';
const PLAIN = '.f{outline:none;padding:8px 16px;border:1px solid var(--control);background:var(--face)}';

testCases({
  check: 'graphic-contrast',
  state: { name: 'focus', kind: 'focus', selector: '.f' },
  fires: [
    { name: 'nothing in its place', html: button, css: PLAIN },
    {
      name: 'a weak outline',
      html: button,
      css: `${PLAIN}.f:focus{outline:2px solid #0b5d6b}`,
      dusk: '.f:focus{outline-color:#3a3a3a}',
    },
    {
      name: 'an outline of the page',
      html: link,
      css: `${PLAIN}.f:focus{outline:2px solid #0b5d6b}`,
      dusk: '.f:focus{outline-color:#121212}',
    },
    {
      name: 'a weak ring',
      html: field,
      css: `${PLAIN}.f:focus{box-shadow:0 0 0 3px #0b5d6b}`,
      dusk: '.f:focus{box-shadow:0 0 0 3px #2b2b2b}',
    },
    {
      name: 'a faint ring',
      html: field,
      css: `${PLAIN}.f:focus{box-shadow:0 0 0 3px rgb(11 93 107 / .9)}`,
      dusk: '.f:focus{box-shadow:0 0 0 3px rgb(120 200 215 / .2)}',
    },
    {
      name: 'a border that hardly changes',
      html: field,
      css: `${PLAIN}.f:focus{border-color:#000}`,
      dusk: '.f:focus{border-color:#98a6ad}',
    },
    {
      name: 'a background that hardly changes',
      html: button,
      css: `${PLAIN}.f:focus{background:#333}`,
      dusk: '.f:focus{background:#2a2a2a}',
    },
    {
      name: 'an underline that was there before',
      html: link,
      css: '.f{outline:none;color:var(--ink)}.f:focus{text-decoration:underline}',
    },
    { name: 'a colour that hardly changes', html: link, css: '.f{outline:none;color:#9fb1ba}.f:focus{color:#a9bbc4}' },
    {
      name: 'an outline inside, weak on the face',
      html: button,
      css: `${PLAIN}.f:focus{outline:2px solid #0b5d6b;outline-offset:-4px}`,
      dusk: '.f:focus{outline-color:#333}',
    },
    { name: 'an outline that is transparent', html: button, css: `${PLAIN}.f:focus{outline:2px solid transparent}` },
    { name: 'an outline of no width', html: button, css: `${PLAIN}.f:focus{outline:0 solid #fff}` },
    {
      name: 'a half transparent element',
      html: `<div style="opacity:.3">${button}</div>`,
      css: `${PLAIN}.f:focus{outline:2px solid #333}`,
      dusk: '.f:focus{outline-color:#888}',
    },
    { name: 'a tab without mark', html: '<div role="tab" tabindex="0" class="f">Tides</div>', css: '.f{outline:none}' },
    {
      name: 'a custom element without mark',
      html: '<div role="button" tabindex="0" class="f">Open</div>',
      css: '.f{outline:0;padding:10px}',
    },
  ],
  silent: [
    {
      name: 'a strong outline',
      html: button,
      css: `${PLAIN}.f:focus{outline:2px solid #0b5d6b}`,
      dusk: '.f:focus{outline-color:#7fd1e0}',
    },
    {
      name: 'a strong outline at a distance',
      html: button,
      css: `${PLAIN}.f:focus{outline:2px solid #0b5d6b;outline-offset:3px}`,
      dusk: '.f:focus{outline-color:#7fd1e0}',
    },
    {
      name: 'a strong ring',
      html: field,
      css: `${PLAIN}.f:focus{box-shadow:0 0 0 3px #0b5d6b}`,
      dusk: '.f:focus{box-shadow:0 0 0 3px #7fd1e0}',
    },
    {
      name: 'two rings',
      html: field,
      css: `${PLAIN}.f:focus{box-shadow:0 0 0 2px var(--page),0 0 0 4px #0b5d6b}`,
      dusk: '.f:focus{box-shadow:0 0 0 2px #121212,0 0 0 4px #7fd1e0}',
    },
    { name: 'the browser’s own ring', html: button },
    { name: 'the browser’s own ring on a link', html: link },
    {
      name: 'an inverted face',
      html: button,
      css: `${PLAIN}.f:focus{background:#111;color:#fff}`,
      dusk: '.f:focus{background:#fff;color:#111}',
    },
    {
      name: 'a border that turns strong',
      html: field,
      css: `${PLAIN}.f{border:2px solid #c5cfd5}.f:focus{border-color:#0b5d6b}`,
      dusk: '.f{border-color:#333}.f:focus{border-color:#9fe0ec}',
    },
    {
      name: 'a thick underline',
      html: '<a class="f" href="#x">All berths of the harbour</a>',
      css: '.f{outline:none;display:inline-block;border-bottom:4px solid transparent}.f:focus{border-color:#0b5d6b}',
      dusk: '.f:focus{border-color:#9fe0ec}',
    },
    {
      name: 'an outline inside the face',
      html: button,
      css: `${PLAIN}.f:focus{outline:2px solid #0b5d6b;outline-offset:-4px}`,
      dusk: '.f:focus{outline-color:#9fe0ec}',
    },
    {
      name: 'a dashed outline',
      html: button,
      css: `${PLAIN}.f:focus{outline:3px dashed #0b5d6b}`,
      dusk: '.f:focus{outline-color:#9fe0ec}',
    },
    { name: 'a disabled control', html: '<button class="f" disabled>Book</button>', css: PLAIN },
    {
      name: 'a generated ring',
      html: '<button class="f" style="position:relative">Book</button>',
      css: `${PLAIN}.f:focus::after{content:"";position:absolute;inset:-5px;border:2px solid #0b5d6b}`,
      dusk: '.f:focus::after{border-color:#9fe0ec}',
    },
    {
      name: 'an outline round the holder',
      html: `<div class="h">${field}</div>`,
      css: `${PLAIN}.h{display:inline-block;padding:4px}.h:focus-within{outline:2px solid #0b5d6b}`,
      dusk: '.h:focus-within{outline-color:#9fe0ec}',
    },
    {
      name: 'an outline on a card',
      html: `<div style="padding:40px;background:var(--face)">${button}</div>`,
      css: `${PLAIN}.f:focus{outline:2px solid #0b5d6b}`,
      dusk: '.f:focus{outline-color:#9fe0ec}',
    },
  ],
});
