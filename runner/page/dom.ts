// Forms and documents have properties named after what lies in them, and those hide the properties every node has: with a field called
// `childNodes` a form's `childNodes` is that field, in every world (HTML, "the form element" and "DOM tree accessors"; Web IDL,
// LegacyOverrideBuiltIns). In-page code reads all nodes that may be one of these through `dom`; tests/page-reads.test.ts holds that.
// Not seen: names that fields had at an earlier time, when the page asked for them by these.

/** Stand-ins for nodes of which something is hidden. */
const standIns = new Map<unknown, object>();
const trees = new Set<Document | ShadowRoot>();

/** Elements whose names become properties of their document. */
const NAMED_IN_DOCUMENT = 'embed[name],form[name],iframe[name],img[name],img[id],object[name],object[id]';

/** @returns what answers as the node's prototypes do; to be read from, never to be handed on */
export function dom<T>(node: T): T {
  if (standIns.size === 0) return node;
  // Made from a node of this very type.
  return (standIns.get(node) as T | undefined) ?? node;
}

/** Pages change between two calls: all that is known is looked through again. */
export function lookAnew(): void {
  standIns.clear();
  trees.add(document);
  for (const tree of trees) if (!lookThrough(tree)) trees.delete(tree);
}

/** A frame's document or a shadow tree that somebody came upon. */
export function meetTree<T extends Document | ShadowRoot>(tree: T): T {
  if (!trees.has(tree)) {
    trees.add(tree);
    lookThrough(tree);
  }
  return tree;
}

/** @returns false where the tree is no longer shown */
function lookThrough(tree: Document | ShadowRoot): boolean {
  const isWhole = isDocument(tree);
  const isShown = isWhole ? Reflect.get(Document.prototype, 'defaultView', tree) !== null : tree.isConnected;
  if (!isShown) return false;
  const home = isWhole ? Document : DocumentFragment;
  if (isWhole) standInFor(tree, allIn(home, tree, NAMED_IN_DOCUMENT));
  for (const form of allIn(home, tree, 'form')) {
    // A collection of elements, by the standard.
    const controls = Reflect.get(HTMLFormElement.prototype, 'elements', form) as Iterable<Element>;
    standInFor(form, [...controls, ...allIn(Element, form, 'img')]);
  }
  return true;
}

/** By the function of a prototype, which serves nodes of every frame. */
function allIn(home: { readonly prototype: ParentNode }, root: Node, selector: string): readonly Element[] {
  const all = Reflect.get(home.prototype, 'querySelectorAll') as (selector: string) => Iterable<Element>;
  return [...Reflect.apply(all, root, [selector])];
}

function standInFor(node: Node, named: readonly Element[]): void {
  const prototype = Object.getPrototypeOf(node) as object;
  const names = named.flatMap((el) => [el.getAttribute('name'), el.getAttribute('id')]);
  if (names.some((name) => name !== null && name in prototype)) standIns.set(node, standIn(node, prototype));
}

function standIn(node: Node, prototype: object): object {
  return new Proxy(node, {
    get(_, name) {
      // A few, such as `location`, no name can hide: they are the node's own.
      const value: unknown = name in prototype ? Reflect.get(prototype, name, node) : Reflect.get(node, name);
      return typeof value === 'function' ? (value.bind(node) as unknown) : value;
    },
    set: (_, name, value) => Reflect.set(prototype, name, value, node),
    has: (_, name) => name in prototype,
  });
}

/** Tells roots apart: `in` does not narrow what is read through a stand-in. */
export function isDocument(node: Node): node is Document {
  return Reflect.get(Node.prototype, 'nodeType', node) === Node.DOCUMENT_NODE;
}
