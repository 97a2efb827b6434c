// Two texts of one file → a unified diff, as `git apply` and `patch` read it. Lines keep their number where only values changed; else
// the stretch that differs is one piece.

const AROUND = 3;

/** @param file as it stands in the patch, with forward slashes @returns '' where nothing differs */
export function linePatch(file: string, before: string, after: string): string {
  if (before === after) return '';
  const [old, now] = [before.split('\n'), after.split('\n')];
  const pieces = old.length === now.length ? changedLines(old, now) : [stretch(old, now)];
  const joined = pieces.reduce<Piece[]>((list, piece) => {
    const last = list.at(-1);
    if (last !== undefined && piece.from - last.to <= 2 * AROUND) list.splice(-1, 1, { ...last, to: piece.to, nowTo: piece.nowTo });
    else list.push(piece);
    return list;
  }, []);
  const hunks = joined.map(({ from, to, nowFrom, nowTo }) => {
    const start = Math.max(0, from - AROUND);
    const end = Math.min(old.length, to + AROUND);
    const head = old.slice(start, from).map((line) => ` ${line}`);
    const tail = old.slice(to, end).map((line) => ` ${line}`);
    const body = bodyOf(old.slice(from, to), now.slice(nowFrom, nowTo));
    const nowStart = nowFrom - (from - start);
    const nowLength = nowTo - nowFrom + (from - start) + (end - to);
    return [`@@ -${start + 1},${end - start} +${nowStart + 1},${nowLength} @@`, ...head, ...body, ...tail].join('\n');
  });
  return `--- a/${file}\n+++ b/${file}\n${hunks.join('\n')}\n`;
}

/** Lines by place in both texts; ends exclusive. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly nowFrom: number;
  readonly nowTo: number;
}

function changedLines(old: readonly string[], now: readonly string[]): readonly Piece[] {
  return old.flatMap((line, at): Piece[] => (line === now[at] ? [] : [{ from: at, to: at + 1, nowFrom: at, nowTo: at + 1 }]));
}

function stretch(old: readonly string[], now: readonly string[]): Piece {
  const least = Math.min(old.length, now.length);
  let head = 0;
  while (head < least && old[head] === now[head]) head += 1;
  let tail = 0;
  while (tail < least - head && old[old.length - 1 - tail] === now[now.length - 1 - tail]) tail += 1;
  return { from: head, to: old.length - tail, nowFrom: head, nowTo: now.length - tail };
}

function bodyOf(old: readonly string[], now: readonly string[]): readonly string[] {
  const gone: string[] = [];
  const come: string[] = [];
  const lines: string[] = [];
  const flush = (): void => {
    lines.push(...gone.splice(0), ...come.splice(0));
  };
  if (old.length !== now.length) return [...old.map((line) => `-${line}`), ...now.map((line) => `+${line}`)];
  old.forEach((line, at) => {
    const then = now[at] ?? '';
    if (line === then) {
      flush();
      lines.push(` ${line}`);
    } else {
      gone.push(`-${line}`);
      come.push(`+${then}`);
    }
  });
  flush();
  return lines;
}
