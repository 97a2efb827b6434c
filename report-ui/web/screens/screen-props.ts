// What every screen gets.
import type { Run, Session } from '../../api/runs.ts';
import type { Query } from '../route.ts';

export interface ScreenProps {
  readonly session: Session;
  readonly run: Run;
  readonly query: Query;
}
