// Two proposals side by side: what each changes and what it comes to, by theme and check.
import type { JSX } from 'preact';
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import type { Weighed } from '../../../src/forecast/weigh-proposal.ts';
import { Button } from '../parts/choice.tsx';
import { TableHead } from '../parts/table.tsx';

export interface Side {
  readonly name: string;
  readonly changes: readonly ProposedChange[];
  readonly weighed: Weighed | null;
}

const NOTHING = { mends: 0, breaks: 0, leaves: 0 } as const;

export function ComparePart({
  sides,
  onSwap,
  onDrop,
}: {
  readonly sides: readonly [Side, Side];
  readonly onSwap: () => void;
  readonly onDrop: () => void;
}): JSX.Element {
  const keys = [...new Set(sides.flatMap(({ weighed }) => (weighed?.rows ?? []).map(({ theme, check }) => `${theme}\n${check}`)))];
  const tokens = [...new Set(sides.flatMap(({ changes }) => changes.map(({ token, theme }) => `${token}\n${theme}`)))];
  const [one, other] = sides;
  return (
    <section class="bench-part" aria-label="Compared">
      <h2>
        {one.name} beside {other.name}
      </h2>
      <table class="table">
        <caption class="unseen">What both come to, by theme and check</caption>
        <TableHead columns={['Theme', 'Check', ...sides.map(({ name }) => name)]} />
        <tbody>
          {keys.map((key) => {
            const [theme = '', check = ''] = key.split('\n');
            return (
              <tr key={key}>
                <th scope="row">{theme}</th>
                <td>{check}</td>
                {sides.map(({ name, weighed }) => (
                  <Numbers key={name} {...(weighed?.rows.find((row) => row.theme === theme && row.check === check) ?? NOTHING)} />
                ))}
              </tr>
            );
          })}
          <tr>
            <th scope="row">all</th>
            <td />
            {sides.map(({ name, weighed }) => (
              <Numbers key={name} {...(weighed ?? NOTHING)} />
            ))}
          </tr>
        </tbody>
      </table>
      <table class="table">
        <caption class="unseen">What both change</caption>
        <TableHead columns={['Token', 'Theme', one.name, other.name]} />
        <tbody>
          {tokens.map((key) => {
            const [token = '', theme = ''] = key.split('\n');
            return (
              <tr key={key}>
                <th scope="row">
                  <code>{token}</code>
                </th>
                <td>{theme}</td>
                {sides.map(({ name, changes }) => (
                  <td key={name}>{changes.find((each) => each.token === token && each.theme === theme)?.to ?? 'as it is'}</td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
      <div class="bench-tools">
        <Button kind="quiet" onClick={onSwap}>
          Swap: work on {other.name}
        </Button>
        <Button kind="quiet" onClick={onDrop}>
          Drop {other.name}
        </Button>
      </div>
    </section>
  );
}

function Numbers({
  mends,
  breaks,
  leaves,
}: {
  readonly mends: number;
  readonly breaks: number;
  readonly leaves: number;
}): JSX.Element {
  return (
    <td>
      {mends} mends, <span class={breaks > 0 ? 'bench-worse' : ''}>{breaks} breaks</span>, {leaves} leaves
    </td>
  );
}
