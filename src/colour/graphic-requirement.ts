// Which contrast WCAG 2.2 asks of what is no text (SC 1.4.11; the same number in SC 2.4.13).

/** Of icons, edges and marks of controls, focus indicators against what they touch. Nothing is rounded up to it (Understanding SC 1.4.11). */
export const LEAST_GRAPHIC_CONTRAST = 3;
