// Accepting pictures. What it says has a line of its own above the buttons, so that no button ever moves under the pointer; more than
// one picture is asked about first, and each act can be taken back right here.
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { AcceptBody, ChangeGroup } from '../../api/changes.ts';
import { Refusal, tell } from '../client.ts';
import { AskingDialog } from '../parts/asking-dialog.tsx';
import { Button } from '../parts/choice.tsx';
import type { Query } from '../route.ts';
import { forgetAnswers } from '../use-answer.ts';
import { countText, numberText } from '../words.ts';
import { useChanges } from './use-changes.ts';

/** Holds no pictures. */
const NO_GROUP = '.none';

interface AcceptingProps {
  readonly token: string;
  readonly run: string;
  readonly group: ChangeGroup | null;
  readonly query: Query;
  /** Views in all groups, each once. */
  readonly total: number;
}

interface Wish {
  readonly what: AcceptBody['what'];
  readonly views: number;
  readonly of: string;
}

export function Accepting({ token, run, group, query, total }: AcceptingProps): JSX.Element {
  const { items: changes } = useChanges(run, group?.id ?? NO_GROUP);
  const change = changes.find(({ view }) => view === query['view']) ?? changes[0];
  const [note, setNote] = useState('');
  const [said, setSaid] = useState('');
  const [done, setDone] = useState<string | null>(null);
  const [wish, setWish] = useState<Wish | null>(null);

  const send = (work: Promise<string>): void => {
    work.then(setSaid, (error: unknown) => {
      setSaid(error instanceof Refusal ? `${error.message} ${error.hint}` : 'That did not work.');
    });
  };
  const accept = async (what: AcceptBody['what']): Promise<string> => {
    const { id, views } = await tell('accept', { run, what, note }, token);
    setDone(id);
    forgetAnswers();
    return `${countText(views, 'picture')} accepted.`;
  };
  const takeBack = async (acceptance: string): Promise<string> => {
    const { views } = await tell('undo', { acceptance }, token);
    setDone(null);
    forgetAnswers();
    return `${countText(views, 'picture')} taken back.`;
  };
  return (
    <form
      class="accept"
      aria-label="Accept"
      onSubmit={(event) => {
        event.preventDefault();
      }}
    >
      <p class="accept-said" role="status">
        {said}{' '}
        {done !== null && (
          <Button
            kind="quiet"
            onClick={() => {
              send(takeBack(done));
            }}
          >
            Take that back
          </Button>
        )}
      </p>
      <label for="accept-note">Note</label>
      <input
        id="accept-note"
        type="text"
        value={note}
        maxLength={2_000}
        placeholder="why this is right now"
        onInput={(event) => {
          setNote(event.currentTarget.value);
        }}
      />
      <Button
        kind="main"
        disabled={change === undefined}
        onClick={() => {
          if (change !== undefined) send(accept({ kind: 'views', views: [change.view] }));
        }}
      >
        Accept this picture
      </Button>
      <Button
        disabled={group === null}
        onClick={() => {
          if (group !== null)
            setWish({ what: { kind: 'group', group: group.id }, views: group.views, of: `of the group “${group.title}”` });
        }}
      >
        Accept the group ({numberText(group?.views ?? 0)}) …
      </Button>
      <Button
        disabled={total === 0}
        onClick={() => {
          setWish({ what: { kind: 'all' }, views: total, of: 'of all groups of this run' });
        }}
      >
        Accept all ({numberText(total)}) …
      </Button>
      {wish !== null && (
        <AskingDialog
          title={`Accept ${countText(wish.views, 'picture')} ${wish.of}?`}
          yes={`Accept ${countText(wish.views, 'picture')}`}
          onNo={() => {
            setWish(null);
          }}
          onYes={() => {
            setWish(null);
            send(accept(wish.what));
          }}
        >
          <p>They become what later runs are compared with. It can be taken back here and below.</p>
          <p class="quiet">{note === '' ? 'No note goes with it.' : `Note: ${note}`}</p>
        </AskingDialog>
      )}
    </form>
  );
}
