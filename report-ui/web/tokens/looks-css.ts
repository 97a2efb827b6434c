// Resolver document and token files (Format and Resolver modules 2025.10, the part these files use) → one block of custom properties
// for each look. Names are the token's path, joined with `-`. No file access of its own: `read` hands over parsed files.

type Node = Readonly<Record<string, unknown>>;
interface Token {
  readonly path: readonly string[];
  readonly type: string;
  readonly value: unknown;
}

/** Where each look is put on: chosen by the reader, or following the system. */
const SCOPES = [
  { look: 'light', scheme: 'light', selector: ':root', media: null },
  { look: 'dark', scheme: 'dark', selector: ':root:not([data-look])', media: '(prefers-color-scheme: dark)' },
  { look: 'contrast', scheme: 'dark', selector: ':root:not([data-look])', media: '(prefers-contrast: more)' },
  { look: 'dark', scheme: 'dark', selector: ":root[data-look='dark']", media: null },
  { look: 'contrast', scheme: 'dark', selector: ":root[data-look='contrast']", media: null },
  // Paper is light, whatever look was chosen.
  { look: 'light', scheme: 'light', selector: ':root:root:root', media: 'print' },
] as const;

export function looksCss(resolverFile: string, read: (file: string) => unknown): string {
  const resolver = node(read(resolverFile));
  return SCOPES.map(({ look, scheme, selector, media }) => {
    const tree = sources(resolver, look)
      .map((file) => node(read(file)))
      .reduce(merge, {});
    const lines = list(tree, [], undefined).map((token) => `  --${token.path.join('-')}: ${css(token)};`);
    const block = `${selector} {\n  color-scheme: ${scheme};\n${lines.join('\n')}\n}\n`;
    return media === null ? block : `@media ${media} {\n${block}}\n`;
  }).join('\n');
}

/** Files of a look in resolution order. */
function sources(resolver: Node, look: string): readonly string[] {
  return items(resolver['resolutionOrder']).flatMap((entry) => {
    const target = text(node(entry)['$ref'])
      .replace(/^#\//, '')
      .split('/')
      .reduce<Node>((at, key) => node(at[key]), resolver);
    const refs = 'contexts' in target ? items(node(target['contexts'])[look]) : items(target['sources']);
    return refs.map((ref) => text(node(ref)['$ref']));
  });
}

function merge(below: Node, above: Node): Node {
  const merged: Record<string, unknown> = { ...below };
  for (const [key, value] of Object.entries(above)) {
    const old = merged[key];
    merged[key] = isNode(old) && isNode(value) && !('$value' in value) ? merge(old, value) : value;
  }
  return merged;
}

function list(group: Node, path: readonly string[], inherited: string | undefined): readonly Token[] {
  const type = typeof group['$type'] === 'string' ? group['$type'] : inherited;
  if ('$value' in group) return [{ path, type: type ?? '', value: group['$value'] }];
  return Object.entries(group).flatMap(([key, value]) =>
    key.startsWith('$') || !isNode(value) ? [] : list(value, [...path, key], type),
  );
}

function css({ path, type, value }: Token): string {
  if (typeof value === 'string' && value.startsWith('{')) return `var(--${value.slice(1, -1).replaceAll('.', '-')})`;
  switch (type) {
    case 'color': {
      const { colorSpace, components } = node(value);
      return `${text(colorSpace)}(${items(components).join(' ')})`;
    }
    case 'dimension':
    case 'duration': {
      const { value: amount, unit } = node(value);
      return `${String(amount)}${text(unit)}`;
    }
    case 'fontFamily':
      return items(value)
        .map((family) => (/ /.test(text(family)) ? `'${text(family)}'` : text(family)))
        .join(', ');
    default:
      throw new Error(`${path.join('.')}: found type "${type}"; expected color, dimension, duration or fontFamily.`);
  }
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function node(value: unknown): Node {
  if (!isNode(value)) throw new Error(`found ${JSON.stringify(value)}; expected an object.`);
  return value;
}

function items(value: unknown): readonly unknown[] {
  if (!Array.isArray(value)) throw new Error(`found ${JSON.stringify(value)}; expected a list.`);
  return value;
}

function text(value: unknown): string {
  if (typeof value !== 'string') throw new Error(`found ${JSON.stringify(value)}; expected a text.`);
  return value;
}
