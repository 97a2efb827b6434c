// The proposal: its changes, its name, what can be undone, and how it is taken away.
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import { Button } from '../parts/choice.tsx';
import { ask } from '../client.ts';
import { countText } from '../words.ts';
import { writeProposal } from './proposal-address.ts';

export function ProposalList({
  run,
  changes,
  name,
  css,
  canUndo,
  onUndo,
  onDrop,
  onName,
  onClear,
  onSetAside,
}: {
  readonly run: string;
  readonly changes: readonly ProposedChange[];
  readonly name: string;
  readonly css: () => string;
  readonly canUndo: boolean;
  readonly onUndo: () => void;
  readonly onDrop: (change: ProposedChange) => void;
  readonly onName: (name: string) => void;
  readonly onClear: () => void;
  /** To be compared with what comes next. */
  readonly onSetAside: () => void;
}): JSX.Element {
  const [taken, setTaken] = useState<{ readonly title: string; readonly text: string } | null>(null);
  const [said, setSaid] = useState('');
  const take = (title: string, text: string): void => {
    setTaken({ title, text });
    // Without a secure context there is no clipboard; the text stands below all the same.
    navigator.clipboard.writeText(text).then(
      () => {
        setSaid(`${title}: copied.`);
      },
      () => {
        setSaid(`${title}: shown below.`);
      },
    );
  };
  return (
    <section class="bench-part" aria-label="Proposal">
      <h2>Proposal</h2>
      <label class="bench-name">
        Name{' '}
        <input
          type="text"
          value={name}
          onChange={(event) => {
            onName(event.currentTarget.value);
          }}
        />
      </label>
      {changes.length === 0 ? (
        <p class="quiet">
          No change yet. Drag a point of a curve, press arrow keys on it, type a colour, or point a token elsewhere.
        </p>
      ) : (
        <ul class="bench-changes">
          {changes.map((change) => (
            <li key={`${change.token} ${change.theme}`}>
              <code>{change.token}</code> in {change.theme} → <code>{change.to}</code>{' '}
              <Button
                kind="quiet"
                onClick={() => {
                  onDrop(change);
                }}
              >
                take back<span class="unseen"> {change.token}</span>
              </Button>
            </li>
          ))}
        </ul>
      )}
      <div class="bench-tools">
        <Button kind="quiet" disabled={!canUndo} onClick={onUndo}>
          Undo
        </Button>
        <Button kind="quiet" disabled={changes.length === 0} onClick={onClear}>
          Take all back
        </Button>
        <Button kind="quiet" disabled={changes.length === 0} onClick={onSetAside}>
          Set aside to compare
        </Button>
        <Button
          kind="quiet"
          onClick={() => {
            take('Link', location.href);
          }}
        >
          Copy link
        </Button>
        <Button
          kind="quiet"
          disabled={changes.length === 0}
          onClick={() => {
            take('Custom properties', css());
          }}
        >
          Custom properties
        </Button>
        <Button
          kind="quiet"
          disabled={changes.length === 0}
          onClick={() => {
            void ask('benchPatch', { run }, { changes: writeProposal(changes) }).then(
              ({ patch, left }) => {
                take('Patch', [...left.map((words) => `# left: ${words}`), patch].join('\n'));
              },
              (error: unknown) => {
                setSaid(error instanceof Error ? error.message : String(error));
              },
            );
          }}
        >
          Patch of the token files
        </Button>
      </div>
      <p role="status" class="quiet">
        {said}
      </p>
      {taken !== null && (
        <>
          <pre class="bench-taken" tabIndex={0} aria-label={taken.title}>
            {taken.text}
          </pre>
          {taken.title === 'Patch' && (
            <p class="quiet">
              Apply it with <code>git apply</code>.
            </p>
          )}
        </>
      )}
      <p class="unseen" role="status">
        {countText(changes.length, 'change')}
      </p>
    </section>
  );
}
