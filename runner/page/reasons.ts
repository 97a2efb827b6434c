// What stands in the way of reading a page, as the in-page code tells it in an error; Node makes a sentence of it.

/** The document has no root element any more. */
export const NO_ROOT = 'gloam-no-root';
