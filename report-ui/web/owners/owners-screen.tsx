// Owners: what each has now, how it went, and the way to their list.
import type { JSX } from 'preact';
import type { OwnerRow } from '../../api/owners.ts';
import { listHref } from '../list/list-asked.ts';
import { Empty, Waiting } from '../parts/bits.tsx';
import { StackTable, Value } from '../parts/table.tsx';
import { href } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, momentText, numberText } from '../words.ts';
import type { ScreenProps } from '../screens/screen-props.ts';

export function OwnersScreen({ run }: ScreenProps): JSX.Element {
  const asking = useAnswer('owners', { params: { run: run.id }, query: {} });
  const rows = asking.value?.rows ?? [];
  const days = asking.value?.days ?? 0;
  return (
    <>
      <div class="head">
        <h1>Owners</h1>
        {asking.value !== undefined && <p class="head-note">Open findings; exempt ones are left out.</p>}
      </div>
      {asking.value === undefined ? (
        <Waiting asking={asking} what="the owners" />
      ) : rows.length === 0 ? (
        <Empty title="Nothing is open, and nobody owns anything.">
          <p>Owners are named in the configuration, by page or by selector.</p>
        </Empty>
      ) : (
        <section class="panel" aria-label="Owners">
          <StackTable
            name="Owners"
            caption="Findings by owner"
            columns={[
              'Owner',
              { num: 'Open' },
              { num: 'Errors' },
              { num: `In ${String(days)} days` },
              { num: 'New' },
              { num: 'Mended' },
              'Trend',
              'Handed on',
            ]}
          >
            {rows.map((row) => (
              <Row key={row.owner} row={row} run={run.id} days={days} />
            ))}
          </StackTable>
        </section>
      )}
    </>
  );
}

function Row({ row, run, days }: { readonly row: OwnerRow; readonly run: string; readonly days: number }): JSX.Element {
  const { owner, open, errors, fresh, gone, before, trend, handed } = row;
  const number = (count: number, filter: Parameters<typeof listHref>[1]): JSX.Element | string =>
    count === 0 ? '0' : <a href={listHref(run, { owner, ...filter })}>{numberText(count)}</a>;
  return (
    <tr role="row">
      <th scope="row" role="rowheader">
        {owner === '-' ? 'nobody' : owner}
      </th>
      <Value name="Open" class="num">
        {number(open, {})}
      </Value>
      <Value name="Errors" class="num">
        {number(errors, { level: 'error' })}
      </Value>
      <Value name={`In ${String(days)} days`} class="num">
        {before === null ? <span title={`No whole run is ${String(days)} days older.`}>–</span> : changeText(open - before)}
      </Value>
      <Value name="New" class="num">
        {number(fresh, { status: 'new' })}
      </Value>
      <Value name="Mended" class="num">
        {numberText(gone)}
      </Value>
      <Value name="Trend">
        <Trend trend={trend} />
      </Value>
      <Value name="Handed on">
        {handed.map(({ id, cause, note, who, at }) => (
          <span key={id} class="owner-handed">
            <a href={href('causes', { run, cause })}>{note === '' ? cause : note}</a>{' '}
            <span class="quiet">
              {who}, {momentText(at)}
            </span>
          </span>
        ))}
      </Value>
    </tr>
  );
}

function changeText(by: number): string {
  return by === 0 ? '±0' : `${by > 0 ? '+' : '−'}${numberText(Math.abs(by))}`;
}

const WIDTH = 120;
const HEIGHT = 26;

/** Filled from the ground up, like a tide; with the numbers of both ends for those who cannot see it. */
function Trend({ trend }: { readonly trend: OwnerRow['trend'] }): JSX.Element | null {
  const most = Math.max(1, ...trend.map(([, count]) => count));
  if (trend.length < 2) return <span class="quiet">one run</span>;
  const points = trend.map(
    ([, count], at) => `${((WIDTH * at) / (trend.length - 1)).toFixed(1)} ${(HEIGHT - (HEIGHT - 3) * (count / most)).toFixed(1)}`,
  );
  const [first] = trend;
  const last = trend.at(-1);
  return (
    <svg
      class="owner-trend"
      width={WIDTH}
      height={HEIGHT}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`${countText(trend.length, 'run')}: from ${numberText(first?.[1] ?? 0)} to ${numberText(last?.[1] ?? 0)}, at most ${numberText(most)}`}
    >
      <path class="owner-trend-fill" d={`M0 ${HEIGHT}L${points.join('L')}L${WIDTH} ${HEIGHT}z`} />
      <path class="owner-trend-line" d={`M${points.join('L')}`} />
    </svg>
  );
}
