// The custom properties by which a colour came, as far as dyes told them.
import type { Origin } from './paint.ts';

type OfToken = Extract<Origin, { readonly kind: 'token' }>;

/** @returns outermost first: what the declaration takes, and the first property of the whole page behind a component's own */
export function namesInUse({ property, pageWide }: OfToken): readonly string[] {
  return pageWide === undefined ? [property] : [property, pageWide];
}

/** @returns the same, and the step at the end; what lies before that is not known where none of the others is a token */
export function nameChain(origin: OfToken): readonly string[] {
  return origin.step === undefined ? namesInUse(origin) : [...namesInUse(origin), origin.step];
}
