// A resolver document (Resolver Module 2025.10) with one more context: that of a theme which is only thought of.
import path from 'node:path';
import { wrongUse } from '../../errors/command-errors.ts';

type Members = Readonly<Record<string, unknown>>;

/**
 * @param like input of the theme it is like: modifier → context
 * @param lay the files of that context → those of the new one, absolute paths
 * @returns the document's text, and the new theme's input
 */
export function withContext(
  document: { readonly file: string; readonly text: string },
  theme: { readonly as: string; readonly like: Readonly<Record<string, string>> },
  lay: (files: readonly string[]) => readonly string[],
): { readonly text: string; readonly input: Readonly<Record<string, string>> } {
  const root = membersOf(parsed(document));
  const modifiers = membersOf(root['modifiers']);
  const named = Object.entries(modifiers).find(([, modifier]) => theme.as in membersOf(membersOf(modifier)['contexts']));
  // Somebody wrote the context down already.
  if (named !== undefined) return { text: document.text, input: { ...theme.like, [named[0]]: theme.as } };
  const name = Object.keys(theme.like).find((each) => each in modifiers) ?? Object.keys(modifiers)[0];
  if (name === undefined)
    throw wrongUse(
      `${document.file}: found no modifier that a new theme could be a context of.`,
      'Give the resolver document a modifier with a context for each theme.',
    );
  const modifier = membersOf(modifiers[name]);
  const contexts = membersOf(modifier['contexts']);
  const own = contexts[theme.like[name] ?? String(modifier['default'])];
  const sources: readonly unknown[] = Array.isArray(own) ? own : [];
  const folder = path.dirname(document.file);
  const refOf = (source: unknown): string | null => {
    const ref = membersOf(source)['$ref'];
    return typeof ref === 'string' && !ref.startsWith('#') ? path.resolve(folder, ref) : null;
  };
  const files = sources.flatMap((source) => refOf(source) ?? []);
  const kept = new Map(sources.map((source) => [refOf(source), source]));
  // What is no file (a set of the document, tokens written out) stays where the theme had it: below the files.
  const inline = sources.filter((source) => refOf(source) === null);
  const laid = lay(files).map((file) => kept.get(file) ?? { $ref: path.relative(folder, file).replaceAll(path.sep, '/') });
  const made = {
    ...root,
    modifiers: {
      ...modifiers,
      [name]: { ...modifier, contexts: { ...contexts, [theme.as]: [...inline, ...laid] } },
    },
  };
  return { text: JSON.stringify(made, null, 2), input: { ...theme.like, [name]: theme.as } };
}

function parsed({ file, text }: { readonly file: string; readonly text: string }): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw wrongUse(
      `${file}: found no JSON: ${error instanceof Error ? error.message : String(error)}`,
      'gloam tokens says what is wrong in token files.',
    );
  }
}

function membersOf(value: unknown): Members {
  return isMembers(value) ? value : {};
}

function isMembers(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
