// Pages of docs/ → the topics of `gloam help`: each page whole, its sections by their headings, and the rows of its tables by name.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { packageFolder } from './package-facts.ts';

export interface Topic {
  /** File name without its ending. */
  readonly name: string;
  /** Heading of the page. */
  readonly title: string;
  /** Markdown below the heading. */
  readonly whole: string;
}

/** For contributors, who have the sources. */
const NOT_FOR_USERS = new Set(['architecture']);

/** @returns in the order of their names */
export function readTopics(folder = path.join(packageFolder(), 'docs')): readonly Topic[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith('.md') && !NOT_FOR_USERS.has(name.slice(0, -3)))
    .sort()
    .map((name): Topic => {
      const text = readFileSync(path.join(folder, name), 'utf8');
      return {
        name: name.slice(0, -3),
        title: /^# (.*)$/m.exec(text)?.[1] ?? '',
        whole: text.replace(/^[\s\S]*?^# .*\n/m, '').trim(),
      };
    });
}

/** A part of a page that has a name of its own. */
export interface Part {
  readonly topic: string;
  readonly title: string;
  readonly text: string;
}

/** What pages say under this name: a section (`neon`, `pairs`), or a row of a table (an error's code, a word, a member). */
export function partsNamed(topics: readonly Topic[], name: string): readonly Part[] {
  const wanted = name.toLowerCase();
  return topics.flatMap(({ name: topic, whole }) => [
    ...sectionsOf(whole).flatMap(({ title, text }) => (namesOfHeading(title).includes(wanted) ? [{ topic, title, text }] : [])),
    ...rowsOf(whole).flatMap(({ cells, head }) =>
      namesOfCell(cells[0] ?? '').includes(wanted)
        ? [
            {
              topic,
              title: plain(cells[0] ?? ''),
              text: cells
                .slice(1)
                .map((cell, i) => `${plain(head[i + 1] ?? '')}: ${cell}`)
                .join('\n\n'),
            },
          ]
        : [],
    ),
  ]);
}

/** Names that `partsNamed` knows, for telling the nearest of a mistyped one. */
export function partNames(topics: readonly Topic[]): readonly string[] {
  return topics.flatMap(({ whole }) => [
    ...sectionsOf(whole).flatMap(({ title }) => namesOfHeading(title).slice(0, 1)),
    ...rowsOf(whole).flatMap(({ cells }) => namesOfCell(cells[0] ?? '')),
  ]);
}

function sectionsOf(markdown: string): readonly { readonly title: string; readonly text: string }[] {
  const bare = markdown.replace(/^```[\s\S]*?^```$/gm, (block) => block.replace(/^#/gm, '\u0000'));
  return bare
    .split(/^## /m)
    .slice(1)
    .map((section) => {
      const [title = '', ...lines] = section.split('\n');
      return { title: plain(title), text: lines.join('\n').replaceAll('\u0000', '#').trim() };
    });
}

/** `neon: Neon surfaces` → `neon: neon surfaces`, `neon`, `neon surfaces`; each word of a heading of one word. */
function namesOfHeading(title: string): readonly string[] {
  const lower = title.toLowerCase();
  const [code, rest] = lower.split(': ');
  return rest === undefined ? [lower] : [code ?? lower, rest, lower];
}

interface TableRow {
  readonly head: readonly string[];
  readonly cells: readonly string[];
}

function rowsOf(markdown: string): readonly TableRow[] {
  const lines = markdown.split('\n');
  let head: readonly string[] = [];
  return lines.flatMap((line, i): readonly TableRow[] => {
    if (!line.startsWith('|')) return [];
    if (/^\|[\s|:-]+\|$/.test(line)) return [];
    if (lines[i + 1]?.startsWith('| ---') === true) {
      head = cellsOf(line);
      return [];
    }
    return [{ head, cells: cellsOf(line) }];
  });
}

function cellsOf(line: string): readonly string[] {
  return line
    .replace(/^\||\|\s*$/g, '')
    .split(/(?<!\\)\|/)
    .map((cell) => cell.trim().replaceAll('\\|', '|'));
}

function namesOfCell(cell: string): readonly string[] {
  return plain(cell)
    .split(/,\s+/)
    .map((name) => name.toLowerCase());
}

/** Markdown for a terminal: no marks of emphasis, links as the topic they lead to, tables as lists, lines filled to a width. Code stays. */
export function forTerminal(markdown: string, columns: number): string {
  const width = Math.max(40, Math.min(100, columns - 1));
  const blocks = markdown.split(/(^```[\s\S]*?^```$)/m);
  return blocks
    .map((block) =>
      block.startsWith('```')
        ? block.replace(/^```.*\n|```$/gm, '').replace(/^(?=.)/gm, '  ')
        : block
            .split('\n')
            .flatMap((line, i, all) => linesOf(line, all[i + 1] ?? ''))
            .map((line) => fill(line, width))
            .join('\n'),
    )
    .join('')
    .replace(/\n{3,}/g, '\n\n')
    .trim();
}

function linesOf(line: string, next: string): readonly string[] {
  if (!line.startsWith('|')) return [plain(line.replace(/^#+ /, ''))];
  if (/^\|[\s|:-]+\|$/.test(line) || next.startsWith('| ---')) return [];
  const [first = '', ...rest] = cellsOf(line).map(plain);
  return [`- ${first}${rest.length === 0 ? '' : `: ${rest.filter((cell) => cell !== '').join(' · ')}`}`];
}

/** Without marks of emphasis, links and code; what stands as code keeps its own stars. */
function plain(line: string): string {
  const codes: string[] = [];
  const kept = line.replace(/`([^`]+)`/g, (_all, code: string) => `\u0001${String(codes.push(code) - 1)}\u0001`);
  return kept
    .replace(/!\[[^\]]*\]\([^)]+\)/g, '')
    .replace(/\[([^\]]+)\]\(([\w-]+)\.md[^)]*\)/g, (_all, words: string, topic: string) =>
      words === topic ? `gloam help ${topic}` : `${words} (gloam help ${topic})`,
    )
    .replace(/\[([^\]]+)\]\([^)]+\)/g, '$1')
    .replace(/\*\*([^*]+)\*\*/g, '$1')
    .replace(/(^|\W)\*([^*\s][^*]*)\*(?=\W|$)/g, '$1$2')
    .replace(/\u0001(\d+)\u0001/g, (_all, at: string) => codes[Number(at)] ?? '');
}

function fill(line: string, width: number): string {
  const hang = /^(\s*(?:[-*]|\d+\.) )/.exec(line)?.[1]?.length ?? 0;
  const lines: string[] = [];
  let current = '';
  for (const word of line.split(' ')) {
    if (current !== '' && current.length + 1 + word.length > width) {
      lines.push(current);
      current = `${' '.repeat(hang)}${word}`;
    } else current = current === '' ? word : `${current} ${word}`;
  }
  return [...lines, current].join('\n');
}
