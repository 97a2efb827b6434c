// What a run did not look at, said above every screen: numbers of a part must not read as good news about the whole.
import type { JSX } from 'preact';
import type { Run } from '../../api/runs.ts';
import { href } from '../route.ts';
import { countText, numberText } from '../words.ts';

export function ScopeNote({ run }: { readonly run: Run }): JSX.Element | null {
  const said = scopeWords(run);
  if (said.length === 0) return null;
  return (
    <p class="scope" role="note">
      {said.join(' ')}
      {run.scope.unlooked > 0 && run.status === 'finished' && (
        <>
          {' '}
          <a href={href('tonight', { run: run.id })}>Which ones</a>
        </>
      )}
    </p>
  );
}

export function scopeWords({ scope, status }: Pick<Run, 'scope' | 'status'>): readonly string[] {
  const { narrowed, cut, part, looked, unlooked, pages } = scope;
  const said: string[] = [];
  if (status === 'running') said.push('This run is under way: numbers are those of the views it has come to.');
  if (narrowed)
    said.push(
      `This run was narrowed to ${countText(looked + unlooked, 'view')} of ${countText(pages, 'page')}; it says nothing of the rest.`,
    );
  if (part !== null)
    said.push(`This is part ${String(part.index)} of ${String(part.of)} of a run; it says nothing of the other parts.`);
  if (cut) said.push('This run was ended before its plan was done.');
  if (unlooked > 0 && status === 'finished')
    said.push(
      `${numberText(unlooked)} of ${countText(looked + unlooked, 'view')} ${unlooked === 1 ? 'was' : 'were'} not looked at: nothing here speaks of ${unlooked === 1 ? 'it' : 'them'}.`,
    );
  return said;
}
