// Errors of the command line: wrong use, wrong configuration. Exit code 2.
import { GloamError } from './gloam-error.ts';

/** One thing that is wrong in a file. */
export interface FileFault {
  /** Path inside the file, e.g. `themes.dusk.tone`. */
  readonly at: string;
  readonly found: string;
  readonly expected: string;
}

export function configNotFound(folder: string): GloamError {
  return new GloamError({
    code: 'config-not-found',
    message: `${folder}: found no gloam.config.ts, .js, .mjs or .json.`,
    hint: 'Write one (gloam init helps) or name it with --config FILE.',
    data: { folder },
  });
}

export function configUnreadable(file: string, cause: unknown): GloamError {
  const reason = cause instanceof Error ? cause.message : String(cause);
  return new GloamError({
    code: 'config-unreadable',
    message: `${file}: cannot be read: ${reason}`,
    hint: 'Correct the file so that it can be loaded; JSON must be plain JSON, modules must export the configuration as default.',
    data: { file },
    cause,
  });
}

/** All faults of a configuration at once. */
export function configInvalid(file: string, faults: readonly FileFault[]): GloamError {
  const lines = faults.map((f) => `  ${f.at === '' ? '(root)' : f.at}: found ${f.found}; expected ${f.expected}`);
  const count = faults.length === 1 ? '1 fault' : `${String(faults.length)} faults`;
  return new GloamError({
    code: 'config-invalid',
    message: `${file}: ${count}:\n${lines.join('\n')}`,
    hint: 'Correct these places; nothing was run.',
    data: { file, faults },
  });
}

export function wrongUse(message: string, hint: string): GloamError {
  return new GloamError({ code: 'wrong-use', message, hint });
}
