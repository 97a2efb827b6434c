// Where a command writes: results on stdout, everything else on stderr; JSON alone on stdout when asked for.
import { styleText } from 'node:util';
import type { Secrets } from '../../runner/app/secrets.ts';
import type { Surroundings } from './surroundings.ts';

export type Style = 'bold' | 'dim' | 'red' | 'yellow' | 'green' | 'cyan' | 'underline';

export interface Io {
  readonly json: boolean;
  /** A person watches stderr: progress may redraw its line. */
  readonly live: boolean;
  /** 24-bit colours may be written to stdout. */
  readonly color: boolean;
  readonly columns: number;
  /** Text as it is, on stdout: what is no line, such as a document. */
  print(text: string): void;
  /** Another text in place of the live line on stderr. */
  redraw(text: string): void;
  /** A line for people on stdout; on stderr under `--json`. */
  say(line?: string): void;
  /** A line on stderr. */
  note(line: string): void;
  /** The one JSON document of a `--json` call. */
  result(value: unknown): void;
  style(style: Style, text: string): string;
}

/** `NO_COLOR` (no-color.org) and a dumb terminal turn colours off, `FORCE_COLOR` turns them on. */
export function ioIn({ env, out, err }: Pick<Surroundings, 'env' | 'out' | 'err'>, { json }: { readonly json: boolean }): Io {
  const plain = (env['NO_COLOR'] ?? '') !== '' || env['TERM'] === 'dumb';
  const forced = (env['FORCE_COLOR'] ?? '') !== '' && env['FORCE_COLOR'] !== '0';
  const color = !plain && (forced || out.isTTY === true);
  const live = err.isTTY === true && env['TERM'] !== 'dumb' && env['CI'] === undefined;
  return {
    json,
    live,
    color,
    columns: out.columns || 100,
    print: (text) => {
      out.write(text);
    },
    redraw: (text) => {
      err.write(`\r\u001b[2K${text.slice(0, Math.max(20, (err.columns || 100) - 1))}`);
    },
    say: (line = '') => {
      (json ? err : out).write(`${line}\n`);
    },
    note: (line) => {
      err.write(`${line}\n`);
    },
    result: (value) => {
      out.write(`${JSON.stringify(value, null, 2)}\n`);
    },
    style: (style, text) => (color ? styleText(style, text, { validateStream: false }) : text),
  };
}

/** The same, rid of secrets. */
export function ioWithout(secrets: Secrets, io: Io): Io {
  const { scrub, scrubAll } = secrets;
  return {
    ...io,
    print: (text) => {
      io.print(scrub(text));
    },
    redraw: (text) => {
      io.redraw(scrub(text));
    },
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
