// Which marks a picture gets: one a place, or one for several where they would lie on one another. Pure.
import type { Finding } from '../../api/findings.ts';
import type { Rect } from '../../../src/samples/view.ts';

export interface PlacedMark {
  /** In list order; several where the places are too near to be told apart at this size. */
  readonly findings: readonly [Finding, ...Finding[]];
  /** The outline, px of this page. */
  readonly box: Rect;
  /** Where the plate stands: beside the outline, so that it covers nothing of the place. */
  readonly plate: readonly [x: number, y: number];
}

export interface MarkRoom {
  /** Px of this page per CSS px of the picture. */
  readonly zoom: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Between a place and its outline, and the side of a plate. */
  readonly air: number;
  readonly plate: number;
}

/** Marks on one picture, at most about this many: with more none can be made out (tried on pages of 1,845 findings). */
const MOST = 60;
/** Outlines smaller than this could not be hit. */
const LEAST = 8;

/** @param chosen id of a finding that always has a mark of its own */
export function placeMarks(findings: readonly Finding[], room: MarkRoom, chosen: string | null): readonly PlacedMark[] {
  const visible = Math.max(room.widthPx * room.heightPx, 1);
  const cell = findings.length <= MOST ? room.plate + 4 : Math.max(room.plate + 4, Math.sqrt(visible / MOST));
  const cells = new Map<string, [Finding, ...Finding[]]>();
  for (const finding of findings) {
    const [x, y] = finding.rect;
    const key =
      finding.id === chosen
        ? 'chosen'
        : `${String(Math.floor((x * room.zoom) / cell))} ${String(Math.floor((y * room.zoom) / cell))}`;
    const there = cells.get(key);
    if (there === undefined) cells.set(key, [finding]);
    else there.push(finding);
  }
  // Largest first, so that small ones lie on top; the chosen one above all.
  return [...cells]
    .map(([key, list]) => ({ key, ...markOf(list, room) }))
    .sort((a, b) => Number(a.key === 'chosen') - Number(b.key === 'chosen') || b.box[2] * b.box[3] - a.box[2] * a.box[3]);
}

function markOf(findings: readonly [Finding, ...Finding[]], { zoom, widthPx, heightPx, air, plate }: MarkRoom): PlacedMark {
  const left = Math.min(...findings.map(({ rect }) => rect[0]));
  const top = Math.min(...findings.map(({ rect }) => rect[1]));
  const right = Math.max(...findings.map(({ rect }) => rect[0] + rect[2]));
  const bottom = Math.max(...findings.map(({ rect }) => rect[1] + rect[3]));
  const box: Rect = [
    left * zoom - air,
    top * zoom - air,
    Math.max(LEAST, (right - left) * zoom + 2 * air),
    Math.max(LEAST, (bottom - top) * zoom + 2 * air),
  ];
  const y = Math.max(0, Math.min(heightPx - plate, box[1] + box[3] / 2 - plate / 2));
  const before = box[0] - plate - 1;
  const after = box[0] + box[2] + 1;
  const x = before >= 0 ? before : after + plate <= widthPx ? after : Math.max(0, widthPx - plate);
  // Wide as the picture: the plate hangs on the upper edge instead, outside where there is room.
  if (before < 0 && after + plate > widthPx) return { findings, box, plate: [x, Math.max(0, box[1] - plate)] };
  return { findings, box, plate: [x, y] };
}
