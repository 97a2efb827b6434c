// What happens in the store while the page is open: a run that goes on, one that ended, pictures accepted elsewhere.
import { useEffect, useState } from 'preact/hooks';
import type { LiveEvent } from '../api/live.ts';
import { here } from './client.ts';
import { siteForm } from './site-files.ts';
import { forgetAnswers } from './use-answer.ts';

type Progress = Extract<LiveEvent, { kind: 'progress' }>;

export interface Live {
  readonly progress: Progress | null;
  /** For those who cannot see it. */
  readonly said: string;
}

export function useLive(): Live {
  const [live, setLive] = useState<Live>({ progress: null, said: '' });
  useEffect(() => {
    if (siteForm()) return undefined;
    const stream = new EventSource(here('/api/events'));
    stream.onmessage = (message: MessageEvent<string>) => {
      const event = JSON.parse(message.data) as LiveEvent; // our own server's, by the schema of live.ts
      switch (event.kind) {
        case 'progress':
          setLive({ progress: event, said: '' });
          return;
        case 'finished':
          setLive({ progress: null, said: 'A run has finished; this page still shows the one it was opened with.' });
          forgetAnswers();
          return;
        case 'accepted':
          setLive((old) => ({ ...old, said: 'The accepted pictures changed.' }));
          forgetAnswers();
          return;
      }
    };
    return () => {
      stream.close();
    };
  }, []);
  return live;
}
