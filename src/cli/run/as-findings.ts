// Findings of a view that are not stored yet, as the ledger would tell them.
import type { ViewFindings } from '../../ledger/records.ts';
import type { Finding } from '../../samples/finding.ts';

export function asFindings({ view, findings }: Pick<ViewFindings, 'view' | 'findings'>): readonly Finding[] {
  const { id, page, theme, state, viewport } = view;
  return findings.map(({ id: name, draft, exempt }) => ({
    ...draft,
    ...{ page, theme, state, viewport },
    id: name,
    view: id,
    since: '',
    status: exempt === undefined ? 'new' : 'exempt',
    cause: null,
  }));
}
