// A programme that falls apart, solved block by block: themes with ramps of their own have nothing to do with each other, and what a
// solver needs grows much quicker than the programme.
import type { Programme, Constraint, Solved, Solver, Variable } from './programme.ts';

interface Block {
  readonly variables: Variable[];
  readonly rows: Constraint[];
  /** Of each variable, its place in the whole. */
  readonly places: number[];
}

/** @returns a solver that asks `solver` about each block, and once only about equal ones; the answer is that of the whole */
export function inBlocks(solver: Solver): Solver {
  const known = new Map<string, Solved>();
  const solve = (block: Programme): Solved => {
    const text = JSON.stringify(block);
    const found = known.get(text) ?? solver(block);
    known.set(text, found);
    return found;
  };
  return (programme) => {
    const values = programme.variables.map(({ lower, upper }) => Math.min(Math.max(0, lower), upper));
    for (const { variables, rows, places } of blocksOf(programme)) {
      const solved = solve({ variables, rows });
      if (solved.status !== 'solved') return solved;
      places.forEach((place, at) => {
        values[place] = solved.values[at] ?? 0;
      });
    }
    return { status: 'solved', values };
  };
}

function blocksOf({ variables, rows }: Programme): readonly Block[] {
  const root = variables.map((_, at) => at);
  const find = (at: number): number => {
    let top = at;
    while (root[top] !== top) top = root[top] ?? top;
    let each = at;
    while (root[each] !== top) [each, root[each]] = [root[each] ?? top, top];
    return top;
  };
  for (const { terms } of rows) {
    const [first] = terms;
    if (first !== undefined) for (const { variable } of terms) root[find(variable)] = find(first.variable);
  }
  const blocks = new Map<number, Block>();
  const own = variables.map((variable, at) => {
    const block = blockAt(blocks, find(at));
    block.places.push(at);
    return block.variables.push(variable) - 1;
  });
  for (const row of rows) {
    const [first] = row.terms;
    if (first === undefined) continue;
    const terms = row.terms.map(({ variable, factor }) => ({ variable: own[variable] ?? 0, factor }));
    blockAt(blocks, find(first.variable)).rows.push({ ...row, terms });
  }
  // A variable in no row is as cheap as its bounds let it be.
  return [...blocks.values()].filter((block) => block.rows.length > 0);
}

function blockAt(blocks: Map<number, Block>, at: number): Block {
  const block = blocks.get(at) ?? { variables: [], rows: [], places: [] };
  blocks.set(at, block);
  return block;
}
