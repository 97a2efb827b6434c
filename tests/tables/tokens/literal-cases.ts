// Source texts and the literal colours in them, and what only looks like one. Derived: by CSS Color 4 (notations), CSS Syntax 3 (what is
// a string, a comment, an address, an identifier), CSS Custom Properties 1, and the documented rules of Sass and of scripts.
export interface LiteralCase {
  readonly file: 'a.css' | 'a.scss' | 'a.ts' | 'a.tsx' | 'a.js';
  readonly text: string;
  /** `line:column text property role`, a dash for no role; `!` where no var() may be put. */
  readonly found: readonly string[];
  readonly why: string;
}

export const LITERAL_CASES: readonly LiteralCase[] = [
  { file: 'a.css', text: '.dial { color: #1f6feb }', found: ['1:16 #1f6feb color ink'], why: 'hex' },
  { file: 'a.css', text: '.a{color:#abc}\r\n.b{fill:#ABCD}\r\n', found: ['1:10 #abc color ink', '2:9 #ABCD fill glyph'], why: 'short hex; CRLF' },
  {
    file: 'a.css',
    text: '.a { background: url(#fff) tan, url("a#abc.png") }',
    found: ['1:28 tan background surface'],
    why: 'an address is no colour, the name beside it is one',
  },
  {
    file: 'a.css',
    text: '.a { border: 1px solid rgb(1 2 3 / 50%) }',
    found: ['1:24 rgb(1 2 3 / 50%) border edge'],
    why: 'one colour of several parts',
  },
  {
    file: 'a.css',
    text: '.a { background-image: linear-gradient(to right, red, hsl(120deg 50% 50%) 40%, #0000) }',
    found: [
      '1:50 red background-image surface',
      '1:55 hsl(120deg 50% 50%) background-image surface',
      '1:80 #0000 background-image surface',
    ],
    why: 'each stop of a gradient',
  },
  { file: 'a.css', text: '.a { box-shadow: 0 1px 2px oklch(20% .02 250), inset 0 0 0 1px Teal }', found: ['1:28 oklch(20% .02 250) box-shadow shadow', '1:64 Teal box-shadow shadow'], why: 'each shadow; names in any case' },
  { file: 'a.css', text: '.a { filter: blur(1px) drop-shadow(0 0 2px navy) }', found: ['1:44 navy filter shadow'], why: 'drop-shadow' },
  { file: 'a.css', text: '.a { color: color-mix(in srgb, red 20%, var(--b)) }', found: ['1:32 red color ink'], why: 'inside a mix' },
  { file: 'a.css', text: '.a { color: rgb(from #1f6feb r g b / 50%) }', found: ['1:22 #1f6feb color ink'], why: 'origin of a relative colour' },
  { file: 'a.css', text: '.a { color: rgb(var(--r) 2 3) }', found: [], why: 'no fixed colour' },
  { file: 'a.css', text: '.a { color: var(--b, #fff) }', found: ['1:22 #fff color ink !'], why: 'a fallback' },
  { file: 'a.css', text: '.a { color: light-dark(#111, #eee) }', found: ['1:24 #111 color ink !', '1:30 #eee color ink !'], why: 'a colour for each tone' },
  { file: 'a.css', text: '.a { color: transparent; background: currentcolor; border-color: inherit; outline-color: Canvas }', found: [], why: 'keywords and system colours' },
  { file: 'a.css', text: '/* color: #fff */ .a { color: /* #000 */ red /* tan */ }', found: ['1:42 red color ink'], why: 'comments' },
  { file: 'a.css', text: '.tan, #fff, .a[data-x="#fff"] { margin: 0 } .red:hover { content: "#fff tan" }', found: [], why: 'names, ids, attributes, strings' },
  { file: 'a.css', text: '.a { animation: red 1s; font-family: Tan, navy; grid-area: gold; transition: color 1s; will-change: color; view-transition-name: snow }', found: [], why: 'names of other things' },
  { file: 'a.css', text: '.a { mask-image: linear-gradient(#000, transparent); -webkit-mask: linear-gradient(red, blue) }', found: [], why: 'a mask shows alpha only' },
  { file: 'a.css', text: '.a { border-width: 1px; border-radius: 2px; outline-offset: 1px }', found: [], why: 'lengths' },
  { file: 'a.css', text: '.a { width: 100; --n: 100; --w: face; --z: add }', found: [], why: 'digits and words of hex digits without #' },
  { file: 'a.css', text: ':root { --dial: #1f6feb; --word: tan }', found: ['1:17 #1f6feb --dial -', '1:34 tan --word -'], why: 'custom properties; what they are for is said by their uses' },
  { file: 'a.css', text: '@property --p { syntax: "<color>"; inherits: true; initial-value: #fff }', found: ['1:67 #fff initial-value - !'], why: 'descriptors take no var()' },
  { file: 'a.css', text: '@media (prefers-color-scheme: dark) { .a { color: #eee !important } }', found: ['1:51 #eee color ink'], why: 'inside @media; !important' },
  { file: 'a.css', text: '@import url(#fff); @charset "#fff"; @namespace url(#abc);', found: [], why: 'at-rules' },
  { file: 'a.css', text: '.a { *color: #fff; _color: #000 }', found: ['1:14 #fff color ink', '1:28 #000 color ink'], why: 'old tricks do not stop the reader' },
  { file: 'a.css', text: '.a { color: #ff; background: #fffff #ggg; border-color: #1234567 }', found: [], why: 'not that many digits' },
  { file: 'a.css', text: '.a { color: attr(data-c tan, red) }', found: [], why: 'arguments of attr() are names' },
  { file: 'a.scss', text: '$ink: #111; // was #222\n.a { color: $ink; // tan\n  background: #fff; }', found: ['1:7 #111 $ink - !', '3:15 #fff background surface'], why: 'comments to the end of the line; Sass variables' },
  { file: 'a.scss', text: '.a { color: darken(#abc, 10%); background: rgba(#fff, .5); &:hover { color: #123 } }', found: ['1:20 #abc color ink !', '1:49 #fff background surface !', '1:77 #123 color ink'], why: 'Sass works its functions out' },
  { file: 'a.scss', text: '.a { border: { color: #abc; width: 1px } text: tan { decoration: #def } }', found: ['1:23 #abc border-color edge', '1:66 #def text-decoration ink'], why: 'nested properties' },
  { file: 'a.scss', text: '.a { @include band(#abc, tan); background: url(//x/#{$n}#fff.png) }', found: ['1:20 #abc @include - !'], why: 'a mixin; an address with //' },
  { file: 'a.scss', text: '$m: (deep: #012, tan: red);', found: ['1:12 #012 $m - !', '1:18 tan $m - !', '1:23 red $m - !'], why: 'maps: names are judged by the uses of the variable' },
  { file: 'a.ts', text: "const style = { color: '#1f6feb', backgroundColor: \"tan\", border: `1px solid #abc` };", found: ['1:25 #1f6feb color ink !', '1:53 tan background-color surface !', '1:78 #abc border edge !'], why: 'values of style properties' },
  { file: 'a.ts', text: "el.style.color = on ? '#111' : 'red'; el.style.setProperty('background', 'navy'); find('#add'); a === '#123456';", found: ['1:24 #111 color ink !', '1:33 red color ink !', '1:75 navy background surface !'], why: 'assignments; arguments and comparisons are none' },
  { file: 'a.ts', text: "const deep = '#0b3d4f', id = '#face', word = 'tan', list = ['#123', 'rgb(1 2 3)'];", found: ['1:15 #0b3d4f deep - !', '1:62 #123 list - !', '1:70 rgb(1 2 3) list - !'], why: 'kept values must be colours as a whole, and no words' },
  { file: 'a.ts', text: "type T = '#fff000'; import x from '#abcdef'; const y = <T>'a'; // '#111111'", found: [], why: 'types, imports, comments' },
  { file: 'a.ts', text: 'const c = css`.a { color: #abc; margin: ${x}; /* tan */ fill: red }`;', found: ['1:27 #abc color ink !', '1:63 red fill glyph !'], why: 'a template of styles' },
  { file: 'a.tsx', text: '<a href="#abc" className="tan" style={{ color: "red" }}><path fill="#123"/><Badge color="tan" fill="#345"/></a>', found: ['1:49 red color ink !', '1:69 #123 fill glyph !', '1:101 #345 fill glyph !'], why: 'JSX: a name given to a component is its own' },
  { file: 'a.js', text: "ctx.fillStyle = '#0b3d4f'; const a = `${b}#fff`;", found: ['1:18 #0b3d4f fill-style - !'], why: 'canvas; texts with holes' },
];
