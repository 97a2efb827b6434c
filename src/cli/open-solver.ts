// The solver of linear programmes: HiGHS, compiled to WebAssembly, asked in the LP format.
import loadHighs from 'highs';
import { lpText } from '../palette/lp-text.ts';
import type { Solver } from '../palette/programme.ts';

/** A programme with choices may take longer than anybody waits; what was found by then is taken. */
const MOST_SECONDS = 20;
/** Share of the cost by which a found answer may miss the best one. */
const GAP = 0.005;

export async function openSolver(): Promise<Solver> {
  const highs = await loadHighs();
  return (programme) => {
    const answer = highs.solve(lpText(programme), { time_limit: MOST_SECONDS, mip_rel_gap: GAP, output_flag: false });
    switch (answer.Status) {
      case 'Optimal':
      case 'Time limit reached':
      case 'Bound on objective reached':
      case 'Target for objective reached': {
        const values = programme.variables.map((_, at) => primalOf(answer.Columns[`x${at}`]));
        return values.some((value) => value === null)
          ? { status: 'gave-up', why: answer.Status }
          : { status: 'solved', values: values.map((value) => value ?? 0) };
      }
      case 'Infeasible':
      case 'Primal infeasible or unbounded':
        return { status: 'infeasible' };
      default:
        return { status: 'gave-up', why: answer.Status };
    }
  };
}

/** A variable that stands in no row and costs nothing is left out of an answer. */
function primalOf(column: object | undefined): number | null {
  if (column === undefined) return 0;
  return 'Primal' in column && typeof column.Primal === 'number' && Number.isFinite(column.Primal) ? column.Primal : null;
}
