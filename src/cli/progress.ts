// Progress of a run on stderr: one live line on a terminal, a plain line now and then elsewhere.
import type { Io } from './io.ts';

/** Between plain lines, so that a log of a long night stays short. */
const PLAIN_EVERY_MS = 10_000;
const LIVE_EVERY_MS = 100;

export interface Progress {
  /** One more view is done. */
  step(view: string, failed: boolean): void;
  /** A line that stays, above the live line. */
  note(line: string): void;
  end(): void;
}

/** @param now milliseconds of a monotonic clock */
export function showProgress(
  io: Pick<Io, 'live' | 'note' | 'redraw'>,
  total: number,
  { now = () => performance.now(), plainEveryMs = PLAIN_EVERY_MS }: { now?: () => number; plainEveryMs?: number } = {},
): Progress {
  const started = now();
  let done = 0;
  let failed = 0;
  let shownAt = -Infinity;

  const line = (view: string): string => {
    const seconds = Math.max(0.001, (now() - started) / 1000);
    const rate = done / seconds;
    const left = rate > 0 ? (total - done) / rate : 0;
    const failures = failed > 0 ? `, ${failed} failed` : '';
    return `${done}/${total} views${failures}, ${rate.toFixed(1)} a second, ${showTime(left)} left  ${view}`;
  };
  const wipe = (): void => {
    if (io.live) io.redraw('');
  };

  return {
    step(view, didFail) {
      done += 1;
      if (didFail) failed += 1;
      const every = io.live ? LIVE_EVERY_MS : plainEveryMs;
      if (now() - shownAt < every && done < total) return;
      shownAt = now();
      if (io.live) io.redraw(line(view));
      else io.note(line(view));
    },
    note(text) {
      wipe();
      io.note(text);
    },
    end: wipe,
  };
}

/** `8 s`, `3 min 05 s`, `2 h 10 min`. */
export function showTime(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
  return `${Math.floor(whole / 3600)} h ${String(Math.floor((whole % 3600) / 60)).padStart(2, '0')} min`;
}
