// Answers that people gave to causes, in a file of the store: small, readable, one list. A reader that may not write sees them too.
import { randomBytes } from 'node:crypto';
import { readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { given } from '../api/queue.ts';
import type { Given } from '../api/queue.ts';
import { answersUnreadable } from '../../src/errors/server-errors.ts';

const FILE = 'answers.json';
const stored = z.strictObject({ format: z.literal('gloam-answers/1'), answers: z.array(given) });

export interface GivenAnswers {
  readonly all: () => Promise<readonly Given[]>;
  readonly add: (answer: Omit<Given, 'id'>) => Promise<Given>;
  /** @returns what was taken out, null where there is none of that id */
  readonly remove: (id: string) => Promise<Given | null>;
}

/** @param folder of the store */
export function givenAnswers(folder: string): GivenAnswers {
  const path = join(folder, FILE);
  // One writer at a time; each reads what the one before wrote, and so do other servers of the same store.
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = last.then(work, work);
    last = mine.catch(() => undefined);
    return mine;
  };
  const write = async (answers: readonly Given[]): Promise<void> => {
    const under = `${path}.${String(process.pid)}`;
    await writeFile(under, `${JSON.stringify({ format: 'gloam-answers/1', answers }, null, 2)}\n`);
    await rename(under, path);
  };
  return {
    all: () => read(path),
    add: (answer) =>
      inTurn(async () => {
        const added = { id: randomBytes(6).toString('hex'), ...answer };
        await write([...(await read(path)), added]);
        return added;
      }),
    remove: (id) =>
      inTurn(async () => {
        const answers = await read(path);
        const found = answers.find((answer) => answer.id === id) ?? null;
        if (found !== null) await write(answers.filter((answer) => answer !== found));
        return found;
      }),
  };
}

async function read(path: string): Promise<readonly Given[]> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch {
    return []; // nobody answered yet
  }
  try {
    return stored.parse(JSON.parse(text)).answers;
  } catch (error) {
    throw answersUnreadable(path, error);
  }
}
