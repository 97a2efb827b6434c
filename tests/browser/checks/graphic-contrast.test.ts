import { testCases } from './judge-cases.ts';

// Expected verdicts: WCAG 2.2 SC 1.4.11 (3:1) and its Understanding; contrasts by the definition of SC 1.4.3 on #121212 / #1e1e1e.
const BELL =
  '<svg class="i" width="20" height="20" viewBox="0 0 20 20" fill="none" stroke="currentColor" stroke-width="1.6"><path d="M5 14V9a5 5 0 0 1 10 0v5l1.5 1.5h-13z"/></svg>';
const alone = (icon = BELL): string => `<button class="b" aria-label="Alarms">${icon}</button>`;
const FLAT = 'button{border:0;background:none;padding:8px;color:var(--ink)}';
const MASK = `url("data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20"><path d="M3 3h14v14H3z"/></svg>')}")`;
const TICK = 'input{appearance:none;width:20px;height:20px;margin:0;border:2px solid var(--control);background:var(--page)}';

/** For assistive technology alone (common practice). */
const HIDDEN =
  'input{position:absolute;overflow:hidden;width:1px;height:1px;margin:-1px;padding:0;border:0;clip:rect(0 0 0 0);white-space:nowrap}';

/** A component that keeps its button in a shadow tree and shows what is put into it. */
const component = (inner: string): string =>
  `<x-action><template shadowrootmode="open"><style>button{border:0;background:none;padding:8px;color:inherit}</style><button><slot></slot></button></template>${inner}</x-action>`;

testCases({
  check: 'graphic-contrast',
  fires: [
    {
      name: 'a field whose line along its foot is as faint as its outline',
      html: '<input aria-label="Vessel" value="Teal">',
      css: 'input{border:0;box-shadow:inset 0 0 0 1px #777;background:linear-gradient(#555,#555) 0 100%/100% 1px no-repeat var(--page)}',
      dusk: 'input{box-shadow:inset 0 0 0 1px #2c2c2c;background-image:linear-gradient(#333,#333)}',
    },
    {
      name: 'a faint thumb at one end of a switch that its form stretches over the page',
      html: '<button role="switch" aria-checked="false" aria-label="Alarm"><i></i></button>',
      css: 'button{position:relative;display:block;width:420px;height:24px;padding:0;border:0;border-radius:12px;background:#0b5d6b}i{position:absolute;left:4px;top:4px;width:16px;height:16px;border-radius:50%;background:#fff}',
      dusk: 'button{background:#8fb8c0}i{background:#a9cbd2}',
    },
    {
      name: 'a check box that lies hidden while its label draws it faintly',
      html: '<input id="c" type="checkbox"><label for="c">Alarm</label>',
      css: `${HIDDEN}label{position:relative;padding-left:24px}label::before{content:"";position:absolute;left:0;top:2px;width:14px;height:14px;border:1px solid #777}`,
      dusk: 'label::before{border-color:#333}',
    },
    {
      name: 'a switch that is seen through while a box beside it in its label is the track',
      html: '<label><input type="checkbox" role="switch" checked><i></i> Alarm</label>',
      css: 'input{opacity:0;position:absolute}i{display:inline-block;width:40px;height:20px;border-radius:10px;background:#0b5d6b}',
      dusk: 'i{background:#262626}',
    },
    {
      name: 'a wide field under a filter, whose weak edge its words do not make up for',
      html: '<div class="f"><input aria-label="Vessel" placeholder="As on the stern, in capitals"></div>',
      css: 'input{width:320px;background:var(--page);border:1px solid #777}input::placeholder{color:var(--ink)}',
      dusk: '.f{filter:brightness(.95)}input{border-color:#2c2c2c}',
    },
    {
      name: 'a white icon on a pale round gradient, bright on the page',
      html: alone(),
      css: 'button{display:grid;place-items:center;width:24px;height:24px;padding:0;border:0;border-radius:50%;background:linear-gradient(#0b5d6b,#17414a);color:#fff}',
      dusk: 'button{background:linear-gradient(#c3e4ea,#e0f2ee)}',
    },
    {
      name: 'a white drawing on a pale tile of its own',
      html: '<svg role="img" aria-label="Alarm" width="28" height="28" viewBox="0 0 28 28" fill="none" stroke-width="2"><path d="M8 19v-6a6 6 0 0 1 12 0v6l2 2H6z"/></svg>',
      css: 'svg{border-radius:6px;background:#0b5d6b;stroke:#fff}',
      dusk: 'svg{background:linear-gradient(#cfd8dd,#e8edf0)}',
    },
    {
      name: 'an icon put into the button of a component',
      html: component(BELL),
      css: 'x-action{display:inline-block;color:#c5cfd5}',
      dusk: 'x-action{color:#3d3d3d}',
    },
    { name: 'an icon alone in a button', html: alone(), css: FLAT, dusk: 'button{color:#3d3d3d}' },
    {
      name: 'an icon drawn by its fill',
      html: alone('<svg width="20" height="20"><path class="p" d="M2 2h16v16H2z"/></svg>'),
      css: `${FLAT}.p{fill:#333}`,
      dusk: '.p{fill:#333}',
    },
    { name: 'a half transparent icon', html: alone(), css: FLAT, dusk: 'svg{opacity:.25}' },
    {
      name: 'a mask',
      html: alone('<i class="m"></i>'),
      css: `${FLAT}.m{display:block;width:20px;height:20px;background:#444;mask:${MASK} 0 0/100%}`,
    },
    {
      name: 'a glyph of the private use area',
      html: alone('<i class="g">\uE001</i>'),
      css: `${FLAT}.g{font:normal 24px sans-serif;color:#333}`,
    },
    {
      name: 'a generated glyph',
      html: alone('<i class="g"></i>'),
      css: `${FLAT}.g::before{content:"\\e002";color:#333;font-style:normal}.g{display:inline-block;width:20px;height:20px}`,
    },
    {
      name: 'dots of an icon that are lines without a length',
      html: alone('<svg width="20" height="20" stroke-width="4" stroke-linecap="round"><path d="M4 10h0M10 10h0M16 10h0"/></svg>'),
      css: `${FLAT}svg{stroke:#555}`,
      dusk: 'svg{stroke:#2c2c2c}',
    },
    {
      name: 'a named icon outside a control',
      html: '<svg role="img" aria-label="Lock closed" width="24" height="24"><rect class="p" width="24" height="24"/></svg>',
      css: '.p{fill:#3a3a3a}',
    },
    {
      name: 'a small picture with a name',
      html: `<img alt="Lock" width="24" height="24" src="data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24"><path d="M2 2h20v20H2z" fill="#2f2f2f"/></svg>')}">`,
    },
    {
      name: 'a field told by a weak border',
      html: '<input aria-label="Vessel">',
      css: 'input{background:var(--page);border:1px solid #8a979e}',
      dusk: 'input{border-color:#333}',
    },
    {
      name: 'an underlined field',
      html: '<input aria-label="Vessel">',
      css: 'input{background:none;border:0;border-bottom:1px solid #777}',
      dusk: 'input{border-color:#2f2f2f}',
    },
    {
      name: 'a field told by a weak ring that a shadow draws',
      html: '<input aria-label="Vessel">',
      css: 'input{background:var(--page);border:0;box-shadow:inset 0 0 0 1px #777}',
      dusk: 'input{box-shadow:inset 0 0 0 1px #2f2f2f}',
    },
    {
      name: 'a field told by the weak frame around it and an icon',
      html: '<div class="f"><svg aria-hidden="true" width="16" height="16"></svg><input aria-label="Vessel"></div>',
      css: '.f{display:flex;padding:6px;border:1px solid #777;border-radius:6px;background:var(--page)}input{background:var(--page);border:0}',
      dusk: '.f{border-color:#2f2f2f}',
    },
    {
      name: 'a field told by a weak outline that is laid over it',
      html: '<div class="f"><input aria-label="Vessel"><fieldset aria-hidden="true"></fieldset></div>',
      css: '.f{position:relative;width:240px}input{padding:12px;width:100%;background:none;border:0}fieldset{position:absolute;inset:-5px 0 0;margin:0;pointer-events:none;border:1px solid #777}',
      dusk: 'fieldset{border-color:#2f2f2f}',
    },
    {
      name: 'a field with a weak border in a wide ring of its own, both clear',
      // Derived: 12 % of white on #1e1e1e is #393939, 1.6 on the page; 40 % of #a0c8dc on the page is #4b5b63, 2.6.
      html: '<input aria-label="Vessel">',
      css: 'input{background:var(--page);border:1px solid #5d6f78;box-shadow:0 0 0 3px rgb(11 93 107 / .4)}',
      dusk: 'input{background:#1e1e1e;border-color:rgb(255 255 255 / .12);box-shadow:0 0 0 3px rgb(160 200 220 / .4)}',
    },
    {
      name: 'a field told by its face alone',
      html: '<input aria-label="Vessel">',
      css: 'input{border:0;background:#8a979e}',
      dusk: 'input{background:#222}',
    },
    {
      name: 'a text area',
      html: '<textarea aria-label="Notes"></textarea>',
      css: 'textarea{background:var(--page);border:1px solid #777}',
      dusk: 'textarea{border-color:#3a3a3a}',
    },
    { name: 'an empty check box', html: '<input type="checkbox" aria-label="Stay">', css: TICK, dusk: 'input{border-color:#333}' },
    {
      name: 'a radio button',
      html: '<input type="radio" aria-label="Tide">',
      css: `${TICK}input{border-radius:50%}`,
      dusk: 'input{border-color:#303030}',
    },
    {
      name: 'a check box whose tick cannot be seen',
      html: '<input type="checkbox" checked aria-label="Stay">',
      css: 'input{appearance:none;width:24px;height:24px;border:2px solid #888;background:#fff;position:relative}input::before{content:"";position:absolute;left:5px;top:5px;width:10px;height:10px;background:#0b5d6b}',
      dusk: 'input{background:#10343b}',
    },
    {
      name: 'a switch',
      html: '<button role="switch" aria-checked="false" aria-label="Alarm" class="w"></button>',
      css: '.w{width:44px;height:24px;border:0;border-radius:12px;background:#7a8a92;position:relative}.w::before{content:"";position:absolute;left:3px;top:3px;width:18px;height:18px;border-radius:9px;background:#fff}',
      dusk: '.w{background:#1d1d1d}.w::before{background:#2a2a2a}',
    },
    {
      name: 'a slider',
      html: '<input type="range" aria-label="Height">',
      css: 'input{appearance:none;width:200px;height:6px;background:#777;border-radius:3px}input::-webkit-slider-thumb{appearance:none;width:16px;height:16px;border-radius:8px;background:#555}',
      dusk: 'input{background:#1c1c1c}input::-webkit-slider-thumb{background:#2b2b2b}',
    },
    {
      name: 'an icon beside its text that faded',
      html: `<p>${BELL} Alarms</p>`,
      css: 'svg{color:#52616a}',
      dusk: 'svg{color:#2c3235}',
    },
    {
      name: 'a drawing without a name that vanished',
      html: `<img alt="" width="24" height="24" src="data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24"><path d="M2 2h20v20H2z" fill="#2f2f2f"/></svg>')}">`,
    },
  ],
  silent: [
    {
      name: 'a field whose border is told from its inside, in a wide ring of its own that is not',
      html: '<input aria-label="Vessel">',
      css: 'input{background:none;border:1px solid #5d6f78;box-shadow:0 0 0 3px #9fb6c2}',
      // Derived: 36 % of white on #121212 is #676767, 3.3; on the ring #3c5563 it would be #829198, 2.5 against the ring.
      dusk: 'input{border-color:rgb(255 255 255 / .36);box-shadow:0 0 0 3px #3c5563}',
    },
    {
      name: 'a field told from the page by a wide ring of its own alone',
      html: '<input aria-label="Vessel">',
      css: 'input{background:none;border:0;box-shadow:0 0 0 4px #5d6f78}',
    },
    {
      name: 'a field told from the page by a wide outline of its own alone, under a filter',
      html: '<div class="f"><input aria-label="Vessel"></div>',
      css: 'input{background:none;border:0;outline:4px solid var(--control)}',
      dusk: '.f{filter:brightness(.95)}',
    },
    {
      name: 'a field with a faint outline and a plain line along its foot, drawn as a background',
      html: '<input aria-label="Vessel" value="Teal">',
      css: 'input{border:0;box-shadow:inset 0 0 0 1px #777;background:linear-gradient(#555,#555) 0 100%/100% 1px no-repeat var(--page)}',
      dusk: 'input{box-shadow:inset 0 0 0 1px #2c2c2c;background-image:linear-gradient(#aaa,#aaa)}',
    },
    {
      name: 'a switch that its form stretches over the page, with its thumb at one end',
      html: '<button role="switch" aria-checked="false" aria-label="Alarm"><i></i></button>',
      css: 'button{position:relative;display:block;width:420px;height:24px;padding:0;border:0;border-radius:12px;background:#0b5d6b}i{position:absolute;left:4px;top:4px;width:16px;height:16px;border-radius:50%;background:#fff}',
      dusk: 'button{background:#8fb8c0}i{background:#06232a}',
    },
    {
      name: 'a check box that lies hidden while its label draws it, with a thin tick turned about',
      // Derived: white on #2e7d4f reaches 5.1:1; the pixels of a line of one px turned by 45° less than 3:1.
      html: '<input id="c" type="checkbox" checked><label for="c">Alarm</label>',
      css: `${HIDDEN}label{position:relative;padding-left:24px}label::before{content:"";position:absolute;left:0;top:2px;width:14px;height:14px;background:#2e7d4f}label::after{content:"";position:absolute;left:5px;top:4px;width:3px;height:7px;border:1px solid #fff;border-left:0;border-top:0;transform:rotate(45deg)}`,
    },
    {
      name: 'a switch that lies hidden for assistive technology while its label draws it',
      html: '<button id="t" role="switch" aria-checked="true"></button><label for="t"><span>Alarm</span><i></i></label>',
      css: '#t{position:absolute;overflow:hidden;padding:0;border:0;margin:-1px;height:1px;width:1px;clip:rect(0,0,0,0);white-space:nowrap}i{display:inline-block;width:48px;height:24px;border-radius:12px;background:var(--control)}i::before{content:"";display:block;width:18px;height:18px;margin:3px;border-radius:50%;background:var(--page)}',
    },
    {
      name: 'a thin round line without a pixel of its own colour',
      html: '<input type="radio" aria-label="Tide">',
      css: 'input{appearance:none;width:24px;height:24px;margin:0;border:1px solid #555;border-radius:50%}',
      dusk: 'input{border-color:#6b6b6b}',
    },
    {
      name: 'a long slider told by its thumb',
      html: '<input type="range" aria-label="Height">',
      css: 'input{appearance:none;width:280px;height:24px;background:#777;border-radius:12px}input::-webkit-slider-thumb{appearance:none;width:14px;height:14px;border-radius:7px;background:#fff}',
      dusk: 'input{background:#1c1c1c}',
    },
    {
      name: 'a dark icon on a bright round gradient, dark like the page',
      html: alone(),
      css: 'button{display:grid;place-items:center;width:24px;height:24px;padding:0;border:0;border-radius:50%;background:linear-gradient(#0b5d6b,#17414a);color:#fff}',
      dusk: 'button{background:linear-gradient(#7fd3e0,#a9e6d2);color:#121212}',
    },
    {
      name: 'a dark drawing on a tile of its own',
      html: '<svg role="img" aria-label="Alarm" width="28" height="28" viewBox="0 0 28 28" fill="none" stroke-width="2"><path d="M8 19v-6a6 6 0 0 1 12 0v6l2 2H6z"/></svg>',
      css: 'svg{border-radius:6px;background:#0b5d6b;stroke:#fff}',
      dusk: 'svg{background:#9fd8e2;stroke:#141414}',
    },
    {
      name: 'a drawing in a control that draws nothing until something is chosen',
      html: '<button role="checkbox" aria-checked="false" aria-label="Alarm"><svg width="16" height="16"><path d=""/><rect width="0" height="9"/><line x1="3" y1="3" x2="3" y2="3" stroke="#242424"/></svg></button>',
      css: 'button{padding:6px;border:2px solid var(--control);background:var(--page)}svg{display:block;fill:#242424}',
    },
    { name: 'a strong icon alone in a button', html: alone(), css: FLAT },
    { name: 'an icon at just over 3:1', html: alone(), css: FLAT, dusk: 'button{color:#646464}' },
    {
      name: 'an icon in a disabled button',
      html: `<button disabled aria-label="Alarms">${BELL}</button>`,
      css: FLAT,
      dusk: 'button{color:#333}',
    },
    {
      name: 'a weak icon beside the text put into the button of a component, in both themes',
      html: component(`${BELL} Alarms`),
      css: 'x-action{color:var(--ink)}svg{color:#c5cfd5}',
      dusk: 'svg{color:#3d3d3d}',
    },
    {
      name: 'a weak icon beside the text of its button in both themes',
      html: `<button>${BELL} Alarms</button>`,
      css: 'button{border:1px solid #888;background:none}svg{color:#c5cfd5}',
      dusk: 'svg{color:#333}',
    },
    {
      name: 'an icon without a name or control, weak in both themes',
      html: BELL,
      css: 'svg{color:#cdd5d9}',
      dusk: 'svg{color:#2a2a2a}',
    },
    {
      name: 'a picture with an empty alternative text',
      html: `<img alt="" width="24" height="24" src="data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24"><path d="M2 2h20v20H2z" fill="#8f8f8f" fill-opacity=".4"/></svg>')}">`,
    },
    {
      name: 'an icon of two colours, one strong',
      html: alone('<svg width="20" height="20"><path d="M2 2h16v16H2z" fill="#222"/><path d="M6 6h8v8H6z" fill="#eee"/></svg>'),
      css: FLAT,
    },
    {
      name: 'a field with a strong border',
      html: '<input aria-label="Vessel">',
      css: 'input{background:var(--page);border:1px solid var(--control)}',
    },
    {
      name: 'a weak border round a strong face',
      html: '<input aria-label="Vessel">',
      css: 'input{border:1px solid #ddd;background:#707b80}',
      dusk: 'input{border-color:#222;background:#e8edf0;color:#111}',
    },
    {
      name: 'a field with a strong ring that a shadow draws',
      html: '<input aria-label="Vessel">',
      css: 'input{background:var(--page);border:0;box-shadow:inset 0 0 0 1px var(--control)}',
    },
    {
      name: 'a field without an edge in a strong frame with an icon',
      html: '<div class="f"><svg aria-hidden="true" width="16" height="16"></svg><input aria-label="Vessel"></div>',
      css: '.f{display:flex;padding:6px;border:1px solid var(--control);border-radius:6px;background:var(--page)}input{background:var(--page);border:0}',
    },
    {
      name: 'a field at the head of a search, above a weak line',
      html: '<div class="f"><input aria-label="Vessel" placeholder="Vessel"></div>',
      css: '.f{padding:8px;border-bottom:1px solid #d9e0e4}input{background:none;border:0}',
      dusk: '.f{border-color:#2f2f2f}',
    },
    {
      name: 'a disabled field in a weak frame',
      html: '<div class="f"><input disabled aria-label="Vessel"></div>',
      css: '.f{padding:6px;border:1px solid #777}input{background:var(--page);border:0}',
      dusk: '.f{border-color:#2f2f2f}',
    },
    {
      name: 'a field without any boundary',
      html: '<input aria-label="Vessel" placeholder="Vessel">',
      css: 'input{border:0;background:none}',
    },
    {
      name: 'a disabled field',
      html: '<input disabled aria-label="Vessel">',
      css: 'input{background:var(--page);border:1px solid #777}',
      dusk: 'input{border-color:#222}',
    },
    { name: 'a separator', html: '<hr>', css: 'hr{border:0;border-top:1px solid #dde3e6}', dusk: 'hr{border-color:#222}' },
    { name: 'a card with a weak border', html: '<div style="width:200px;height:80px;border:1px solid var(--edge)"></div>' },
    {
      name: 'a text button with a weak border',
      html: '<button>Book</button>',
      css: 'button{padding:8px 20px;background:none;border:1px solid #d5dce0}',
      dusk: 'button{border-color:#2a2a2a}',
    },
    {
      name: 'a check box with a strong box and tick',
      html: '<input type="checkbox" checked aria-label="Stay">',
      css: 'input{appearance:none;width:24px;height:24px;border:2px solid var(--control);background:var(--brand);position:relative}input::before{content:"";position:absolute;left:5px;top:5px;width:10px;height:10px;background:#fff}',
    },
    { name: 'a native check box', html: '<input type="checkbox" aria-label="Stay">' },
    {
      name: 'a strong switch',
      html: '<button role="switch" aria-checked="true" aria-label="Alarm" class="w"></button>',
      css: '.w{width:44px;height:24px;border:0;border-radius:12px;background:var(--control);position:relative}.w::before{content:"";position:absolute;right:3px;top:3px;width:18px;height:18px;border-radius:9px;background:var(--page)}',
    },
    {
      name: 'thin strokes whose edges look fainter',
      html: alone(
        '<svg width="20" height="20" viewBox="0 0 20 20" fill="none" stroke="#8b8b8b" stroke-width=".8"><path d="M3 4.3 17 15.7"/></svg>',
      ),
      css: FLAT,
    },
    { name: 'a private glyph in words', html: '<p>Reach \uE001 two</p>' },
  ],
});
