// The solver of linear programmes: HiGHS, compiled to WebAssembly, asked in the LP format.
import loadHighs from 'highs';
import type { Model } from 'highs';
import { lpText } from '../palette/lp-text.ts';
import type { Programme, Solved, Solver } from '../palette/programme.ts';

/**
 * A programme with choices may take longer than anybody waits; what was found by then is taken. The search ends after so many nodes, not
 * after a time: what is found hangs on no clock. With 500, made systems moved 1 to 4 % more than with four times the time (measured).
 */
const MOST_NODES = 500;
/** Should nodes be that slow. */
const MOST_SECONDS = 60;
/** Share of the cost by which a found answer may miss the best one. */
const GAP = 0.005;

/** Of the solver's own numbers for how a search ended (`HighsModelStatus`). */
const ENDED = { infeasible: 8, unboundedOrInfeasible: 9 } as const;
/** `primal_solution_status`: what it has obeys all rows. */
const OBEYS = 2;

export async function openSolver(): Promise<Solver> {
  const highs = await loadHighs();
  return (programme) =>
    highs.withModel({ format: 'lp', data: lpText(programme) }, (model) => {
      model.options.set({ time_limit: MOST_SECONDS, mip_max_nodes: MOST_NODES, mip_rel_gap: GAP, output_flag: false });
      const { modelStatus } = model.run();
      return answerOf(programme, model, modelStatus);
    });
}

function answerOf({ variables }: Programme, model: Model, status: number): Solved {
  if (status === ENDED.infeasible || status === ENDED.unboundedOrInfeasible) return { status: 'infeasible' };
  if (model.info.get('primal_solution_status') !== OBEYS)
    return { status: 'gave-up', why: `the search ended without an answer (status ${String(status)} of the solver)` };
  // A variable that stands in no row and costs nothing is left out.
  const values = variables.map(() => 0);
  model.getSolution().colValue.forEach((value, column) => {
    values[Number(model.getColName(column).slice(1))] = value;
  });
  return { status: 'solved', values };
}
