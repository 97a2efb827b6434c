// Reference objects of a resolver document (Resolver 2025.10, R4.2) → the token trees they stand for, in place and in order.
import type { JsonArray, JsonNode, JsonObject, JsonString, Source, Stretch } from '../json/json-node.ts';
import { memberOf, quote } from '../json/json-node.ts';
import { parsePointer, walkPointer } from '../json/pointer.ts';
import type { Loader } from '../load-source.ts';
import { pathBeside } from '../load-source.ts';
import type { ProblemCode, Report } from '../problem.ts';

export interface NamedStep {
  readonly kind: 'set' | 'modifier';
  readonly name: string;
  readonly object: JsonObject;
  /** Members beside `$ref` changed the object. */
  readonly overlaid: boolean;
}

export interface SourceReader {
  /** Token trees of a `sources` or context list. @param owner the set or modifier it belongs to */
  readonly readList: (list: JsonArray, owner: JsonObject) => readonly JsonObject[];
  /** The object itself, or what its `$ref` leads to with the members beside it laid over; null when faulty (reported). */
  readonly dereference: (node: JsonNode, what: 'part' | 'step') => JsonObject | null;
  /** A step that points at a set or modifier of the same document; null when it is none. */
  readonly namedStep: (item: JsonNode) => NamedStep | 'faulty' | null;
}

interface Located {
  readonly node: JsonObject;
  readonly segments: readonly string[];
  /** The target stands in a resolver document, where `sets` and `modifiers` have their meaning. */
  readonly inResolver: boolean;
}

/** Sets may pull in sets twice, which multiplies; ours, far above any real document. */
const MOST_SOURCES = 10_000;
const MOST_NESTED = 100;

export function createSourceReader(loader: Loader, report: Report): SourceReader {
  const active: JsonObject[] = [];
  let left = MOST_SOURCES;

  const tell = (code: ProblemCode, at: Stretch, expected: string, hint = '', found = quote(at)): null => {
    report({ code, token: '', at, found, expected, hint });
    return null;
  };

  function readList(list: JsonArray, owner: JsonObject): readonly JsonObject[] {
    active.push(owner);
    const trees = list.items.flatMap((item) => readSource(item));
    active.pop();
    return trees;
  }

  function readSource(item: JsonNode): readonly JsonObject[] {
    left -= 1;
    if (left < 0 || active.length > MOST_NESTED) {
      if (left >= -1)
        tell(
          'too-large',
          item,
          `at most ${String(MOST_SOURCES)} sources, ${String(MOST_NESTED)} sets deep`,
          'Sets that pull in sets multiply.',
        );
      left = Math.min(left, -1);
      return [];
    }
    if (item.kind !== 'object') {
      if (item.kind !== 'broken') tell('bad-sources', item, 'a token tree or a reference object');
      return [];
    }
    const ref = memberOf(item, '$ref');
    if (ref === undefined) return [item];
    const located = locate(item, ref, false);
    if (located === null) return [];
    if (active.includes(located.node)) {
      tell('source-cycle', ref, 'a source that does not lead back to itself', 'Take one reference out of the loop.');
      return [];
    }
    const target = overlay(located.node, item);
    const isSet = located.inResolver && located.segments.length === 2 && located.segments[0] === 'sets';
    if (isSet) {
      const sources = memberOf(target, 'sources');
      // A set without sources is reported where it stands.
      return sources?.kind === 'array' ? readList(sources, located.node) : [];
    }
    if (memberOf(target, '$ref') === undefined) return [target];
    active.push(located.node);
    const trees = readSource(target);
    active.pop();
    return trees;
  }

  function dereference(node: JsonNode, what: 'part' | 'step'): JsonObject | null {
    let here = node;
    for (let hops = 0; hops <= MOST_NESTED; hops += 1) {
      if (here.kind !== 'object') {
        return here.kind === 'broken' ? null : tell(what === 'step' ? 'inline-name' : 'bad-sources', here, 'an object');
      }
      const ref = memberOf(here, '$ref');
      if (ref === undefined) return here;
      const located = locate(here, ref, false);
      if (located === null) return null;
      here = overlay(located.node, here);
    }
    return tell('source-cycle', node, 'a reference that does not lead back to itself', 'Take one reference out of the loop.');
  }

  function namedStep(item: JsonNode): NamedStep | 'faulty' | null {
    const ref = item.kind === 'object' ? memberOf(item, '$ref') : undefined;
    if (item.kind !== 'object' || ref === undefined) return null;
    const segments = ref.kind === 'string' && ref.value.startsWith('#/') ? parsePointer(ref.value.slice(1)) : null;
    const [root, name] = segments ?? [];
    if (root !== 'sets' && root !== 'modifiers' && root !== 'resolutionOrder') return null;
    const located = locate(item, ref, true);
    if (located === null) return 'faulty';
    if (name === undefined || segments?.length !== 2) {
      tell('bad-pointer', ref, 'a pointer to one set or modifier, e.g. "#/sets/ramp"');
      return 'faulty';
    }
    const kind = root === 'sets' ? 'set' : 'modifier';
    return { kind, name, object: overlay(located.node, item), overlaid: item.members.length > 1 };
  }

  /** Follows one `$ref`. */
  function locate(object: JsonObject, ref: JsonNode, isStep: boolean): Located | null {
    if (ref.kind !== 'string') return tell('bad-pointer', ref, 'a reference as text, e.g. "#/sets/ramp" or "ramp.tokens.json"');
    const address = addressOf(ref);
    if (address === null) return null;
    const { source, segments } = address;
    const { root } = source;
    if (root === null) return null;
    const inResolver = source === ref.source || (root.kind === 'object' && memberOf(root, 'resolutionOrder') !== undefined);
    if (inResolver && segments[0] === 'resolutionOrder') {
      return tell('bad-pointer', ref, 'a pointer elsewhere', 'Nothing may point into resolutionOrder.');
    }
    if (inResolver && segments[0] === 'modifiers' && !isStep) {
      return tell(
        'bad-pointer',
        ref,
        'a set or a token file',
        'Only resolutionOrder may point at modifiers; move what is shared into a set.',
      );
    }
    const node = walkPointer(root, segments);
    if (node === undefined) return tell('bad-pointer', ref, 'an existing place', 'Check each segment; names are case-sensitive.');
    if (node.kind !== 'object') return tell('bad-pointer', ref, 'a place where an object stands');
    if (node.source === object.source && node.start <= object.start && object.end <= node.end) {
      return tell(
        'source-cycle',
        ref,
        'a place that does not hold the reference itself',
        'A reference cannot point at what it stands in.',
      );
    }
    return { node, segments, inResolver };
  }

  function addressOf(ref: JsonString): { readonly source: Source; readonly segments: readonly string[] } | null {
    if (/^([A-Za-z][A-Za-z0-9+.-]+:|\/\/)/.test(ref.value)) {
      return tell(
        'remote-unsupported',
        ref,
        'a file path or a pointer',
        'Files are read from disk only; keep a copy beside the document.',
      );
    }
    const hash = ref.value.indexOf('#');
    const path = hash === -1 ? ref.value : ref.value.slice(0, hash);
    const source = path === '' ? ref.source : loadBeside(ref.source.file, path);
    if (source === null) {
      return tell('source-missing', ref, 'a file that can be read', `Looked for ${pathBeside(ref.source.file, path)}.`);
    }
    let fragment = hash === -1 ? '' : ref.value.slice(hash + 1);
    if (fragment !== '' && !fragment.startsWith('/')) {
      tell('pointer-slash', ref, `"#/${fragment}"`, 'A pointer begins with a slash.');
      fragment = `/${fragment}`;
    }
    const segments = parsePointer(fragment);
    return segments === null ? tell('bad-pointer', ref, 'a JSON Pointer after "#"') : { source, segments };
  }

  function loadBeside(file: string, path: string): Source | null {
    const plain = loader.load(pathBeside(file, path));
    if (plain !== null || !path.includes('%')) return plain;
    try {
      return loader.load(pathBeside(file, decodeURIComponent(path)));
    } catch {
      return null;
    }
  }

  return { readList, dereference, namedStep };
}

/** Members beside `$ref` replace the target's, shallowly (R4.2.2). */
function overlay(target: JsonObject, reference: JsonObject): JsonObject {
  const beside = reference.members.filter(({ name }) => name !== '$ref');
  if (beside.length === 0) return target;
  const replaced = new Set(beside.map(({ name }) => name));
  return { ...reference, members: [...target.members.filter(({ name }) => !replaced.has(name)), ...beside] };
}
