import { expect, test } from 'vitest';
import type { PlaceModel } from './app-model.ts';
import type { Put } from './with-more.ts';
import { causesWith } from './with-more.ts';

// Derived: each place and each token was put in; contrasts by the definition of WCAG 2.2 SC 1.4.3.

const token = (path: string) => ({ kind: 'token', path }) as const;
const literal = (color: string) => ({ kind: 'literal', color }) as const;
const text = (page: string, selector: string, ink: string, on: string, ground: string): PlaceModel => ({
  ...{ kind: 'text', page, selector, ink: literal(ink), on: [token('face.page'), token(on)], opacity: 1, large: false, ground },
});
type Fill = ReturnType<typeof token> | ReturnType<typeof literal>;

const box = (page: string, selector: string, fill: Fill): PlaceModel => ({
  ...{ kind: 'surface', page, selector, fill, on: [token('face.page')], widthCssPx: 500, heightCssPx: 200 },
});

test('of tokens of one colour, a button takes the one that is called after buttons', () => {
  const colors = ['#e3e9ec', '#26323a', '#e3e9ec'] as const;
  const tokens: readonly Put[] = ['list.face', 'button.face', 'footer.face', 'button-selected.face'].map((path) => ({
    path,
    colors,
  }));
  const causes = causesWith(tokens, (page) => [
    ...tokens.map(({ path }) => box(page, `#${path.replace('.', '-')}`, token(path))),
    box(page, 'main > button.go', literal('#e3e9ec')),
  ]);
  expect(causes.map(({ repair }) => [repair?.of, repair?.to])).toEqual([['main > button.go', 'button.face']]);
});

// #5b6770 reaches 5.7:1 on white and is #a7b4bd in dusk, 8.6:1 on its dark ground; on the sheet that stays white there, 2.1:1.
test('where no one token does for all that wear a literal, each ground has its own', () => {
  const tokens: readonly Put[] = [
    { path: 'note.ink', colors: ['#5b6770', '#a7b4bd', '#5b6770'] },
    { path: 'sheet.face', colors: ['#fffefd', '#fffefd', '#fffefd'] },
  ];
  const causes = causesWith(tokens, (page) => [
    box(page, '#sheet', token('sheet.face')),
    text(page, '#on-sheet', '#5b6770', 'sheet.face', '#sheet'),
    text(page, '#on-card', '#5b6770', 'face.raised', `#${page}-card`),
    text(page, '#beside', '#5b6770', 'face.raised', `#${page}-card`),
    { ...{ kind: 'text', page, selector: '#said', ink: token('note.ink'), opacity: 1, large: false }, on: [token('face.page')] },
  ]);
  const found = causes.flatMap(({ repair }) => (repair?.from === '#5b6770' ? [repair.to] : []));
  expect(found).toEqual(['note.ink']);
  expect(causes[0]?.findings).toBe(causes[0]?.repair?.fixes);
});

// #00605a stays readable in stark, where its token is #004a45 and two others of that colour changed with it.
test('a literal that stayed beside others of its colour is mended by their token, in each theme', () => {
  const causes = causesWith([{ path: 'tide.fg', colors: ['#00605a', '#5fd0c5', '#00302c'] }], (page) => [
    ...['#ebb', '#flow', '#slack', '#stand'].map((selector): PlaceModel => ({
      ...{ kind: 'text', page, selector, ink: token('tide.fg'), opacity: 1, large: false },
      on: [token('face.page')],
    })),
    { ...{ kind: 'text', page, selector: '#rise', ink: literal('#00605a'), opacity: 1, large: false }, on: [token('face.page')] },
  ]);
  expect(causes.map(({ repair, themes }) => [repair?.of, repair?.to, themes])).toEqual([['#rise', 'tide.fg', ['dusk', 'stark']]]);
  expect(causes[0]?.findings).toBe(causes[0]?.repair?.fixes);
});
