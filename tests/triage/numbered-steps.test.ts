import { expect, test } from 'vitest';
import { numberedSteps, repeatedSteps, stepBeside } from '../../src/triage/tokens/numbered-steps.ts';
import { tableOf } from './made-cases.ts';

// Derived from names and colours: a grey ramp, one that repeats it under another name, one of another colour, three levels of a surface.
const GREYS = ['#111111', '#444444', '#777777', '#aaaaaa', '#dddddd'];
const ramp = (stem: string, colors: readonly string[]): Record<string, readonly string[]> =>
  Object.fromEntries(colors.map((color, at) => [`${stem}-${String(at * 10 + 10)}`, [color, color]]));
const index = tableOf({
  ...ramp('--grey', GREYS),
  ...ramp('--neutral', GREYS),
  ...ramp('--tide', ['#0b1f24', '#16424c', '#2a7f8c', '#8fc7d0', '#d9eef1']),
  ...ramp('--level', ['#ffffff', '#fafafa', '#f5f5f5']),
  '--ink': ['{--neutral-20}', '{--neutral-40}'],
  '--lone-10': ['#111111', '#111111'],
});
const pathsOf = (tokens: Iterable<number>): readonly string[] => [...tokens].map(index.pathOf).toSorted();
const at = index.tokenAt;

test('tokens of one name that differ in their number are steps, from three of them on', () => {
  const stems = new Set(pathsOf(numberedSteps(index)).map((path) => path.replace(/\d+$/u, '')));
  expect([...stems].toSorted()).toEqual(['--grey-', '--level-', '--neutral-', '--tide-']);
});

test('a whole ramp that repeats another one number by number, and that one', () => {
  const stems = new Set(pathsOf(repeatedSteps(index)).map((path) => path.replace(/\d+$/u, '')));
  expect([...stems].toSorted()).toEqual(['--grey-', '--neutral-']);
});

test('what points at a step of a family is sent to a step of it where it has one of that colour', () => {
  expect(index.pathOf(stepBeside(index, at('--grey-30'), '--neutral-20', [0, 1]))).toBe('--neutral-30');
  expect(index.pathOf(stepBeside(index, at('--grey-30'), '--tide-20', [0, 1]))).toBe('--grey-30');
  expect(index.pathOf(stepBeside(index, at('--grey-30'), '--ink', [0, 1]))).toBe('--grey-30');
});
