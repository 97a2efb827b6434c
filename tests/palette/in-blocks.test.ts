import { beforeAll, expect, test } from 'vitest';
import { openSolver } from '../../src/cli/open-solver.ts';
import { inBlocks } from '../../src/palette/in-blocks.ts';
import type { Programme, Solver } from '../../src/palette/programme.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await openSolver();
});

const free = { lower: 0, upper: 10, cost: 1 };
const one = (variable: number): { variable: number; factor: number } => ({ variable, factor: 1 });

// Derived: x0 + x2 ≥ 3 at costs 1 and 2 takes x0 alone; x1 ≥ 4 stands for itself; x3 is a choice that x4 ≤ 1 pays for; x5 is in no row.
const PROGRAMME: Programme = {
  variables: [free, free, { ...free, cost: 2 }, { lower: 0, upper: 1, cost: 5, isChoice: true }, { ...free, upper: 1 }, free],
  rows: [
    { terms: [one(0), one(2)], lower: 3 },
    { terms: [one(1)], lower: 4 },
    { terms: [one(3), one(4)], lower: 2 },
  ],
};

test('blocks that share no row are asked one by one, equal ones once, and say what the whole would', () => {
  const asked: Programme[] = [];
  const solve = inBlocks((programme) => {
    asked.push(programme);
    return solver(programme);
  });
  expect(solve(PROGRAMME)).toEqual({ status: 'solved', values: [3, 4, 0, 1, 1, 0] });
  expect(asked.map(({ variables, rows }) => [variables.length, rows.length])).toEqual([
    [2, 1],
    [1, 1],
    [2, 1],
  ]);
  expect(solver(PROGRAMME)).toEqual({ status: 'solved', values: [3, 4, 0, 1, 1, 0] });
  solve({ ...PROGRAMME, rows: PROGRAMME.rows.map((row, at) => (at === 1 ? { ...row, lower: 5 } : row)) });
  expect(asked).toHaveLength(4);
});

test('what contradicts itself in one block contradicts itself', () => {
  const rows = [...PROGRAMME.rows, { terms: [one(1)], upper: 2 }];
  expect(inBlocks(solver)({ ...PROGRAMME, rows })).toEqual({ status: 'infeasible' });
});
