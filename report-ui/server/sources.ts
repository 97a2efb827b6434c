// What the report shows but neither ledger nor gate holds yet: whoever starts the server hands these in. Each may be left out;
// the screens then say what is missing.
import type { BenchBegin, BenchPatch, ChangedLook, Work } from '../api/bench.ts';
import type { Ramp } from '../api/ramps.ts';
import type { TokenTheme } from '../api/token.ts';
import type { ExemptionWish } from '../../src/gate/exemption-for.ts';
import type { Finding } from '../../src/samples/finding.ts';
import type { SampleVerdict } from '../../src/samples/sample-verdict.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { judgeThemes } from '../../src/gate/judge-run.ts';

export interface ReportSources {
  /** The configuration's part that the gate needs, and when it was last written. */
  readonly criteria?: { readonly configuration: Parameters<typeof judgeThemes>[1] };
  /** Ramps of the token files as they are now, with the uses that a run counted. */
  readonly ramps?: (run: string) => Promise<readonly Ramp[]>;
  /** Every token with the colours it has, for searching. */
  readonly tokens?: () => readonly { readonly token: string; readonly colors: readonly string[] }[];
  /** One token of the files, with what it paints in a run; null where the files have no such token. */
  readonly token?: (run: string, token: string) => Promise<TokenFacts | null>;
  /** Writes an exemption into the configuration; null where its file may not be written. `undo`: whether the file was put back. */
  readonly exempt?: (
    finding: Finding,
    wish: ExemptionWish,
  ) => Promise<{ readonly file: string; readonly undo: () => Promise<boolean> } | null>;
  /** For the bench: the cases of a run as text that the page understands, and a proposal as a patch. */
  readonly bench?: {
    cases(run: string): Promise<string>;
    patch(changes: string): Promise<BenchPatch>;
    /** Places of a view whose colours a proposal changes. */
    looks(run: string, view: string, changes: string): Promise<readonly ChangedLook[]>;
    /** A view of the live app with the proposal worn, as PNG; absent where nobody may start a browser. @throws bench-busy, bench-unable */
    picture?(run: string, view: string, changes: string): Promise<Uint8Array>;
    readonly work?: BenchWorker;
  };
}

/** Work that takes a process of its own: one at a time, bounded in time. */
export interface BenchWorker {
  /** The last that was begun. */
  now(): Work | null;
  /** @throws bench-busy */
  begin(wish: BenchBegin): Promise<Work>;
  /** Returns when it has ended; does nothing where it has already, or where another one is under way. */
  end(id: string): Promise<Work | null>;
  close(): Promise<void>;
}

export interface TokenFacts {
  readonly ramp: string | null;
  readonly themes: readonly TokenTheme[];
  readonly users: readonly string[];
  readonly places: readonly PaintedAt[];
}

/** A place that a token paints, as the samples have it. */
export interface PaintedAt {
  readonly view: string;
  readonly key: string;
  readonly selector: string;
  readonly rect: Rect;
  readonly property: string;
  readonly text: string | null;
  readonly contrast: number | null;
  readonly verdict: SampleVerdict['verdict'] | null;
}
