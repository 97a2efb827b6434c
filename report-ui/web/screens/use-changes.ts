// The pictures of one group of changes.
import type { Change } from '../../api/changes.ts';
import { useList } from '../use-answer.ts';
import type { Listed } from '../use-answer.ts';

export function useChanges(run: string, group: string): Listed<Change> {
  return useList('changes', { run }, { group }, (answer) => ({ items: answer.changes, next: answer.next }));
}
