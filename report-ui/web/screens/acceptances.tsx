// What was accepted, newest first, and taking it back.
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Acceptance } from '../../api/changes.ts';
import type { Session } from '../../api/runs.ts';
import { tell } from '../client.ts';
import { Button } from '../parts/choice.tsx';
import { forgetAnswers, useAnswer } from '../use-answer.ts';
import { momentText } from '../words.ts';

export function Acceptances({ session }: { readonly session: Session }): JSX.Element | null {
  const asking = useAnswer('acceptances', { params: {}, query: {} });
  const list = asking.value?.acceptances ?? [];
  if (list.length === 0) return null;
  return (
    <section aria-labelledby="acceptances-title">
      <h2 id="acceptances-title">Accepted before</h2>
      <table class="table">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Who</th>
            <th scope="col">Note</th>
            <th scope="col" class="num">
              Pictures
            </th>
            <th scope="col">
              <span class="unseen">Take back</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {list.map((acceptance) => (
            <AcceptanceRow key={acceptance.id} acceptance={acceptance} token={session.token} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function AcceptanceRow({ acceptance, token }: { readonly acceptance: Acceptance; readonly token: string | null }): JSX.Element {
  const [said, setSaid] = useState('');
  const undo = (held: string): void => {
    tell('undo', { acceptance: acceptance.id }, held).then(
      () => {
        forgetAnswers();
      },
      (error: unknown) => {
        setSaid(error instanceof Error ? error.message : String(error));
      },
    );
  };
  return (
    <tr>
      <th scope="row">{momentText(acceptance.at)}</th>
      <td>{acceptance.who}</td>
      <td>{acceptance.note}</td>
      <td class="num">{acceptance.views.toLocaleString('en')}</td>
      <td>
        {acceptance.undone ? (
          <span class="quiet">taken back</span>
        ) : (
          token !== null && (
            <Button
              kind="quiet"
              label={`Take back what was accepted at ${momentText(acceptance.at)}`}
              onClick={() => {
                undo(token);
              }}
            >
              take back
            </Button>
          )
        )}
        {said}
      </td>
    </tr>
  );
}
