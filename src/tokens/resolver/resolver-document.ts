// Resolver document (Resolver 2025.10, R4) → modifiers and an ordered list of steps; every fault of the document is collected.
import type { JsonObject, Stretch } from '../json/json-node.ts';
import { memberOf, quote } from '../json/json-node.ts';
import type { Origin } from '../flatten.ts';
import type { ProblemCode, Report } from '../problem.ts';
import type { SourceReader } from './resolver-sources.ts';

/** A modifier: an axis with its contexts, each a list of token trees in the order they merge. */
export interface Modifier {
  readonly name: string;
  readonly contexts: ReadonlyMap<string, readonly JsonObject[]>;
  readonly defaultContext: string | null;
}

export type ResolverStep =
  | { readonly kind: 'set'; readonly name: string; readonly sources: readonly JsonObject[] }
  | { readonly kind: 'modifier'; readonly modifier: Modifier };

export interface ResolverDocument {
  readonly file: string;
  /** By name, the ones missing from the order included: they count when an input is judged (R6.1). */
  readonly modifiers: ReadonlyMap<string, Modifier>;
  readonly steps: readonly ResolverStep[];
  /** Product of the context counts (R4.1.5.4). */
  readonly permutations: number;
}

const VERSION = '2025.10';

/** @param sources follows the references of this document @param report gets every fault; after any error the result is not to be used */
export function readResolverDocument(root: JsonObject, sources: SourceReader, report: Report): ResolverDocument {
  const tell = (
    code: ProblemCode,
    at: Stretch,
    facts: { found?: string; expected: string; hint?: string; token?: string },
  ): void => {
    report({
      code,
      token: facts.token ?? '',
      at,
      found: facts.found ?? quote(at),
      expected: facts.expected,
      hint: facts.hint ?? '',
    });
  };

  const version = memberOf(root, 'version');
  if (version?.kind !== 'string' || version.value !== VERSION) {
    const found = version === undefined ? 'no version' : quote(version);
    tell('version', version ?? root, { found, expected: `"version": "${VERSION}"`, hint: 'Other versions are not known here.' });
  }
  const sets = readMap('sets', (name, object) => readSources(object, `set ${name}`));
  const modifiers = readMap('modifiers', readModifier);
  const { steps, inline } = readOrder();
  tellUnread(steps);
  const all = new Map([...modifiers, ...inline]);
  const permutations = [...all.values()].reduce((product, { contexts }) => product * Math.max(1, contexts.size), 1);
  return { file: root.source.file, modifiers: all, steps, permutations };

  /** What no step names is never read, whatever stands in it. */
  function tellUnread(taken: readonly ResolverStep[]): void {
    if (taken.length === 0) return;
    const names = new Set(taken.map((step) => `${step.kind} ${step.kind === 'set' ? step.name : step.modifier.name}`));
    for (const [kind, member] of [
      ['set', 'sets'],
      ['modifier', 'modifiers'],
    ] as const) {
      const map = memberOf(root, member);
      for (const { name, value } of map?.kind === 'object' ? map.members : []) {
        if (names.has(`${kind} ${name}`) || isMentioned(member, name)) continue;
        const hint = `Name it there, as { "$ref": "#/${member}/${name}" }, or take it out.`;
        tell('set-unused', value, {
          found: `the ${kind} "${name}", which no step names`,
          expected: 'a step of "resolutionOrder" for it',
          hint,
        });
      }
    }
  }

  /** By a reference from elsewhere, as contexts may pull in a set. */
  function isMentioned(member: string, name: string): boolean {
    const pointer = `#/${member}/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`;
    return [`${pointer}"`, `${pointer}/`].some((text) => root.source.text.includes(text));
  }

  function readMap<T>(member: 'sets' | 'modifiers', read: (name: string, object: JsonObject) => T): Map<string, T> {
    const entries = new Map<string, T>();
    const map = memberOf(root, member);
    if (map === undefined) return entries;
    if (map.kind !== 'object') {
      tell('bad-sources', map, { expected: `an object: name → ${member.slice(0, -1)}` });
      return entries;
    }
    for (const { name, value } of map.members) {
      const object = sources.dereference(value, 'part');
      if (object !== null) entries.set(name, read(name, object));
    }
    return entries;
  }

  function readSources(object: JsonObject, name: string): readonly JsonObject[] {
    const list = memberOf(object, 'sources');
    if (list?.kind === 'array') return sources.readList(list, object);
    const found = list === undefined ? `${name} without "sources"` : quote(list);
    tell('bad-sources', list ?? object, { found, expected: '"sources": a list of token trees and references' });
    return [];
  }

  function readModifier(name: string, object: JsonObject): Modifier {
    const contexts = new Map<string, readonly JsonObject[]>();
    const map = memberOf(object, 'contexts');
    for (const { name: context, value } of map?.kind === 'object' ? map.members : []) {
      if (value.kind !== 'array')
        tell('bad-sources', value, { expected: `a list of token trees for context "${context}" of "${name}"` });
      contexts.set(context, value.kind === 'array' ? sources.readList(value, object) : []);
    }
    const chosen = memberOf(object, 'default');
    const expected = '"contexts" with at least two: name → list of token trees';
    if (contexts.size === 0) {
      const hint = memberOf(object, 'context') === undefined ? '' : 'The member is called "contexts".';
      tell('modifier-empty', map ?? object, { found: `modifier "${name}" without contexts`, expected, hint });
    } else if (contexts.size === 1) {
      tell('single-context', map ?? object, {
        found: `modifier "${name}" with one context`,
        expected,
        hint: 'Make it a set, or add a context.',
      });
    }
    const isContext = chosen === undefined || (chosen.kind === 'string' && contexts.has(chosen.value));
    if (!isContext && contexts.size > 0) {
      tell('default-not-context', chosen, { expected: `one of ${[...contexts.keys()].map((c) => `"${c}"`).join(', ')}` });
    }
    return { name, contexts, defaultContext: chosen?.kind === 'string' && contexts.has(chosen.value) ? chosen.value : null };
  }

  function readOrder(): { readonly steps: readonly ResolverStep[]; readonly inline: ReadonlyMap<string, Modifier> } {
    const steps: ResolverStep[] = [];
    const inline = new Map<string, Modifier>();
    const names = new Set<string>();
    const order = memberOf(root, 'resolutionOrder');
    if (order?.kind !== 'array' || order.items.length === 0) {
      const found = order === undefined ? 'no resolutionOrder' : quote(order);
      tell('order-missing', order ?? root, { found, expected: '"resolutionOrder": a list of sets and modifiers' });
      return { steps, inline };
    }
    for (const item of order.items) {
      const named = sources.namedStep(item);
      if (named === 'faulty') continue;
      if (named !== null) {
        const known = named.kind === 'set' ? sets.has(named.name) : modifiers.has(named.name);
        if (!known) continue;
        const step = toStep(named.kind, named.name, named.object, named.overlaid);
        steps.push(step);
        if (step.kind === 'modifier') inline.set(named.name, step.modifier);
        continue;
      }
      const object = sources.dereference(item, 'step');
      if (object !== null) readInline(object, steps, inline, names);
    }
    return { steps, inline };
  }

  /** Members beside `$ref` override the target's (R4.2.2): such a step is read afresh from the overlaid object. */
  function toStep(kind: 'set' | 'modifier', name: string, object: JsonObject, overlaid: boolean): ResolverStep {
    if (kind === 'set') return { kind, name, sources: (overlaid ? null : sets.get(name)) ?? readSources(object, `set ${name}`) };
    return { kind, modifier: (overlaid ? null : modifiers.get(name)) ?? readModifier(name, object) };
  }

  function readInline(object: JsonObject, steps: ResolverStep[], inline: Map<string, Modifier>, names: Set<string>): void {
    const type = memberOf(object, 'type');
    const name = memberOf(object, 'name');
    const kind = type?.kind === 'string' && (type.value === 'set' || type.value === 'modifier') ? type.value : null;
    if (kind === null || name?.kind !== 'string') {
      tell('inline-name', object, { expected: 'a reference, or an object with "type" ("set" or "modifier") and a "name"' });
      return;
    }
    if (names.has(name.value) || (kind === 'modifier' && modifiers.has(name.value))) {
      tell('dup-name', name, { expected: 'a name that no other inline set or modifier has, and no modifier in "modifiers"' });
      return;
    }
    names.add(name.value);
    const step = toStep(kind, name.value, object, true);
    steps.push(step);
    if (step.kind === 'modifier') inline.set(name.value, step.modifier);
  }
}

/** A token tree and where it comes from. */
export interface PlacedTree {
  readonly root: JsonObject;
  readonly origin: Origin;
}

/** The trees of one permutation in the order they merge. @param chosen modifier → context, where not the default */
export function treesOf(document: ResolverDocument, chosen: ReadonlyMap<string, string>): readonly PlacedTree[] {
  return document.steps.flatMap((step): readonly PlacedTree[] => {
    if (step.kind === 'set') return step.sources.map((root) => ({ root, origin: { kind: 'set', name: step.name } }));
    const { name, contexts, defaultContext } = step.modifier;
    const context = chosen.get(name) ?? defaultContext;
    if (context === null) return [];
    return (contexts.get(context) ?? []).map((root) => ({ root, origin: { kind: 'modifier', name, context } }));
  });
}
