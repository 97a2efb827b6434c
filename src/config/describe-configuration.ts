// The schema of the configuration → its reference as Markdown (docs/configuration.md).
import { z } from 'zod';
import { configurationFile } from './schema.ts';

type Type = z.core.$ZodType;

const HEAD = `# Configuration

\`gloam.config.ts\`, \`.js\`, \`.mjs\` or \`.json\`, looked for in this order in the folder \`gloam\` is called in, or named with \`--config\`. Paths are relative to the file. A member that nobody reads is refused, with the nearest known name. Written from the schema; \`gloam init\` makes a commented one for your app.

\`\`\`ts
import { configuration } from 'gloam/config';

export default configuration({
  app: { serve: 'app' },
  pages: ['/index.html', { path: '/watch.html', states: ['menu'] }],
  themes: {
    noon: { tone: 'light' },
    dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } }, tokens: { theme: 'dusk' } },
  },
  states: { menu: { click: '#menu-button' } },
});
\`\`\`

| member | value | default | meaning |
| --- | --- | --- | --- |
`;

export function describeConfiguration(): string {
  return HEAD + rowsOf(configurationFile, '').join('\n') + '\n';
}

/** A row for each member, members of members behind it; `[]` is an item of a list, `*` an entry under a name of your own. */
function rowsOf(type: Type, path: string): readonly string[] {
  const inner = unwrap(type);
  if (inner instanceof z.ZodObject) {
    return Object.entries(inner.shape as Readonly<Record<string, Type>>).flatMap(([name, member]) => {
      const at = path === '' ? name : `${path}.${name}`;
      return [optionRow(at, member), ...rowsOf(member, at)];
    });
  }
  if (inner instanceof z.ZodArray) return rowsOf(inner.element, `${path}[]`);
  if (inner instanceof z.ZodRecord) return rowsOf(inner.valueType, `${path}.*`);
  if (inner instanceof z.ZodUnion) return inner.def.options.flatMap((option) => rowsOf(option, path));
  return [];
}

function optionRow(at: string, type: Type): string {
  const cells = [`\`${at}\``, kindOf(type), defaultOf(type), aboutOf(type) ?? ''];
  return `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
}

/** What stands inside wrappers that only say what happens when nothing is given. */
function unwrap(type: Type): Type {
  if (type instanceof z.ZodOptional || type instanceof z.ZodDefault || type instanceof z.ZodPrefault)
    return unwrap(type.def.innerType);
  if (type instanceof z.ZodPipe) return unwrap(type.def.out);
  return type;
}

function kindOf(type: Type): string {
  const inner = unwrap(type);
  if (inner instanceof z.ZodEnum) return inner.options.map((option) => `\`${option}\``).join(', ');
  if (inner instanceof z.ZodLiteral) return [...inner.values].map((value) => `\`${String(value)}\``).join(', ');
  if (inner instanceof z.ZodNumber) return 'number';
  if (inner instanceof z.ZodBoolean) return 'true or false';
  if (inner instanceof z.ZodArray) return `list of ${kindOf(inner.element)}`;
  if (inner instanceof z.ZodRecord) return `names → ${kindOf(inner.valueType)}`;
  if (inner instanceof z.ZodUnion) return inner.def.options.map(kindOf).join(', or ');
  if (inner instanceof z.ZodObject) return 'object';
  return 'text';
}

function defaultOf(type: Type): string {
  if (type instanceof z.ZodOptional) return '–';
  if (type instanceof z.ZodDefault || type instanceof z.ZodPrefault) return `\`${JSON.stringify(type.def.defaultValue)}\``;
  if (type instanceof z.ZodPipe) return defaultOf(type.def.out);
  return 'required';
}

/** The description of the type or of what it wraps. */
function aboutOf(type: Type): string | undefined {
  const own = z.globalRegistry.get(type)?.description;
  if (own !== undefined) return own;
  if (type instanceof z.ZodOptional || type instanceof z.ZodDefault || type instanceof z.ZodPrefault)
    return aboutOf(type.def.innerType);
  if (type instanceof z.ZodPipe) return aboutOf(type.def.out);
  return undefined;
}
