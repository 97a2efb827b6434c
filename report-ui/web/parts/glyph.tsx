// The signs of the checks: a shape of its own and a line pattern of its own for each, so that kinds are told apart without colour.
// Checks get them by their place in the server's list; a check that is added takes the next one.
import { createContext } from 'preact';
import type { JSX } from 'preact';
import { useContext } from 'preact/hooks';
import type { CheckId } from '../../../src/samples/finding.ts';

/** In a box of 16 × 16; drawn with the colour of the text around. `f`: filled, `s`: stroked. */
const SIGNS: readonly { readonly f?: string; readonly s?: string; readonly dash: string }[] = [
  { s: 'M2 4h12M2 12h12', f: 'M2 7h7v2H2z', dash: '' }, // lines of text, the middle one broken off
  { s: 'M3 3h10v10H3z', f: 'M3 13 13 3v10z', dash: '7 3' }, // a square, half full across
  { f: 'M8 1l2 5 5 2-5 2-2 5-2-5-5-2 5-2z', dash: '1 3' }, // a spark
  { s: 'M8 2a6 6 0 1 0 .01 0', f: 'M8 6a2 2 0 1 0 .01 0', dash: '3 3' }, // a ring around a dot
  { f: 'M2 2h12L8 8z', s: 'M8 8l6 6H2z', dash: '9 2 2 2' }, // an hourglass, the sand above
  { s: 'M2 2h12v12H2z', f: 'M8 8h4v4H8z', dash: '12 3' }, // a box with a patch
  { f: 'M2 3h4v10H2z', s: 'M11 3h3v10h-3z', dash: '2 2 6 2' }, // two posts apart
  { f: 'M2 2h6v6H2zM8 8h6v6H8z', s: 'M2 2h12v12H2z', dash: '4 2 1 2 1 2' }, // quartered
  { s: 'M2 2h9v9H2zM5 5h9v9H5z', dash: '5 5' }, // two sheets, one shifted
  { s: 'M8 1.5 14.5 8 8 14.5 1.5 8z', f: 'M7 7h2v2H7z', dash: '10 2 1 2 1 2' }, // a lozenge with a point
  { f: 'M8 2l6 11H2z', dash: '2 5' },
  { s: 'M3 8a5 5 0 0 1 10 0', f: 'M2 11h12v2H2z', dash: '6 6' },
];

export const ChecksContext = createContext<readonly { readonly id: CheckId; readonly title: string }[]>([]);

function indexOf(checks: readonly { readonly id: CheckId }[], check: CheckId): number {
  const index = checks.findIndex(({ id }) => id === check);
  return index < 0 ? SIGNS.length - 1 : index % SIGNS.length;
}

export function useCheck(check: CheckId): { readonly title: string; readonly dash: string } {
  const checks = useContext(ChecksContext);
  return { title: checks.find(({ id }) => id === check)?.title ?? check, dash: SIGNS[indexOf(checks, check)]?.dash ?? '' };
}

/** The paths of a sign, to be put into an svg of 16 × 16. */
export function SignPaths({ check }: { readonly check: CheckId }): JSX.Element {
  const sign = SIGNS[indexOf(useContext(ChecksContext), check)];
  return (
    <>
      {sign?.s !== undefined && <path d={sign.s} fill="none" stroke="currentColor" stroke-width="1.6" stroke-linejoin="round" />}
      {sign?.f !== undefined && <path d={sign.f} fill="currentColor" />}
    </>
  );
}

export function Sign({ check }: { readonly check: CheckId }): JSX.Element {
  return (
    <svg class="sign" viewBox="0 0 16 16" aria-hidden="true">
      <SignPaths check={check} />
    </svg>
  );
}

export function CheckName({ check }: { readonly check: CheckId }): JSX.Element {
  return (
    <span class="check-name">
      <Sign check={check} />
      {useCheck(check).title}
    </span>
  );
}
