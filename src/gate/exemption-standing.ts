// How an exemption stands on a given day: it holds, ends soon, or is over; and whether anything still needs it.
import type { Exemption } from '../plan/configuration.ts';
import type { GateExemption } from './facts.ts';
import type { ExemptionStanding } from './verdict.ts';
import { counted } from './words.ts';

/** From this many days before the last day on, people are told. Two weeks: time to mend or to ask again within one sprint (ours). */
export const WARN_DAYS = 14;

const DAY_MS = 86_400_000;

/** @param today YYYY-MM-DD; an exemption holds on its last day */
export function exemptionStanding(exemption: GateExemption, today: string): ExemptionStanding {
  const idle = exemption.covers === 0;
  if (exemption.until === undefined) return { exemption, state: 'holds', daysLeft: null, idle };
  const daysLeft = Math.round((Date.parse(exemption.until) - Date.parse(today)) / DAY_MS);
  const state = daysLeft < 0 ? 'expired' : daysLeft <= WARN_DAYS ? 'ending' : 'holds';
  return { exemption, state, daysLeft, idle };
}

/** `.legacy-chart (text-contrast, glow)`: what it covers, short. */
export function exemptionScope({ exemption }: { readonly exemption: Exemption }): string {
  const limits = [
    ...(exemption.checks ?? []),
    ...(exemption.faults ?? []),
    ...(exemption.themes ?? []),
    ...(exemption.pages ?? []),
    ...(exemption.states ?? []),
  ];
  return limits.length === 0 ? exemption.selector : `${exemption.selector} (${limits.join(', ')})`;
}

/** `12 findings`, `nothing`, or that the next run will tell. */
export function coverWords(covers: number | null): string {
  return covers === null ? 'the next run tells' : covers === 0 ? 'nothing' : counted(covers, 'finding');
}

/** @returns sentences for exemptions that end soon or that nothing needs */
export function exemptionWarnings(standings: readonly ExemptionStanding[]): readonly string[] {
  return standings.flatMap((standing) => {
    const { exemption, state, daysLeft, idle } = standing;
    const whose = exemption.owner === undefined ? '' : `, owner ${exemption.owner}`;
    const scope = exemptionScope(standing);
    const lines: string[] = [];
    if (state === 'ending' && daysLeft !== null)
      lines.push(
        `The exemption of ${scope} ends ${daysLeft === 0 ? 'today' : daysLeft === 1 ? 'tomorrow' : `in ${String(daysLeft)} days`} (${exemption.until ?? ''}${whose}).`,
      );
    if (idle && state !== 'expired')
      lines.push(`The exemption of ${scope} covers no finding of this run any more${whose}; take it out.`);
    return lines;
  });
}
