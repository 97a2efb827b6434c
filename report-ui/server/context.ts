// What every answer needs.
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { Session } from '../api/runs.ts';
import type { GivenAnswers } from './given-answers.ts';
import type { Indexes } from './indexes.ts';
import type { Nights } from './nights.ts';
import type { RunModels } from './run-model.ts';
import type { ReportSources } from './sources.ts';

export interface ServerContext {
  readonly ledger: Ledger;
  readonly models: RunModels;
  readonly indexes: Indexes;
  readonly answers: GivenAnswers;
  readonly nights: Nights;
  readonly sources: ReportSources;
  /** All of the session's answer that does not change. */
  readonly session: Omit<Session, 'newest' | 'runs'>;
}
