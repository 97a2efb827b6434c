// The plotting library puts one style element into each plot; the content policy allows exactly that text.

/** SHA-256 of the style text of @observablehq/plot 0.6.17 for the class name `plot`; a test in a real browser fails when it changes. */
export const PLOT_STYLE_HASH = 'sha256-+TfQir1nvDucAdvE6XUQBt4ayUjpAWkbw2kCdSfekHM=';
