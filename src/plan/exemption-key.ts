// What tells one exemption from another: its whole text, so that a run can say whether it knew an exemption as it is now.
import type { Exemption } from './configuration.ts';

export function exemptionKey({ selector, checks, faults, pages, themes, states, why, until }: Exemption): string {
  const limits = [checks, faults, pages, themes, states].map((names) => (names === undefined ? null : [...names].sort()));
  return JSON.stringify([selector, ...limits, why, until ?? null]);
}
