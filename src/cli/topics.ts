// Pages of docs/ → the topics of `gloam help`: what stands before a page's first section is its short form.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { packageFolder } from './package-facts.ts';

export interface Topic {
  /** File name without its ending. */
  readonly name: string;
  /** Heading of the page. */
  readonly title: string;
  /** Markdown between the heading and the first section. */
  readonly short: string;
  /** Absolute path of the whole page. */
  readonly file: string;
}

/** @returns in the order of their names; pages that start with a section at once have no short form and are left out */
export function readTopics(folder = path.join(packageFolder(), 'docs')): readonly Topic[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith('.md'))
    .sort()
    .flatMap((name): readonly Topic[] => {
      const file = path.join(folder, name);
      const topic = toTopic(readFileSync(file, 'utf8'));
      return topic.short === '' ? [] : [{ name: name.replace(/\.md$/, ''), ...topic, file }];
    });
}

function toTopic(text: string): Pick<Topic, 'title' | 'short'> {
  const title = /^# (.*)$/m.exec(text)?.[1] ?? '';
  const behind = text.replace(/^[\s\S]*?^# .*\n/m, '');
  // Long tables are for the page itself.
  const short = behind.split(/^(?:## |\| --- )/m)[0] ?? '';
  const whole = short.endsWith('|\n') ? short.slice(0, short.trimEnd().lastIndexOf('\n') + 1) : short;
  return { title, short: whole.trim() };
}

/** Markdown for a terminal: links without addresses, no marks of emphasis, lines filled to a width. Code and tables stay as they are. */
export function forTerminal(markdown: string, columns: number): string {
  const width = Math.max(40, Math.min(100, columns - 1));
  const blocks = markdown.split(/(^```[\s\S]*?^```$)/m);
  return blocks
    .map((block) =>
      block.startsWith('```')
        ? block.replace(/^```.*\n|```$/gm, '').replace(/^(?=.)/gm, '  ')
        : block
            .split('\n')
            .map((line) => fill(plain(line), width))
            .join('\n'),
    )
    .join('')
    .replace(/\n{3,}/g, '\n\n')
    .trim();
}

function plain(line: string): string {
  return line
    .replace(/\[([^\]]+)\]\([^)]+\)/g, '$1')
    .replace(/\*\*([^*]+)\*\*/g, '$1')
    .replace(/(^|\W)\*([^*\s][^*]*)\*(?=\W|$)/g, '$1$2');
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
