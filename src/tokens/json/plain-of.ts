// JSON node → plain value, for handing on what is not understood; objects have no prototype, so `__proto__` is a name like others.
import type { JsonNode } from './json-node.ts';

export function plainOf(node: JsonNode): unknown {
  switch (node.kind) {
    case 'object': {
      const object: Record<string, unknown> = { __proto__: null };
      for (const { name, value } of node.members) object[name] = plainOf(value);
      return object;
    }
    case 'array':
      return node.items.map(plainOf);
    case 'string':
    case 'number':
    case 'boolean':
      return node.value;
    case 'null':
    case 'broken':
      return null;
  }
}
