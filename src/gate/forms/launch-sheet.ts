// The launch sheet: one printable page for each theme with the verdict, what it rests on, and room for the names of those who sign.
// A single HTML file: no script, nothing loaded; every text of a page under test is escaped.
import { addressOf, escapeMarkup, headline, oneLine } from './form.ts';
import type { Form, FormInput } from './form.ts';
import { coverWords, exemptionScope, exemptionWarnings } from '../exemption-standing.ts';
import type { Criterion, ExemptionStanding, GateVerdict } from '../verdict.ts';
import { causeTitle, counted } from '../words.ts';

/** Rows of the longer lists; with these a sheet still fits on one side of A4 (tried by printing). */
const MOST_EXEMPTIONS = 6;
const MOST_CAUSES = 5;
const MOST_WARNINGS = 4;

const UNTIL_WORDS = { holds: '', ending: ', soon', expired: ', over' } as const;

const SIGN_OFF = ['Design', 'Engineering', 'Product'] as const;

export const launchSheet: Form = {
  file: 'launch-sheet.html',
  about: 'one printable page for each theme, with a place for sign-off',
  write: (input) =>
    [
      '<!doctype html>',
      '<html lang="en">',
      '<head>',
      '<meta charset="utf-8">',
      '<meta name="viewport" content="width=device-width, initial-scale=1">',
      `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
      `<title>Launch sheet: ${html(input.verdicts.map((verdict) => verdict.theme).join(', '))}</title>`,
      `<style>${STYLE}</style>`,
      '</head>',
      '<body>',
      ...input.verdicts.flatMap((verdict) => sheet(verdict, input)),
      '</body>',
      '</html>',
      '',
    ].join('\n'),
};

function html(text: string): string {
  // A number keeps its per cent sign on its line.
  return escapeMarkup(oneLine(text)).replaceAll(' %', '\u00a0%');
}

function sheet(verdict: GateVerdict, input: FormInput): readonly string[] {
  const { run, counts } = verdict;
  return [
    '<main>',
    '<header>',
    `<p class="kind">Launch sheet</p>`,
    `<h1>${html(verdict.theme)}</h1>`,
    ...notAskedList(verdict),
    `<p class="verdict ${verdict.may ? 'yes' : 'no'}">${html(headline(verdict))}</p>`,
    '</header>',
    '<dl>',
    fact('Run', run.id),
    fact('Rendered', day(run.finishedAt ?? run.startedAt)),
    fact('Judged', verdict.today),
    fact('New', String(counts.new)),
    fact('Known', String(counts.known)),
    fact('Exempt', String(counts.exempt)),
    fact('Gone', String(counts.gone)),
    '</dl>',
    ...missingTable(verdict, input),
    ...holdingList(verdict.criteria.filter((criterion) => criterion.met)),
    ...causeList(verdict, input),
    ...exemptionTable(verdict.exemptions),
    ...warningList(verdict),
    '<section class="sign">',
    '<h2>Signed for</h2>',
    '<table>',
    '<thead><tr><th scope="col"></th><th scope="col">Name</th><th scope="col">Date</th><th scope="col">Signature</th></tr></thead>',
    `<tbody>${SIGN_OFF.map((part) => `<tr><th scope="row">${part}</th><td></td><td></td><td></td></tr>`).join('')}</tbody>`,
    '</table>',
    '</section>',
    `<footer>gloam ${html(input.version)}, ${html(run.browser)}${verdict.since === null ? '' : `, compared with run ${html(verdict.since)}`}</footer>`,
    '</main>',
  ];
}

function notAskedList({ notAsked }: GateVerdict): readonly string[] {
  if (notAsked.length === 0) return [];
  const items = notAsked.slice(0, MOST_WARNINGS).map((said) => `<li>${html(said)}</li>`);
  return [`<p>Not asked:</p>`, `<ul>${items.join('')}${more(notAsked.length - MOST_WARNINGS)}</ul>`];
}

function fact(name: string, value: string): string {
  return `<div><dt>${name}</dt><dd>${html(value)}</dd></div>`;
}

/** `2031-04-09 02:11 UTC` of an ISO date and time. */
function day(iso: string): string {
  return `${new Date(iso).toISOString().slice(0, 16).replace('T', ' ')} UTC`;
}

function missingTable(verdict: GateVerdict, { report }: FormInput): readonly string[] {
  const missing = verdict.criteria.filter((criterion) => !criterion.met);
  if (missing.length === 0) return [];
  const rows = missing.map((criterion) => {
    const [link] = criterion.links;
    const step = html(criterion.step);
    const linked = report === null || link === undefined ? step : `<a href="${html(addressOf(link, verdict, report))}">${step}</a>`;
    return [
      `<tr><th scope="row">${html(criterion.name)}</th>`,
      `<td>${html(criterion.needed)}</td>`,
      `<td>${html(criterion.found)}<small>${linked}</small></td></tr>`,
    ].join('');
  });
  return [
    '<section class="missing">',
    '<h2>Missing, nearest first</h2>',
    '<table>',
    '<thead><tr><th scope="col">Criterion</th><th scope="col">Needed</th><th scope="col">Found</th></tr></thead>',
    `<tbody>${rows.join('')}</tbody>`,
    '</table>',
    '</section>',
  ];
}

function holdingList(holding: readonly Criterion[]): readonly string[] {
  if (holding.length === 0) return [];
  const items = holding.map(
    ({ name, found, needed }) => `<li><b>${html(name)}</b> ${html(found)} <span>(needed: ${html(needed)})</span></li>`,
  );
  return ['<section class="holding">', '<h2>Holds</h2>', `<ul>${items.join('')}</ul>`, '</section>'];
}

function causeList(verdict: GateVerdict, { report }: FormInput): readonly string[] {
  if (verdict.causes.length === 0) return [];
  const worth = new Map<string | null, number>();
  for (const { cause } of verdict.findings) worth.set(cause, (worth.get(cause) ?? 0) + 1);
  const ranked = [...verdict.causes].sort((a, b) => (worth.get(b.id) ?? 0) - (worth.get(a.id) ?? 0));
  const rows = ranked.slice(0, MOST_CAUSES).map((cause) => {
    const title = html(causeTitle(cause));
    const shown =
      report === null
        ? title
        : `<a href="${html(addressOf({ kind: 'cause', id: cause.id, label: '' }, verdict, report))}">${title}</a>`;
    return `<li><b>${shown}</b> ${counted(worth.get(cause.id) ?? 0, 'finding')}. ${html(cause.why)}</li>`;
  });
  return [
    '<section>',
    '<h2>What lies behind the findings</h2>',
    `<ul>${rows.join('')}${more(ranked.length - MOST_CAUSES)}</ul>`,
    '</section>',
  ];
}

function exemptionTable(standings: readonly ExemptionStanding[]): readonly string[] {
  if (standings.length === 0) return [];
  const rows = standings.slice(0, MOST_EXEMPTIONS).map(({ exemption, state }) => {
    const until = exemption.until === undefined ? 'no end' : `${exemption.until}${UNTIL_WORDS[state]}`;
    const cells = [exemptionScope({ exemption }), exemption.why, exemption.owner ?? 'nobody', until, coverWords(exemption.covers)];
    return `<tr class="${state === 'expired' ? 'no' : 'yes'}">${cells.map((cell) => `<td>${html(cell)}</td>`).join('')}</tr>`;
  });
  const left = standings.length - MOST_EXEMPTIONS;
  return [
    '<section>',
    '<h2>Exemptions</h2>',
    '<table>',
    '<thead><tr>' +
      ['What', 'Why', 'Who answers', 'Until', 'Covers'].map((name) => `<th scope="col">${name}</th>`).join('') +
      '</tr></thead>',
    `<tbody>${rows.join('')}</tbody>`,
    '</table>',
    ...(left > 0 ? [`<p>${counted(left, 'more', 'more')}: gloam exempt lists them all.</p>`] : []),
    '</section>',
  ];
}

/** What the table of exemptions shows already is left out. */
function warningList(verdict: GateVerdict): readonly string[] {
  const shown = new Set(exemptionWarnings(verdict.exemptions));
  const warnings = verdict.warnings.filter((warning) => !shown.has(warning));
  if (warnings.length === 0) return [];
  const items = warnings.slice(0, MOST_WARNINGS).map((warning) => `<li>${html(warning)}</li>`);
  return ['<section>', '<h2>Mind</h2>', `<ul>${items.join('')}${more(warnings.length - MOST_WARNINGS)}</ul>`, '</section>'];
}

function more(left: number): string {
  return left > 0 ? `<li>${counted(left, 'more', 'more')}</li>` : '';
}

const STYLE = `
@page { size: A4; margin: 14mm 16mm; }
:root { color-scheme: light; --ink: #1d2a30; --quiet: #55646b; --line: #c9d2d5; --yes: #1f5f4d; --no: #98301f; }
* { box-sizing: border-box; }
body { margin: 0; color: var(--ink); background: #fff; font: 9.5pt/1.36 system-ui, 'Liberation Sans', sans-serif; }
main { max-width: 178mm; margin: 0 auto; padding: 8mm 0; break-after: page; display: flex; flex-direction: column; gap: 4.5mm; }
main:last-child { break-after: auto; } @media print { main { padding: 0; gap: 3.6mm; } }
header { display: grid; grid-template-columns: 1fr auto; align-items: end; border-bottom: 0.6mm solid var(--ink); padding-bottom: 2.5mm; }
header .kind { grid-column: 1 / -1; margin: 0; color: var(--quiet); }
h1 { margin: 0; font-size: 23pt; line-height: 1.1; overflow-wrap: anywhere; }
.verdict { margin: 0; font-weight: 600; max-width: 80mm; text-align: right; }
.verdict.yes { color: var(--yes); } .verdict.no { color: var(--no); }
dl { display: flex; flex-wrap: wrap; gap: 2mm 8mm; margin: 0; }
dt { color: var(--quiet); font-size: 8.5pt; } dd { margin: 0; font-variant-numeric: tabular-nums; }
h2 { font-size: 10pt; margin: 0 0 1mm; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 0.9mm 3mm 0.9mm 0; border-bottom: 0.2mm solid var(--line); font-weight: 400; overflow-wrap: anywhere; }
thead th { color: var(--quiet); font-size: 8.5pt; }
.missing h2 { color: var(--no); } .holding h2 { color: var(--yes); }
.missing th:first-child { width: 52mm; } .missing th:nth-child(2) { width: 40mm; }
.holding ul { columns: 2; column-gap: 8mm; } .holding li { break-inside: avoid; } .holding span { color: var(--quiet); }
small { display: block; color: var(--quiet); font-size: 8.5pt; } a { color: inherit; }
section ul { margin: 0; padding-left: 4.5mm; }
section p { margin: 1mm 0 0; color: var(--quiet); }
section tr.no td { color: var(--no); }
.sign { break-inside: avoid; }
.sign td, .sign tbody th { height: 9.5mm; vertical-align: bottom; }
.sign tbody th { width: 28mm; } .sign td:nth-child(3) { width: 30mm; } .sign td:nth-child(4) { width: 58mm; }
footer { color: var(--quiet); font-size: 8.5pt; }
`;
