// What paints what: small pages of an invented harbour screen, and where the colour of `#x` comes from.
// Each expected value is derived: the page is written so that only one answer is right. Sections name what the browser does there.

export interface DyeCase {
  readonly name: string;
  readonly css?: string;
  readonly html: string;
  /** Element, and CSS property asked about. */
  readonly at?: string;
  readonly property?: string;
  /** Which of several colours of one value, by its place. */
  readonly which?: number;
  /**
   * `token --p`, with `*0.4` the share of its alpha, `> --s` the step behind it, `(fallback)`; `derived --a --b`; `literal`; `system`.
   */
  readonly is: string;
}

const RAMP =
  ':root{--silt-0:#fbfcfd;--silt-900:#273237;--tide-500:#339ec4;--face:var(--silt-0);--mark:var(--silt-900);--wash:var(--tide-500)}';
const P = '<p id=x>Gauge</p>';

export const CASES: readonly DyeCase[] = [
  { name: 'a step used directly', css: `${RAMP}#x{color:var(--silt-900)}`, html: P, is: 'token --silt-900' },
  {
    name: 'a semantic token and the step behind it',
    css: `${RAMP}#x{color:var(--mark)}`,
    html: P,
    is: 'token --mark > --silt-900',
  },
  { name: 'two hops', css: `${RAMP}:root{--label:var(--mark)}#x{color:var(--label)}`, html: P, is: 'token --label > --silt-900' },
  { name: 'inherited', css: `${RAMP}body{color:var(--mark)}`, html: P, is: 'token --mark > --silt-900' },
  {
    name: 'a background',
    css: `${RAMP}#x{background:var(--wash)}`,
    html: P,
    property: 'background-color',
    is: 'token --wash > --tide-500',
  },
  { name: 'a literal', css: `${RAMP}#x{color:#273237}`, html: P, is: 'literal' },
  { name: 'a colour name', css: '#x{color:teal}', html: P, is: 'literal' },
  { name: 'nothing said: the browser’s own', html: P, is: 'system' },
  { name: 'a system colour', css: '#x{color:FieldText}', html: P, is: 'system' },
  { name: 'a link nobody coloured', html: '<a id=x href="/t">Tides</a>', is: 'system' },
  {
    name: 'alpha by color-mix with transparent (CSS Color 5 §3)',
    css: `${RAMP}#x{color:color-mix(in srgb,var(--mark) 40%,transparent)}`,
    html: P,
    is: 'token --mark*0.4 > --silt-900',
  },
  {
    name: 'color-mix in oklab with transparent',
    css: `${RAMP}#x{color:color-mix(in oklab,var(--mark) 60%,transparent)}`,
    html: P,
    is: 'token --mark*0.6 > --silt-900',
  },
  {
    name: 'a relative colour that only takes alpha (CSS Color 5 §4)',
    css: `${RAMP}#x{color:rgb(from var(--mark) r g b / 0.5)}`,
    html: P,
    is: 'token --mark*0.5 > --silt-900',
  },
  {
    name: 'a relative colour in oklch that only takes alpha',
    css: `${RAMP}#x{color:oklch(from var(--mark) l c h / 0.7)}`,
    html: P,
    is: 'token --mark*0.7 > --silt-900',
  },
  {
    name: 'a relative colour made darker',
    css: `${RAMP}#x{color:oklch(from var(--mark) calc(l * 0.8) c h)}`,
    html: P,
    is: 'derived --mark',
  },
  {
    name: 'a mix of two tokens',
    css: `${RAMP}#x{color:color-mix(in srgb,var(--mark),var(--wash))}`,
    html: P,
    is: 'derived --mark --wash',
  },
  {
    name: 'a mix of a token and a literal',
    css: `${RAMP}#x{color:color-mix(in srgb,var(--mark),white)}`,
    html: P,
    is: 'derived --mark',
  },
  {
    name: 'a derived colour kept in a property is that property',
    css: `${RAMP}:root{--deep:oklch(from var(--wash) calc(l * 0.6) c h)}#x{color:var(--deep)}`,
    html: P,
    is: 'token --deep',
  },
  {
    name: 'the first stop of a gradient',
    css: `${RAMP}#x{background:linear-gradient(var(--wash),var(--mark))}`,
    html: P,
    property: 'background-image',
    which: 0,
    is: 'token --wash > --tide-500',
  },
  {
    name: 'the second stop of a gradient',
    css: `${RAMP}#x{background:linear-gradient(var(--wash),var(--mark))}`,
    html: P,
    property: 'background-image',
    which: 1,
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a literal stop beside a token',
    css: `${RAMP}#x{background:linear-gradient(var(--wash),#123456)}`,
    html: P,
    property: 'background-image',
    which: 1,
    is: 'literal',
  },
  {
    name: 'a whole gradient in a property',
    css: ':root{--sky:linear-gradient(#339ec4,#fbfcfd)}#x{background:var(--sky)}',
    html: P,
    property: 'background-image',
    which: 1,
    is: 'token --sky',
  },
  {
    name: 'the colour of a shadow',
    css: `${RAMP}#x{box-shadow:0 2px 8px var(--mark)}`,
    html: P,
    property: 'box-shadow',
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a whole shadow in a property, alpha its own',
    css: ':root{--fall:0 1px 3px 0 rgb(13 26 34 / 0.16)}#x{box-shadow:var(--fall)}',
    html: P,
    property: 'box-shadow',
    is: 'token --fall',
  },
  {
    name: 'the second of two shadows',
    css: `${RAMP}:root{--fall:0 1px 3px rgb(13 26 34 / 0.2)}#x{box-shadow:0 0 4px #123456,var(--fall)}`,
    html: P,
    property: 'box-shadow',
    which: 1,
    is: 'token --fall',
  },
  {
    name: 'a text shadow',
    css: `${RAMP}#x{text-shadow:0 1px 4px var(--wash)}`,
    html: P,
    property: 'text-shadow',
    is: 'token --wash > --tide-500',
  },
  {
    name: 'a drop shadow',
    css: `${RAMP}#x{filter:drop-shadow(0 2px 4px var(--mark))}`,
    html: P,
    property: 'filter',
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a border',
    css: `${RAMP}#x{border:1px solid var(--mark)}`,
    html: '<input id=x>',
    property: 'border-top-color',
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a border that takes the ink (currentcolor)',
    css: `${RAMP}#x{color:var(--mark);border:1px solid}`,
    html: '<input id=x>',
    property: 'border-top-color',
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a whole border in a property',
    css: ':root{--rim:1px solid #586e78}#x{border:var(--rim)}',
    html: '<input id=x>',
    property: 'border-top-color',
    is: 'token --rim',
  },
  {
    name: 'the fill of a drawing’s shape',
    css: `${RAMP}path{fill:var(--mark)}`,
    html: '<button><svg id=x width=20 height=20><path d="M2 2h16v16z"/></svg></button>',
    property: 'fill',
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a stroke by attribute, from the ink',
    css: `${RAMP}button{color:var(--wash)}`,
    html: '<button><svg id=x width=20 height=20 fill=none><path stroke=currentColor stroke-width=2 d="M2 2h16v16z"/></svg></button>',
    property: 'stroke',
    is: 'token --wash > --tide-500',
  },
  {
    name: 'the text of a drawing',
    css: `${RAMP}text{fill:var(--mark)}`,
    html: '<svg width=100 height=40><text id=x x=5 y=20>Ebb</text></svg>',
    property: 'fill',
    is: 'token --mark > --silt-900',
  },
  {
    name: '-webkit-text-fill-color',
    css: `${RAMP}#x{-webkit-text-fill-color:var(--wash)}`,
    html: P,
    property: '-webkit-text-fill-color',
    is: 'token --wash > --tide-500',
  },
  {
    name: 'generated text',
    css: `${RAMP}#x::before{content:"Low ";color:var(--wash)}`,
    html: P,
    at: '#x::before',
    is: 'token --wash > --tide-500',
  },
  {
    name: 'generated text that declares the property itself',
    css: `${RAMP}#x::before{--own:var(--silt-900);content:"Low ";color:var(--own)}`,
    html: P,
    at: '#x::before',
    is: 'token --own > --silt-900',
  },
  {
    name: 'a placeholder',
    css: `${RAMP}#x::placeholder{color:var(--mark)}`,
    html: '<input id=x placeholder="Station">',
    at: '#x::placeholder',
    is: 'token --mark > --silt-900',
  },
  {
    name: 'inside a shadow tree, from outside',
    css: RAMP,
    html: '<gauge-x id=dial><template shadowrootmode=open><style>p{color:var(--mark)}</style><p id=x>Gauge</p></template></gauge-x>',
    at: '#dial >>> #x',
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a shadow tree that declares the property again on its host',
    css: RAMP,
    html: '<gauge-x id=dial><template shadowrootmode=open><style>:host{--mark:var(--tide-500)}p{color:var(--mark)}</style><p id=x>Gauge</p></template></gauge-x>',
    at: '#dial >>> #x',
    is: 'token --mark > --tide-500',
  },
  {
    name: 'a property that only the shadow tree knows',
    html: '<gauge-x id=dial><template shadowrootmode=open><style>p{--dial:#273237;color:var(--dial)}</style><p id=x>Gauge</p></template></gauge-x>',
    at: '#dial >>> #x',
    is: 'token --dial',
  },
  {
    name: 'a registered property (CSS Properties and Values 1)',
    css: '@property --ring{syntax:"<color>";inherits:true;initial-value:#017494}#x{color:var(--ring)}',
    html: P,
    is: 'token --ring',
  },
  {
    name: 'a registered property that does not inherit',
    css: '@property --spot{syntax:"<color>";inherits:false;initial-value:#017494}#x{--spot:#c43536;color:var(--spot)}',
    html: P,
    is: 'token --spot',
  },
  {
    name: 'a registered property that does not inherit and is declared nowhere',
    css: '@property --spot{syntax:"<color>";inherits:false;initial-value:#017494}#x{color:var(--spot)}',
    html: P,
    is: 'token --spot',
  },
  {
    name: 'a property that a script registered, which does not inherit',
    css: '#x{color:var(--spot)}',
    html: `${P}<script>CSS.registerProperty({name:'--spot',syntax:'<color>',inherits:false,initialValue:'#017494'})</script>`,
    is: 'token --spot',
  },
  {
    name: 'registered by a script, declared on the root, and again where it is used',
    css: ':root{--spot:#107a4c}#x{--spot:#c43536;color:var(--spot)}',
    html: `${P}<script>CSS.registerProperty({name:'--spot',syntax:'<color>',inherits:false,initialValue:'#017494'})</script>`,
    is: 'token --spot',
  },
  {
    name: 'declared under a condition inside a rule (CSS Nesting 1 §4)',
    css: ':root{--live:#017494}#x{@media all{--live:#c43536}color:var(--live)}',
    html: P,
    is: 'token --live',
  },
  {
    name: 'declared by a nested rule',
    css: ':root{--live:#017494;& p{--live:#c43536}}#x{color:var(--live)}',
    html: P,
    is: 'token --live',
  },
  {
    name: 'declared for a scope (CSS Cascade 6 §2.5)',
    css: ':root{--live:#017494}@scope (#x){:scope{--live:#c43536}}#x{color:var(--live)}',
    html: P,
    is: 'token --live',
  },
  {
    name: 'declared by a pseudo-element',
    css: ':root{--live:#017494}#x::before{--live:#c43536;content:"Gauge";color:var(--live)}',
    html: '<p id=x></p>',
    at: '#x::before',
    is: 'token --live',
  },
  { name: 'declared inline', css: '#x{color:var(--live)}', html: '<p id=x style="--live:#c43536">Gauge</p>', is: 'token --live' },
  { name: 'used inline', css: RAMP, html: '<p id=x style="color:var(--mark)">Gauge</p>', is: 'token --mark > --silt-900' },
  {
    name: 'set by script',
    css: '#x{color:var(--live)}',
    html: `${P}<script>document.documentElement.style.setProperty('--live','#107a4c')</script>`,
    is: 'token --live',
  },
  {
    name: 'a scope that declares the step again',
    css: `${RAMP}.dark{--silt-900:#dde0e1;--mark:var(--silt-900)}#x{color:var(--mark)}`,
    html: `<div class=dark>${P}</div>`,
    is: 'token --mark > --silt-900',
  },
  {
    name: 'a scope that points the token elsewhere',
    css: `${RAMP}.dark{--mark:var(--tide-500)}#x{color:var(--mark)}`,
    html: `<div class=dark>${P}</div>`,
    is: 'token --mark > --tide-500',
  },
  { name: 'a fallback that is used', css: `${RAMP}#x{color:var(--missing,#c43536)}`, html: P, is: 'token --missing (fallback)' },
  {
    name: 'a fallback that is another token',
    css: `${RAMP}#x{color:var(--missing,var(--mark))}`,
    html: P,
    is: 'token --missing > --silt-900 (fallback)',
  },
  { name: 'a fallback that is not used', css: `${RAMP}#x{color:var(--mark,#c43536)}`, html: P, is: 'token --mark > --silt-900' },
  {
    name: 'light-dark() of two tokens (CSS Color 5 §7)',
    css: `${RAMP}:root{color-scheme:light dark}#x{color:light-dark(var(--mark),var(--face))}`,
    html: P,
    is: 'token --mark > --silt-900',
  },
  {
    name: 'light-dark() of two literals',
    css: ':root{color-scheme:light dark}#x{color:light-dark(#273237,#dde0e1)}',
    html: P,
    is: 'literal',
  },
  { name: 'bare channels with commas', css: ':root{--reed:16, 122, 76}#x{color:rgb(var(--reed))}', html: P, is: 'token --reed' },
  {
    name: 'bare channels with alpha',
    css: ':root{--reed:16 122 76}#x{color:rgb(var(--reed) / 0.6)}',
    html: P,
    is: 'token --reed*0.6',
  },
  { name: 'bare channels of hsl', css: ':root{--reed:154 77% 27%}#x{color:hsl(var(--reed))}', html: P, is: 'token --reed' },
  {
    name: 'a wide-gamut token',
    css: ':root{--beacon:color(display-p3 0.1 0.7 0.4)}#x{color:var(--beacon)}',
    html: P,
    is: 'token --beacon',
  },
  { name: 'important beaten by the dye', css: `${RAMP}#x{color:var(--mark)!important}`, html: P, is: 'token --mark > --silt-900' },
  {
    name: 'an important declaration of the property',
    css: `${RAMP}:root{--mark:var(--tide-500)!important}#x{color:var(--mark)}`,
    html: P,
    is: 'token --mark > --tide-500',
  },
  { name: 'inside a cascade layer', css: `@layer base{${RAMP}#x{color:var(--mark)}}`, html: P, is: 'token --mark > --silt-900' },
  { name: 'a name with an escape', css: ':root{--tide\\/500:#339ec4}#x{color:var(--tide\\/500)}', html: P, is: 'token --tide/500' },
  { name: 'nested rules', css: `${RAMP}div{& #x{color:var(--wash)}}`, html: `<div>${P}</div>`, is: 'token --wash > --tide-500' },
  {
    name: 'a rule under a media query',
    css: `${RAMP}@media (min-width:1px){:root{--mark:#c43536}}#x{color:var(--mark)}`,
    html: P,
    is: 'token --mark',
  },
  {
    name: 'a property that a style query asks about is left alone',
    css: `${RAMP}:root{--mood:calm}@container style(--mood:calm){#x{color:var(--mark)}}`,
    html: `<div>${P}</div>`,
    is: 'token --mark > --silt-900',
  },
];
