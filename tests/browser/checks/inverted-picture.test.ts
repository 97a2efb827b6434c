import { testCases } from './judge-cases.ts';

// Expected verdicts: Filter Effects 1; the product of all filters on the way counts, an even number of inversions cancels.
const PHOTO = '<img data-photo alt="quay" width="240" height="160">';
const SIGN = `<img alt="lock" width="64" height="64" src="data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64"><rect width="64" height="64" fill="#fff"/><path d="M8 8h20v48H8z" fill="#000"/></svg>')}">`;
const inside = (html: string): string => `<div class="i">${html}</div>`;
const NAIVE = 'invert(1) hue-rotate(180deg)';

testCases({
  check: 'inverted-picture',
  fires: [
    { name: 'a photo with a filter of its own', html: PHOTO, dusk: 'img{filter:invert(1)}' },
    { name: 'a photo inside a filtered part', html: inside(PHOTO), dusk: `.i{filter:${NAIVE}}` },
    { name: 'a photo inverted in part', html: PHOTO, dusk: 'img{filter:invert(.85)}' },
    { name: 'a photo with turned hues', html: PHOTO, dusk: 'img{filter:hue-rotate(120deg)}' },
    { name: 'a photo with hues turned back', html: PHOTO, dusk: 'img{filter:hue-rotate(-60deg)}' },
    {
      name: 'a video',
      html: inside('<video data-photo-poster width="240" height="160" aria-label="gate" muted></video>'),
      dusk: `.i{filter:${NAIVE}}`,
    },
    { name: 'a canvas', html: inside('<canvas data-photo-drawn width="240" height="160"></canvas>'), dusk: '.i{filter:invert(1)}' },
    {
      name: 'a background picture',
      html: inside('<div data-photo-behind style="width:240px;height:160px"></div>'),
      dusk: '.i{filter:invert(1)}',
    },
    { name: 'an emoji', html: inside('<p style="font-size:40px">⚓️ 🌊</p>'), dusk: '.i{filter:invert(1)}' },
    { name: 'three inversions', html: inside(`<div class="j">${PHOTO}</div>`), dusk: '.i,.j,img{filter:invert(1)}' },
    {
      name: 'a counter-filter that was forgotten on one of two',
      html: inside(`${PHOTO}<img class="k" data-photo alt="lock" width="240" height="160">`),
      dusk: `.i{filter:${NAIVE}}.k{filter:${NAIVE}}`,
    },
    { name: 'a sign under the filter of its part', html: inside(SIGN), dusk: '.i{filter:invert(1)}' },
    {
      name: 'a photo in an svg',
      html: inside('<svg width="240" height="160"><image width="240" height="160"/></svg>'),
      dusk: '.i{filter:invert(1)}',
    },
    { name: 'inverted and dimmed', html: PHOTO, dusk: 'img{filter:invert(1) brightness(.8) contrast(.9)}' },
    {
      name: 'a photo in a shadow tree',
      html: '<div class="i"><template shadowrootmode="open"><img data-photo alt="quay" width="200" height="120" style="background:#345" src="data:image/gif;base64,R0lGODlhAQABAIAAAAUEBAAAACwAAAAAAQABAAACAkQBADs="></template></div>',
      dusk: '.i{filter:invert(1)}',
    },
    { name: 'inverted after greying', html: PHOTO, dusk: 'img{filter:grayscale(1) invert(1)}' },
  ],
  silent: [
    {
      name: 'a picture that failed to load',
      html: '<div class="s"><img src="data:image/png;base64,AAAA" alt="Plan of the quay" width="240" height="160"></div>',
      dusk: '.s{filter:invert(1)}',
    },
    { name: 'no filter', html: PHOTO },
    {
      name: 'a sign in a button on a gradient',
      html: '<div class="g"><button class="b" aria-label="Close"></button></div>',
      css: `.g{width:400px;background:linear-gradient(90deg,#3aa0d8,#7a58a5,#e83283)}.b{display:block;width:60px;height:60px;padding:0;border:0;background:transparent url("data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16"><path d="m2 2 12 12M14 2 2 14" stroke="#000" stroke-width="2"/></svg>')}") center/16px no-repeat}`,
      dusk: '.b{filter:invert(1) grayscale(1) brightness(2)}',
    },
    { name: 'dimmed', html: PHOTO, dusk: 'img{filter:brightness(.8)}' },
    { name: 'less contrast and colour', html: PHOTO, dusk: 'img{filter:contrast(.9) saturate(.8)}' },
    { name: 'greyed', html: PHOTO, dusk: 'img{filter:grayscale(1)}' },
    { name: 'sepia', html: PHOTO, dusk: 'img{filter:sepia(.6)}' },
    { name: 'blurred', html: PHOTO, dusk: 'img{filter:blur(3px)}' },
    { name: 'with a shadow', html: PHOTO, dusk: 'img{filter:drop-shadow(0 4px 8px #000)}' },
    { name: 'inverted twice', html: inside(PHOTO), dusk: '.i,img{filter:invert(1)}' },
    { name: 'the naive filter undone on the photo', html: inside(PHOTO), dusk: `.i,img{filter:${NAIVE}}` },
    {
      name: 'hues turned and turned back',
      html: inside(PHOTO),
      dusk: '.i{filter:hue-rotate(90deg)}img{filter:hue-rotate(-90deg)}',
    },
    { name: 'a full turn', html: PHOTO, dusk: 'img{filter:hue-rotate(360deg)}' },
    { name: 'a slight turn', html: PHOTO, dusk: 'img{filter:hue-rotate(12deg)}' },
    { name: 'inverted a little', html: PHOTO, dusk: 'img{filter:invert(.1)}' },
    { name: 'the same filter in both themes', html: PHOTO, css: 'img{filter:invert(1)}' },
    { name: 'a sign with a filter of its own', html: SIGN, dusk: 'img{filter:invert(1)}' },
    { name: 'a filter beside the photo', html: `${inside('text')}${PHOTO}`, dusk: '.i{filter:invert(1)}' },
    { name: 'half transparent', html: PHOTO, dusk: 'img{opacity:.6;filter:opacity(.8)}' },
    { name: 'an emoji without filter', html: '<p style="font-size:40px">⚓️ 🌊</p>' },
  ],
});
