// A number of findings in a table: the way to the list of just these.
import type { JSX } from 'preact';
import type { ListFilter } from '../../api/list.ts';
import { listHref } from '../list/list-asked.ts';
import { numberText } from '../words.ts';

interface CountedProps {
  readonly run: string;
  readonly count: number;
  readonly filter: ListFilter;
  readonly bold?: boolean;
}

export function Counted({ run, count, filter, bold = false }: CountedProps): JSX.Element {
  const text = bold && count > 0 ? <b>{numberText(count)}</b> : numberText(count);
  return <td class="num">{count === 0 ? text : <a href={listHref(run, filter)}>{text}</a>}</td>;
}
