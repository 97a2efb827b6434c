// Work that the bench began on the server: asked after until it is done.
import { useEffect, useState } from 'preact/hooks';
import type { Work } from '../../api/bench.ts';
import { ask, tell } from '../client.ts';
import { forgetAnswers } from '../use-answer.ts';

/** Between two questions. */
const EVERY_MS = 700;

export interface Working {
  readonly work: Work | null;
  /** Why it could not be begun, or asked after. */
  readonly trouble: string;
  readonly begin: (wish: Parameters<typeof tell<'benchBegin'>>[1]) => void;
  readonly end: () => void;
}

/** @param token for changes; null where there are none @param onDone told once, of work that ended while this page looked on */
export function useWork(token: string | null, onDone: (work: Work) => void): Working {
  const [work, setWork] = useState<Work | null>(null);
  const [trouble, setTrouble] = useState('');
  const failed = (error: unknown): void => {
    setTrouble(error instanceof Error ? `${error.message}${'hint' in error ? ` ${String(error.hint)}` : ''}` : String(error));
  };
  useEffect(() => {
    // It may be under way from before this page was loaded, or from another one.
    if (token !== null)
      ask('benchWork', {}, {}).then((answer) => {
        setWork(answer.work?.state === 'running' ? answer.work : null);
      }, failed);
  }, [token]);
  const id = work?.state === 'running' ? work.id : null;
  useEffect(() => {
    if (id === null) return undefined;
    const timer = setInterval(() => {
      ask('benchWork', {}, {}).then((answer) => {
        setWork(answer.work);
        if (answer.work?.id !== id || answer.work.state === 'running') return;
        if (answer.work.kept !== null) forgetAnswers();
        onDone(answer.work);
      }, failed);
    }, EVERY_MS);
    return () => {
      clearInterval(timer);
    };
  }, [id]);
  return {
    work,
    trouble,
    begin: (wish) => {
      if (token === null) return;
      setTrouble('');
      setWork(null);
      tell('benchBegin', wish, token).then((answer) => {
        setWork(answer.work);
      }, failed);
    },
    end: () => {
      if (token === null || work === null) return;
      tell('benchEnd', { id: work.id }, token).then((answer) => {
        setWork(answer.work);
      }, failed);
    },
  };
}
