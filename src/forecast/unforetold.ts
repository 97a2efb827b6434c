// What cannot be foretold of a run's samples, and why.

/** Why a sample whose colours move stays as it was seen. */
export type Unforetold =
  /** What lies behind it is a picture, a gradient, or was not read. */
  | 'picture'
  /** The layers behind it move, and do not make the colour that was seen there. */
  | 'ground'
  /** Its colour is mixed from tokens by the page. */
  | 'mixed'
  /** Its token moves, and does not make the colour that was seen. */
  | 'drawn';

export const UNFORETOLD_WORDS: Readonly<Record<Unforetold, string>> = {
  picture: 'a picture, a gradient or a canvas lies behind',
  ground: 'what is seen behind is not what the layers make',
  mixed: 'the page mixes the colour from tokens',
  drawn: 'the colour seen is not the one its token makes',
};
