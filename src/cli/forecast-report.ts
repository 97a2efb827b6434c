// A forecast as `gloam-forecast/1`: what a script reads.
import { UNFORETOLD_WORDS } from '../forecast/unforetold.ts';
import type { Agreement } from '../forecast/agreement.ts';
import { sharesOf } from '../forecast/agreement.ts';
import type { Cause, Finding } from '../samples/finding.ts';
import type { Forecast } from './run/forecast-run.ts';

export function forecastReport(forecast: Forecast, causes: readonly Cause[], tried: Agreement | null | undefined): object {
  const { run, of, compared, samples, failed } = forecast;
  return {
    format: 'gloam-forecast/1',
    id: run.id,
    of,
    files: run.foretold?.files ?? [],
    as: run.foretold?.as ?? null,
    like: run.foretold?.like ?? null,
    totals: run.totals,
    new: compared.fresh.map(shortOf),
    known: compared.known.length,
    gone: compared.gone.map(shortOf),
    causes,
    samples: {
      same: samples.same,
      foretold: samples.foretold,
      untold: untoldOf(forecast).map(({ why, words, samples: n }) => ({ why, words, samples: n })),
    },
    failed,
    ...(tried === undefined ? {} : { tried: tried === null ? null : triedOf(tried) }),
  };
}

/** Most frequent first. */
export function untoldOf({
  samples,
}: Forecast): readonly { readonly why: string; readonly words: string; readonly samples: number }[] {
  return Object.entries(UNFORETOLD_WORDS)
    .map(([why, words]) => ({ why, words, samples: new Map(Object.entries(samples.untold)).get(why) ?? 0 }))
    .filter((each) => each.samples > 0)
    .toSorted((one, other) => other.samples - one.samples);
}

function triedOf(agreement: Agreement): object {
  return {
    ...agreement,
    shares: sharesOf(agreement),
    onlyForetold: agreement.onlyForetold.map(shortOf),
    onlyFound: agreement.onlyFound.map(shortOf),
  };
}

function shortOf({ id, check, level, page, theme, state, viewport, selector, message, cause }: Finding): object {
  return { id, check, level, page, theme, state, viewport, selector, message, cause };
}
