// Where a command writes: results on stdout, everything else on stderr; JSON alone on stdout when asked for.
import { styleText } from 'node:util';
import type { Secrets } from '../../runner/app/secrets.ts';

export type Style = 'bold' | 'dim' | 'red' | 'yellow' | 'green' | 'cyan' | 'underline';

export interface Io {
  readonly json: boolean;
  /** A person watches stderr: progress may redraw its line. */
  readonly live: boolean;
  /** 24-bit colours may be written to stdout. */
  readonly color: boolean;
  readonly columns: number;
  /** A line for people on stdout; on stderr under `--json`. */
  say(line?: string): void;
  /** A line on stderr. */
  note(line: string): void;
  /** The one JSON document of a `--json` call. */
  result(value: unknown): void;
  style(style: Style, text: string): string;
}

export interface IoOptions {
  readonly json: boolean;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** `NO_COLOR` (no-color.org) and a dumb terminal turn colours off, `FORCE_COLOR` turns them on. */
export function processIo({ json, env }: IoOptions): Io {
  const plain = (env['NO_COLOR'] ?? '') !== '' || env['TERM'] === 'dumb';
  const forced = (env['FORCE_COLOR'] ?? '') !== '' && env['FORCE_COLOR'] !== '0';
  const color = !plain && (forced || process.stdout.isTTY);
  const live = process.stderr.isTTY && env['TERM'] !== 'dumb' && env['CI'] === undefined;
  return {
    json,
    live,
    color,
    columns: process.stdout.columns || 100,
    say: (line = '') => {
      (json ? process.stderr : process.stdout).write(`${line}\n`);
    },
    note: (line) => {
      process.stderr.write(`${line}\n`);
    },
    result: (value) => {
      process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
    },
    style: (style, text) => (color ? styleText(style, text, { validateStream: false }) : text),
  };
}

/** The same, rid of secrets. */
export function ioWithout(secrets: Secrets, io: Io): Io {
  const { scrub, scrubAll } = secrets;
  return {
    ...io,
    say: (line) => {
      io.say(line === undefined ? line : scrub(line));
    },
    note: (line) => {
      io.note(scrub(line));
    },
    result: (value) => {
      io.result(scrubAll(value));
    },
  };
}

/** `1 view`, `3 views`. */
export function count(n: number, one: string, many = `${one}s`): string {
  return `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`;
}
