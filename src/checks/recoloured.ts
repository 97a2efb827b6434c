// Whether a view shows any colour otherwise than the reference theme does: a theme that changes none has not been put on.
import { deltaEOk } from '../colour/lightness.ts';
import { findColor } from '../colour/parse-color.ts';
import type { Sample } from '../samples/sample.ts';

/** OKLab distance from which two colours are two: half of the just noticeable .02 (CSS Color 4 §13.2). */
const SAME = 0.01;
/** Mean difference of relative luminance over the 64 squares of a picture from which it is another (ours: the same file gives 0, another dark blue .02). */
const PICTURE_SAME = 0.005;
/** Where fewer places than this share are in both views, they cannot be compared (ours). */
const LEAST_MATCHED = 0.5;

/** @returns true where some colour differs, or where too little is in both views to say that none does */
export function isRecoloured(samples: readonly Sample[], reference: readonly Sample[]): boolean {
  const before = new Map(reference.map((sample) => [kindAndKey(sample), sample]));
  let matched = 0;
  for (const sample of samples) {
    const then = before.get(kindAndKey(sample));
    if (then === undefined) continue;
    matched += 1;
    if (differs(sample, then)) return true;
  }
  return matched < LEAST_MATCHED * Math.max(samples.length, reference.length);
}

/** Names the same place in every theme. */
export function kindAndKey({ kind, key }: Sample): string {
  return `${kind} ${key}`;
}

function differs(now: Sample, then: Sample): boolean {
  if (now.kind === 'text' && then.kind === 'text')
    return isOther(now.color, then.color) || isOther(now.background, then.background);
  if (now.kind === 'surface' && then.kind === 'surface') return isOther(now.color, then.color) || isOther(now.around, then.around);
  if (now.kind === 'graphic' && then.kind === 'graphic')
    return isOther(now.color, then.color) || isOther(now.against, then.against);
  if (now.kind === 'shadow' && then.kind === 'shadow') return isOther(now.color, then.color);
  if (now.kind === 'picture' && then.kind === 'picture')
    return now.source !== then.source || lumaApart(now.luma, then.luma) > PICTURE_SAME;
  return false;
}

function isOther(one: string, other: string): boolean {
  if (one === other) return false;
  const [a, b] = [findColor(one), findColor(other)];
  return a === null || b === null || deltaEOk(a, b) > SAME;
}

function lumaApart(one: readonly number[], other: readonly number[]): number {
  if (one.length !== other.length || one.length === 0) return 0;
  return one.reduce((sum, value, at) => sum + Math.abs(value - (other[at] ?? value)), 0) / one.length;
}
