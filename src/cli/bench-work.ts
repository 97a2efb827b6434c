// Work on a proposal that the bench begins: the very commands a person would type, each in a process of its own, so that whoever reads the
// report is not kept waiting; one at a time, ended when its time is over.
import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { z } from 'zod';
import type { BenchBegin, Work } from '../../report-ui/api/bench.ts';
import type { BenchWorker } from '../../report-ui/server/sources.ts';
import { benchBusy, benchUnable } from '../errors/server-errors.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import type { Configuration } from '../plan/configuration.ts';
import { filesUnder, readChanges } from './bench-changes.ts';
import { storeEnv } from './store-place.ts';

/** This very command line. */
export interface OwnCommand {
  /** Program and arguments before the command's name. */
  readonly command: readonly string[];
  readonly folder: string;
  /** As it was given. */
  readonly config?: string;
}

const WITHIN_MS = 15 * 60_000;
/** Then it is ended for good. */
const TO_END_MS = 10_000;
/** Of what it says, the end. */
const MOST_SAID = 20_000;

const WORDS = {
  solve: 'the least change is worked out',
  store: 'a forecast is made',
  try: 'a proposal is tried on the live pages',
} as const satisfies Record<BenchBegin['kind'], string>;

export function openBenchWork(configuration: Configuration, store: StorePlace, own: OwnCommand): BenchWorker {
  let last: Work | null = null;
  let running: { readonly child: ChildProcess; readonly ended: Promise<void> } | null = null;
  const tell = (more: Partial<Work>): void => {
    if (last !== null) last = { ...last, ...more };
  };

  async function begin({ run, kind, changes, pins }: BenchBegin): Promise<Work> {
    if (last?.state === 'running') throw benchBusy(WORDS[last.kind]);
    last = { id: randomBytes(6).toString('hex'), kind, state: 'running', done: 0, of: null, said: '', ...NOTHING };
    try {
      const folder = await mkdtemp(path.join(tmpdir(), 'gloam-bench-'));
      const asked = kind === 'solve' ? pins.flatMap((pin) => ['--pin', pin]) : await tokensIn(folder, changes);
      const name = kind === 'solve' ? ['retune'] : kind === 'store' ? ['forecast'] : ['forecast', '--try'];
      const config = own.config === undefined ? [] : ['--config', own.config];
      start([...name, '--json', '--run', run, ...config, ...asked], folder);
      return last;
    } catch (error) {
      tell({ state: 'failed', said: error instanceof Error ? error.message : String(error) });
      throw error;
    }
  }

  /** The proposal's token files, each under its own path, so that it is known which it stands for. */
  async function tokensIn(folder: string, changes: string): Promise<readonly string[]> {
    const { files, left } = filesUnder(configuration, readChanges(changes));
    if (left.length > 0) throw benchUnable(left.join('; '));
    if (files.length === 0) throw benchUnable('nothing is changed.');
    const made = files.map(({ file, text }) => ({ path: path.join(folder, file.replaceAll('../', '')), text }));
    for (const each of made) {
      await mkdir(path.dirname(each.path), { recursive: true });
      await writeFile(each.path, each.text);
    }
    return ['--tokens', ...made.map((each) => each.path)];
  }

  function start(args: readonly string[], folder: string): void {
    const [program = process.execPath, ...before] = own.command;
    const child = spawn(program, [...before, ...args], {
      cwd: own.folder,
      stdio: ['ignore', 'pipe', 'pipe'],
      // Not as an argument: an address may hold a password, and all users see arguments.
      env: { ...process.env, ...storeEnv(store) },
    });
    let written = '';
    let said = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      written += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said = (said + text).slice(-MOST_SAID);
      const [, done, of] = [...said.matchAll(/^(\d+)\/(\d+) views/gm)].at(-1) ?? [];
      if (done !== undefined && of !== undefined) tell({ done: Number(done), of: Number(of) });
    });
    let over = false;
    const late = setTimeout(() => {
      over = true;
      void stop(child);
    }, WITHIN_MS);
    const ended = new Promise<void>((resolve) => {
      child.on('error', (error) => {
        said += error.message;
      });
      child.on('close', (code) => {
        clearTimeout(late);
        running = null;
        if (over) tell({ state: 'failed', said: `It took longer than ${String(WITHIN_MS / 60_000)} minutes.` });
        else if (last?.state === 'running') tell(code === 0 ? outcomeOf(written) : { state: 'failed', said: reasonIn(said) });
        rm(folder, { recursive: true, force: true }).then(resolve, resolve);
      });
    });
    running = { child, ended };
  }

  async function stop(child: ChildProcess): Promise<void> {
    child.kill('SIGTERM');
    const hard = setTimeout(() => child.kill('SIGKILL'), TO_END_MS);
    await running?.ended;
    clearTimeout(hard);
  }

  return {
    now: () => last,
    begin,
    end: async (id) => {
      if (last?.id === id && running !== null) {
        tell({ state: 'ended', said: 'Ended before it was done.' });
        await stop(running.child);
      }
      return last;
    },
    close: async () => {
      if (running !== null) await stop(running.child);
    },
  };
}

const NOTHING = { solved: null, kept: null, tried: null } as const;

const list = z.array(z.unknown());
const palette = z.object({
  format: z.literal('gloam-palette/1'),
  changes: z.array(z.object({ change: z.string(), of: z.string(), to: z.string(), themes: z.array(z.string()) })),
  mends: z.number(),
  breaks: z.array(z.object({ places: z.number() })),
  unmet: list,
  gaveUp: z.string().optional(),
});
const forecast = z.object({
  format: z.literal('gloam-forecast/1'),
  id: z.string(),
  new: list,
  known: z.number(),
  gone: list,
  tried: z
    .object({
      views: z.number(),
      findings: z.array(z.object({ both: z.number() })),
      onlyForetold: list,
      onlyFound: list,
      shares: z.object({ verdicts: z.number() }),
    })
    .nullish(),
});

/** @param text what the command printed under --json */
function outcomeOf(text: string): Partial<Work> {
  const read = z.union([palette, forecast]).safeParse(JSON.parse(text));
  if (!read.success) return { state: 'failed', said: 'It printed something else than expected.' };
  const { data } = read;
  if (data.format === 'gloam-palette/1') {
    const changes = data.changes.flatMap(({ change, of, to, themes: [theme] }) =>
      theme === undefined ? [] : [[of, theme, change === 'alias' ? `{${to}}` : to]],
    );
    const breaks = data.breaks.reduce((sum, { places }) => sum + places, 0);
    const { mends, unmet, gaveUp = null } = data;
    return { state: 'done', solved: { changes: JSON.stringify(changes), mends, breaks, unmet: unmet.length, gaveUp } };
  }
  const { tried } = data;
  return {
    state: 'done',
    kept: { forecast: data.id, fresh: data.new.length, known: data.known, gone: data.gone.length },
    said: tried === null ? 'Nothing of it shows on a page: no custom property carries what changes.' : '',
    tried:
      tried === null || tried === undefined
        ? null
        : {
            views: tried.views,
            both: tried.findings.reduce((sum, { both }) => sum + both, 0),
            onlyForetold: tried.onlyForetold.length,
            onlyFound: tried.onlyFound.length,
            verdicts: tried.shares.verdicts,
          },
  };
}

/** The error as it was printed, without what came before. */
function reasonIn(said: string): string {
  const at = said.lastIndexOf('gloam: ');
  return (at < 0 ? said : said.slice(at + 'gloam: '.length)).trim().slice(0, 800) || 'It ended without a word.';
}
