// The launch sheet as a file: one printable page for each theme with the verdict, what it rests on, and room for the names of those who
// sign. A single HTML file: no script, nothing loaded; every text of a page under test is escaped. What stands on it: sheet-document.ts.
import { addressOf, escapeMarkup, oneLine } from './form.ts';
import type { Form } from './form.ts';
import { sheetDocument } from './sheet-document.ts';
import type { SheetDocument } from './sheet-document.ts';
import type { Link } from '../verdict.ts';
import { counted } from '../words.ts';

export const launchSheet: Form = {
  file: 'launch-sheet.html',
  about: 'one printable page for each theme, with a place for sign-off',
  write: ({ verdicts, version, report }) =>
    sheetFile(
      verdicts.map((verdict) => {
        const worth = new Map<string, number>();
        for (const { cause } of verdict.findings) if (cause !== null) worth.set(cause, (worth.get(cause) ?? 0) + 1);
        return {
          sheet: sheetDocument(verdict, { worth, version }),
          hrefOf: (link) => (report === null ? null : addressOf(link, verdict, report)),
        };
      }),
    ),
};

interface SheetInput {
  readonly sheet: SheetDocument;
  readonly hrefOf: (link: Link) => string | null;
}

export function sheetFile(sheets: readonly SheetInput[]): string {
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
    `<title>Launch sheet: ${html(sheets.map(({ sheet }) => sheet.theme).join(', '))}</title>`,
    `<style>${STYLE}</style>`,
    '</head>',
    '<body>',
    ...sheets.flatMap(sheetPage),
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

function html(text: string): string {
  // A number keeps its per cent sign on its line.
  return escapeMarkup(oneLine(text)).replaceAll(' %', '\u00a0%');
}

function linked(text: string, href: string | null): string {
  return href === null ? text : `<a href="${html(href)}">${text}</a>`;
}

function sheetPage({ sheet, hrefOf }: SheetInput): readonly string[] {
  const { more: left } = sheet;
  return [
    '<main>',
    '<header>',
    `<p class="kind">Launch sheet</p>`,
    `<h1>${html(sheet.theme)}</h1>`,
    ...section(sheet.notAsked, (items) => [`<p>Not asked:</p>`, list(items.map(html), left.notAsked)]),
    `<p class="verdict ${sheet.may ? 'yes' : 'no'}">${html(sheet.headline)}</p>`,
    '</header>',
    '<dl>',
    ...sheet.facts.map(({ name, value }) => `<div><dt>${name}</dt><dd>${html(value)}</dd></div>`),
    '</dl>',
    ...section(sheet.open, (rows) => [
      '<section class="open">',
      '<h2>Open, nearest first</h2>',
      '<table>',
      '<thead><tr><th scope="col">Criterion</th><th scope="col">Needed</th><th scope="col">Found</th></tr></thead>',
      `<tbody>${rows
        .map(
          ({ name, needed, found, step, link }) =>
            `<tr><th scope="row">${html(name)}</th><td>${html(needed)}</td><td>${html(found)}<small>${linked(html(step), link === null ? null : hrefOf(link))}</small></td></tr>`,
        )
        .join('')}</tbody>`,
      '</table>',
      '</section>',
    ]),
    ...section(sheet.holds, (rows) => [
      '<section class="holding">',
      '<h2>Holds</h2>',
      `<ul>${rows.map(({ name, found, needed }) => `<li><b>${html(name)}</b> ${html(found)} <span>(needed: ${html(needed)})</span></li>`).join('')}</ul>`,
      '</section>',
    ]),
    ...section(sheet.causes, (causes) => [
      '<section>',
      '<h2>What lies behind the findings</h2>',
      list(
        causes.map(
          ({ id, title, findings, why }) =>
            `<b>${linked(html(title), hrefOf({ kind: 'cause', id, label: '' }))}</b> ${counted(findings, 'finding')}. ${html(why)}`,
        ),
        left.causes,
      ),
      '</section>',
    ]),
    ...section(sheet.exemptions, (rows) => [
      '<section>',
      '<h2>Exemptions</h2>',
      '<table>',
      `<thead><tr>${['What', 'Why', 'Who answers', 'Until', 'Covers'].map((name) => `<th scope="col">${name}</th>`).join('')}</tr></thead>`,
      `<tbody>${rows
        .map(
          ({ scope, why, owner, until, covers, over }) =>
            `<tr class="${over ? 'no' : 'yes'}">${[scope, why, owner, until, covers].map((cell) => `<td>${html(cell)}</td>`).join('')}</tr>`,
        )
        .join('')}</tbody>`,
      '</table>',
      ...(left.exemptions > 0 ? [`<p>${counted(left.exemptions, 'more', 'more')}: gloam exempt lists them all.</p>`] : []),
      '</section>',
    ]),
    ...section(sheet.warnings, (items) => ['<section>', '<h2>Mind</h2>', list(items.map(html), left.warnings), '</section>']),
    '<section class="sign">',
    '<h2>Signed for</h2>',
    '<table>',
    '<thead><tr><th scope="col"></th><th scope="col">Name</th><th scope="col">Date</th><th scope="col">Signature</th></tr></thead>',
    `<tbody>${sheet.signOff.map((part) => `<tr><th scope="row">${part}</th><td></td><td></td><td></td></tr>`).join('')}</tbody>`,
    '</table>',
    '</section>',
    `<footer>${html(sheet.foot)}</footer>`,
    '</main>',
  ];
}

/** Nothing stands for an empty list. */
function section<T>(items: readonly T[], write: (items: readonly T[]) => readonly string[]): readonly string[] {
  return items.length === 0 ? [] : write(items);
}

function list(items: readonly string[], left: number): string {
  const more = left > 0 ? [counted(left, 'more', 'more')] : [];
  return `<ul>${[...items, ...more].map((item) => `<li>${item}</li>`).join('')}</ul>`;
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
.open h2 { color: var(--no); } .holding h2 { color: var(--yes); }
.open th:first-child { width: 52mm; } .open th:nth-child(2) { width: 40mm; }
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
