// What the report shows but neither ledger nor gate holds yet: whoever starts the server hands these in. Each may be left out;
// the screens then say what is missing.
import type { Ramp } from '../api/ramps.ts';
import type { judgeThemes } from '../../src/gate/judge-run.ts';

export interface ReportSources {
  /** The configuration's part that the gate needs, and when it was last written. */
  readonly criteria?: { readonly configuration: Parameters<typeof judgeThemes>[1] };
  /** Ramps of the token files as they are now, with the uses that a run counted. */
  readonly ramps?: (run: string) => Promise<readonly Ramp[]>;
}
