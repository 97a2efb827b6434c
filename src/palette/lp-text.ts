// A programme → the text form that solvers read (the LP format of the trade: objective, rows, bounds, whole numbers).
import type { Programme, Term } from './programme.ts';

/** Variables are called `x0`, `x1` … in the order of the list; rows `r0` …. */
export function lpText({ variables, rows }: Programme): string {
  const costs = variables.flatMap(({ cost }, variable): Term[] => (cost === 0 ? [] : [{ variable, factor: cost }]));
  const bounds = variables.map(({ lower, upper }, at) => `${bound(lower)} <= x${at} <= ${bound(upper)}`);
  const choices = variables.flatMap(({ isChoice }, at) => (isChoice === true ? [`x${at}`] : []));
  return [
    'Minimize',
    ` obj: ${costs.length === 0 ? '0 x0' : sum(costs)}`,
    'Subject To',
    ...rows.flatMap(({ terms, lower, upper }, at) => {
      const left = sum(terms);
      if (lower !== undefined && lower === upper) return [` r${at}: ${left} = ${number(lower)}`];
      return [
        ...(lower === undefined ? [] : [` r${at}l: ${left} >= ${number(lower)}`]),
        ...(upper === undefined ? [] : [` r${at}u: ${left} <= ${number(upper)}`]),
      ];
    }),
    'Bounds',
    ...bounds.map((line) => ` ${line}`),
    ...(choices.length === 0 ? [] : ['General', ...choices.map((name) => ` ${name}`)]),
    'End',
    '',
  ].join('\n');
}

/** Lines of some solvers end at 560 characters: a term a line. */
function sum(terms: readonly Term[]): string {
  return terms.map(({ variable, factor }) => `${factor < 0 ? '-' : '+'} ${number(Math.abs(factor))} x${variable}`).join('\n  ');
}

function bound(value: number): string {
  if (value === Infinity) return '+inf';
  return value === -Infinity ? '-inf' : number(value);
}

function number(value: number): string {
  // Twelve digits: a code of 255 is told apart by four.
  return String(Number(value.toPrecision(12)));
}
