// Where a finding is shown: on its page; what is wrong in the token files leads to its token.
import type { Finding } from '../../api/findings.ts';
import { href } from '../route.ts';

export function findingHref(run: string, { id, check, page, state, viewport, selector }: Finding): string {
  // Faults of places in a file, not of a token, are named by the file.
  if (check === 'token-fault') return href('token', { run, token: selector });
  return href('page', { run, page, state, viewport, finding: id });
}
