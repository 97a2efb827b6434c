// Marker colours: each custom property is dyed with a colour of its own that survives alpha, other notations and rounding to 8 bits.
import type { Color } from '../../src/colour/color.ts';

/** 8-bit codes from 20 in steps of 3: two markers differ by three codes in some channel, rounding moves each by one at most. */
const FIRST = 20;
const STEP = 3;
const DIGITS = 70;
/** Codes of a channel that a reading may be off: conversion through another notation, or rounding (CSS Color 4 §15). */
const GRACE = 1.2;

/** Most properties that can be told apart in one go. */
export const MOST_MARKERS = DIGITS * DIGITS;

/** Red and green name the property; blue checks them, so that a page's own colour is hardly ever taken for a marker. */
function digitsOf(index: number): readonly [number, number, number] {
  const [low, high] = [index % DIGITS, Math.floor(index / DIGITS)];
  return [low, high, (low * 31 + high * 17 + 7) % DIGITS];
}

export function markerCodes(index: number): readonly [red: number, green: number, blue: number] {
  const [r, g, b] = digitsOf(index);
  return [FIRST + r * STEP, FIRST + g * STEP, FIRST + b * STEP];
}

/** `color(srgb r g b)`: computed values keep it as it is, unlike `rgb()`, which is kept in 8 bits. */
export function markerText(index: number): string {
  return `color(srgb ${markerCodes(index)
    .map((code) => (code / 255).toFixed(4))
    .join(' ')})`;
}

/** @returns the property's index; null for any other colour */
export function markerAt({ r, g, b }: Color): number | null {
  const digits = [r, g, b].map((channel) => {
    const code = channel * 255;
    const digit = Math.round((code - FIRST) / STEP);
    return digit >= 0 && digit < DIGITS && Math.abs(FIRST + digit * STEP - code) <= GRACE ? digit : -1;
  });
  const [low = -1, high = -1, check = -1] = digits;
  if (low < 0 || high < 0 || check < 0) return null;
  const index = high * DIGITS + low;
  return digitsOf(index)[2] === check ? index : null;
}
