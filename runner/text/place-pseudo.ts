// Generated text with its boxes, from the browser's layout tree: inside a page there is no way to ask for them.
import type { PlacedPseudo, WirePseudoHost, WireRect } from '../page/wire/wire.ts';
import type { LayoutDocument, LayoutSnapshot } from '../driver/page-driver.ts';
import type { Tab } from '../tab/tab.ts';

export async function placePseudo(tab: Tab, hosts: readonly WirePseudoHost[]): Promise<readonly PlacedPseudo[]> {
  const snapshot = await tab.guard('reading the layout', tab.driver.layout());
  return placedIn(snapshot, hosts);
}

/** Hosts that the snapshot does not know are left out. */
function placedIn(snapshot: LayoutSnapshot, hosts: readonly WirePseudoHost[]): readonly PlacedPseudo[] {
  const indexes = new Map<number, DocumentIndex>();
  const indexOf = (n: number): DocumentIndex | null => {
    const document = snapshot.documents[n];
    if (document === undefined) return null;
    const known = indexes.get(n) ?? indexDocument(document, snapshot.strings);
    indexes.set(n, known);
    return known;
  };
  return hosts.flatMap((host) => {
    let at = indexOf(0);
    for (const frame of host.path.slice(0, -1)) {
      const node: number | undefined = at?.elements[frame];
      const inner: number | undefined = node === undefined ? undefined : at?.frames.get(node);
      at = inner === undefined ? null : indexOf(inner);
    }
    const element = at?.elements[host.path.at(-1) ?? -1];
    const pseudo = element === undefined ? undefined : at?.pseudo.get(`${element}${host.which}`);
    const found = pseudo === undefined ? undefined : at?.texts.get(pseudo);
    return found === undefined ? [] : [{ ...host, ...found }];
  });
}

interface DocumentIndex {
  /** Node index of the n-th element in tree order, the browser's own shadow trees left out. */
  readonly elements: readonly number[];
  /** Frame element → document. */
  readonly frames: ReadonlyMap<number, number>;
  /** `NODE::before` → node. */
  readonly pseudo: ReadonlyMap<string, number>;
  readonly texts: ReadonlyMap<number, { readonly text: string; readonly rects: readonly WireRect[] }>;
}

const ELEMENT = 1;

function indexDocument(document: LayoutDocument, strings: readonly string[]): DocumentIndex {
  const { parentIndex = [], nodeType = [], nodeName = [], shadowRootType, contentDocumentIndex } = document.nodes;
  const internal = new Set<number>();
  shadowRootType?.index.forEach((node, i) => {
    if (strings[shadowRootType.value[i] ?? -1] === 'user-agent') internal.add(node);
  });
  const elements: number[] = [];
  const pseudo = new Map<string, number>();
  nodeType.forEach((type, node) => {
    const parent = parentIndex[node] ?? -1;
    // Parents come before their children.
    if (internal.has(parent)) internal.add(node);
    if (type !== ELEMENT || internal.has(node)) return;
    const name = strings[nodeName[node] ?? -1] ?? '';
    if (name.startsWith('::')) pseudo.set(`${parent}${name}`, node);
    else elements.push(node);
  });
  const frames = new Map<number, number>();
  contentDocumentIndex?.index.forEach((node, i) => {
    const inner = contentDocumentIndex.value[i];
    if (inner !== undefined) frames.set(node, inner);
  });
  const texts = new Map<number, { text: string; rects: WireRect[] }>();
  const boxes = new Map<number, WireRect[]>();
  document.textBoxes.layoutIndex.forEach((layout, i) => {
    const [x = 0, y = 0, width = 0, height = 0] = document.textBoxes.bounds[i] ?? [];
    boxes.set(layout, [...(boxes.get(layout) ?? []), [x, y, width, height]]);
  });
  document.layout.nodeIndex.forEach((node, layout) => {
    const rects = boxes.get(layout);
    if (rects === undefined) return;
    const known = texts.get(node) ?? { text: '', rects: [] };
    texts.set(node, { text: known.text + (strings[document.layout.text[layout] ?? -1] ?? ''), rects: [...known.rects, ...rects] });
  });
  return { elements, frames, pseudo, texts };
}
