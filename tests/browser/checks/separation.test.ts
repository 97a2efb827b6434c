import { testCases } from './judge-cases.ts';

// Expected verdicts: steps in L* (CIE 15) between each surface and the page #f5f7f9 → #121212 or a card #ffffff → #1e1e1e.
const box = (cls = 's', text = 'Gauge', size = 'width:300px;height:90px'): string =>
  `<div class="${cls}" style="${size}">${text}</div>`;
const on = (inner: string): string => `<div class="card" style="padding:40px;background:var(--face)">${inner}</div>`;
const rows =
  '<table><tbody><tr><td>1.2</td></tr><tr class="z"><td>1.3</td></tr><tr><td>1.1</td></tr><tr class="z"><td>1.4</td></tr></tbody></table>';

/** Its face lies beside the button, both in a shadow tree. */
const COMPONENT =
  '<x-action><template shadowrootmode="open"><style>:host{display:block;position:relative;width:300px;height:60px}.face,button{position:absolute;inset:0}button{background:none;border:0;color:inherit}</style><div class="face" part="face"></div><button><slot></slot></button></template>Tide tables</x-action>';

testCases({
  check: 'separation',
  fires: [
    {
      name: 'a card one code from black on black, which no tint tells apart',
      html: on(box()),
      css: '.s{background:#e9eef1}',
      dusk: '.s{background:#010101}.card{background:#000!important}',
    },
    {
      name: 'a bar that draws a short mark at its side, no line',
      html: box(),
      css: '.s{background:#e9eef1}',
      dusk: '.s{background:linear-gradient(#fff,#fff) 0 0/4px 20px no-repeat #121212}',
    },
    {
      name: 'a card of the colour of the page whose shadow cannot be seen',
      html: box(),
      css: '.s{background:var(--page);box-shadow:0 4px 24px 4px rgb(0 0 0 / .35)}',
    },
    { name: 'a card two steps too high', html: box(), css: '.s{background:#fff}', dusk: '.s{background:#3a3a3a}' },
    { name: 'a card that is the page', html: box(), css: '.s{background:#e9eef1}', dusk: '.s{background:#121212}' },
    { name: 'a panel on a card, too light', html: on(box()), css: '.s{background:#f2f5f7}', dusk: '.s{background:#4a4a4a}' },
    { name: 'a panel on a card, gone', html: on(box()), css: '.s{background:#eef2f4}', dusk: '.s{background:#1e1e1e}' },
    {
      name: 'stripes that are gone',
      html: on(rows),
      css: 'table{width:100%;border-collapse:collapse}td{padding:8px}.z{background:#eef2f4}',
      dusk: '.z{background:#1e1e1e}',
    },
    {
      name: 'stripes that are too hard',
      html: on(rows),
      css: 'table{width:100%;border-collapse:collapse}td{padding:8px}.z{background:#f3f6f8}',
      dusk: '.z{background:#474747}',
    },
    {
      name: 'a generated footer, gone',
      html: '<div class="s"></div>',
      css: '.s::after{content:"";display:block;width:400px;height:60px;background:#e3e9ec}',
      dusk: '.s::after{background:#121212}',
    },
    {
      name: 'a well that became a hole',
      html: on(box()),
      css: '.s{background:#f0f3f5}',
      dusk: '.s{background:#000}.card{background:#2c2c2c!important}',
    },
    {
      name: 'a side rail, too light',
      html: '<div style="display:flex"><div class="s" style="width:160px;height:120px"></div><div style="flex:1;height:120px"></div></div>',
      css: '.s{background:#eceff1}',
      dusk: '.s{background:#404040}',
    },
    {
      name: 'a border that differs from neither',
      html: box(),
      css: '.s{background:#e6ecef;border:1px solid #cfd8dd}',
      dusk: '.s{background:#121212;border-color:#161616}',
    },
    {
      name: 'a shadow that cannot be seen on black',
      html: box(),
      css: '.s{background:#e3e9ec;box-shadow:0 2px 6px rgb(0 0 0 / .3)}',
      dusk: '.s{background:#131313;box-shadow:0 2px 6px rgb(0 0 0 / .08)}',
    },
    { name: 'a nearly equal tint', html: box(), css: '.s{background:#e0e7eb}', dusk: '.s{background:#141414}' },
    {
      name: 'a translucent layer that adds too much',
      html: box(),
      css: '.s{background:rgb(0 0 0 / .03)}',
      dusk: '.s{background:rgb(255 255 255 / .22)}',
    },
    {
      name: 'a translucent layer that adds nothing',
      html: box(),
      css: '.s{background:rgb(0 0 0 / .08)}',
      dusk: '.s{background:rgb(0 0 0 / .08)}',
    },
    {
      name: 'a list of cards, all too high',
      html: '<ul><li>one</li><li>two</li><li>three</li></ul>',
      css: 'ul{display:flex;gap:24px;list-style:none}li{width:200px;height:80px;background:#fff}',
      dusk: 'li{background:#444}',
    },
    {
      name: 'a code block, gone',
      html: '<pre class="s">gauge --reach quay</pre>',
      css: '.s{padding:16px;background:#e7edf0}',
      dusk: '.s{background:#121212}',
    },
  ],
  silent: [
    {
      name: 'a bar of the colour of the page, parted from it by a line that an inner shadow draws',
      html: box(),
      css: '.s{background:#fff}',
      dusk: '.s{background:#121212;box-shadow:inset 0 -1px #fff}',
    },
    {
      name: 'a bar parted by a line that its background draws along its foot',
      html: box(),
      css: '.s{background:#fff}',
      dusk: '.s{background:linear-gradient(#fff,#fff) 0 100%/100% 1px no-repeat #121212}',
    },
    {
      name: 'the quiet button of a component, whose face lies beside it in its shadow tree',
      html: COMPONENT,
      css: 'x-action::part(face){background:#eceff1}',
      dusk: 'x-action::part(face){background:#404040}',
    },
    {
      name: 'the same of a component that hands its focus on to a smaller button',
      html: COMPONENT.replace('shadowrootmode="open"', 'shadowrootmode="open" shadowrootdelegatesfocus').replace(
        'button{',
        'button{inset:20px!important;',
      ),
      css: 'x-action::part(face){background:#eceff1}',
      dusk: 'x-action::part(face){background:#404040}',
    },
    {
      name: 'the frame of a field without an edge of its own',
      html: '<div class="s" style="width:300px;padding:8px"><input aria-label="Vessel"></div>',
      css: '.s{background:#eceff1;border:1px solid #5d6f78}input{border:0;background:none;width:100%;height:24px}',
      dusk: '.s{background:#404040;border-color:#87959c}',
    },
    {
      name: 'a layer for pointing over a button, which is not seen',
      html: '<div style="position:relative;width:300px"><button class="s">Book</button><i></i></div>',
      css: 'button{width:300px;height:60px;border:0;background:#e2e8eb}i::before{content:"";position:absolute;inset:0;background:#000;opacity:0;pointer-events:none}',
      dusk: 'button{background:#4a4a4a;color:#fff}',
    },
    {
      name: 'a list of the colour of the page whose hairline of a shadow is gone',
      html: box(),
      css: '.s{background:var(--page);box-shadow:0 1px 4px rgb(0 0 0 / .2)}',
    },
    {
      name: 'rows of one colour with dark lines between',
      html: on('<ul><li>Quay</li><li>Lock</li><li>Mole</li><li>Weir</li></ul>'),
      css: 'ul{margin:0;padding:0;list-style:none;display:flow-root}li{height:48px;margin-bottom:2px;background:#fff}.card{padding:0!important;background:#f2f4f5!important;width:700px}',
      dusk: 'li{background:#2e2e2e}.card{background:#080808!important}',
    },
    {
      name: 'a card of the colour of the page in both, that a shadow sets off in both',
      html: on(box()),
      css: '.s{background:var(--face);box-shadow:0 2px 10px rgb(0 0 0 / .4)}.card{background:#fff!important}',
      dusk: '.s{box-shadow:0 2px 10px #000}.card{background:var(--face)!important}',
    },
    {
      name: 'a button of the colour of the page that a shadow set off',
      html: '<button>Book</button>',
      css: 'button{padding:16px 60px;border:0;background:var(--page);box-shadow:0 2px 10px rgb(0 0 0 / .4)}',
      dusk: 'button{box-shadow:0 2px 10px rgb(0 0 0 / .3)}',
    },
    { name: 'a card one step up', html: box(), css: '.s{background:#fff}', dusk: '.s{background:#1e1e1e}' },
    { name: 'a rail one step down', html: box(), css: '.s{background:#e6ecef}', dusk: '.s{background:#0a0a0a}' },
    {
      name: 'a card that a border keeps apart',
      html: box(),
      css: '.s{background:#e9eef1;border:1px solid #c5cfd5}',
      dusk: '.s{background:#121212;border-color:#3a4044}',
    },
    {
      name: 'a card that an outline keeps apart',
      html: box(),
      css: '.s{background:#e9eef1}',
      dusk: '.s{background:#121212;outline:1px solid #3a4044}',
    },
    { name: 'equal in both themes', html: box(), css: '.s{background:var(--page)}' },
    { name: 'hardly told apart in either', html: box(), css: '.s{background:#f3f5f7}', dusk: '.s{background:#141414}' },
    { name: 'strong in both themes', html: box(), css: '.s{background:#9fb1ba}', dusk: '.s{background:#3d3d3d}' },
    {
      name: 'a dark bar close to the dark page',
      html: box('s', '', 'height:56px'),
      css: '.s{background:#16323a}',
      dusk: '.s{background:#16323a}',
    },
    {
      name: 'a primary button',
      html: '<button>Book</button>',
      css: 'button{padding:12px 40px;border:0;background:#e4ebee}',
      dusk: 'button{background:#5a6068}',
    },
    { name: 'a coloured callout', html: box(), css: '.s{background:#e0f2f5}', dusk: '.s{background:#0b4a57}' },
    {
      name: 'a gradient',
      html: box(),
      css: '.s{background:linear-gradient(#fff,#f5f7f9)}',
      dusk: '.s{background:linear-gradient(#4a4a4a,#121212)}',
    },
    { name: 'a photo as background', html: '<div data-photo-behind style="width:240px;height:160px"></div>' },
    {
      name: 'a chart',
      html: '<svg class="s" width="400" height="120" role="img" aria-label="level"><rect width="400" height="120"/></svg>',
      css: 'rect{fill:#fff}',
      dusk: 'rect{fill:#4a4a4a}',
    },
    {
      name: 'a caption across the foot of a photo',
      html: '<figure style="position:relative;width:240px;margin:0"><img data-photo alt="quay" width="240" height="160" style="display:block"><figcaption class="s" style="position:absolute;bottom:0;width:100%;height:40px"></figcaption></figure>',
      css: '.s{background:#0d1a1f}',
      dusk: '.s{background:#131313}',
    },
    { name: 'told apart by hue alone', html: box(), css: '.s{background:#e2eef2}', dusk: '.s{background:#0a1d24}' },
    {
      name: 'stripes one step apart',
      html: on(rows),
      css: 'table{width:100%;border-collapse:collapse}td{padding:8px}.z{background:#f3f6f8}',
      dusk: '.z{background:#242424}',
    },
    {
      name: 'cells of one row',
      html: on('<table><tr><td>1</td><td>2</td><td>3</td></tr></table>'),
      css: 'table{border-collapse:collapse}td{width:120px;height:40px;background:#eef2f4}',
      dusk: 'td{background:#272727}',
    },
    {
      name: 'a panel that is dark in both themes',
      html: `<div style="padding:40px;background:#1c2630">${box()}</div>`,
      css: '.s{background:#27333f}',
    },
  ],
});
