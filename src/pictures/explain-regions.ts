// Changed pixels and changed samples → what explains what. Each explanation claims the changed pixels of its places, surest first, so
// that every pixel is counted once; what nobody claims is unexplained, and said to be.
import type { ChangeKind, Explanation } from '../samples/difference.ts';
import type { Rect } from '../samples/view.ts';
import { changeGroup } from './change-group.ts';
import { rowIn, sheetRow } from './merged-rows.ts';
import { type ExplainInput, OpenPixels } from './open-pixels.ts';
import { type PlacedChange, sampleChanges, tokenChanges } from './sample-changes.ts';

/**
 * Which claim goes first where several lie over a pixel. Other words, and what came or went, are certain; a new colour is tested pixel by
 * pixel; a move is all that is left of its place; a picture takes the rest.
 */
const TURN = {
  ...{ text: 0, added: 1, removed: 1, recoloured: 2, rewired: 2, moved: 4, picture: 5, unexplained: 6 },
} satisfies Record<ChangeKind, number>;
/** A colour that was only read from the picture waits for tokens that explain it. */
const UNTRACED_TURN = 3;

const turnOf = ({ change, untraced }: PlacedChange): number => (untraced === true ? UNTRACED_TURN : TURN[change.kind]);

/** @returns most pixels first; a change that shows nowhere is left out */
export function explainRegions(input: ExplainInput): readonly Explanation[] {
  const { merged, accepted, current, scale } = input;
  const shift = (y: number): number => {
    const row = Math.round(y * scale);
    return (rowIn('current', merged, sheetRow('accepted', merged, row)) - row) / scale;
  };
  const open = new OpenPixels(input);
  const changes = sampleChanges(accepted, current, shift).toSorted(inTurn);
  const sure = changes.filter((change) => turnOf(change) <= TURN.recoloured);
  for (const change of sure) open.claim(change);
  open.claimAlike(sure);
  open.claimTokens(tokenChanges(accepted.properties, current.properties));
  for (const change of changes) if (turnOf(change) > TURN.recoloured) open.claim(change);
  open.settle(current.samples);
  return open.explanations();
}

/** Smaller places lie on larger ones; the rest makes the order of the samples count for nothing. */
function inTurn(a: PlacedChange, b: PlacedChange): number {
  const turn = turnOf(a) - turnOf(b) || areaOf(a) - areaOf(b);
  if (turn !== 0) return turn;
  const [one, two] = [a, b].map(({ key, change }) => `${key} ${changeGroup(change)}`);
  return (one ?? '') < (two ?? '') ? -1 : 1;
}

const areaOf = ({ accepted, current }: PlacedChange): number => Math.max(sizeOf(accepted), sizeOf(current));
const sizeOf = (rect: Rect | null): number => (rect === null ? 0 : rect[2] * rect[3]);
