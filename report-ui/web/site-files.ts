// The static form: answers and pictures lie beside the page as scripts, which load from disk where fetch is refused. Each script
// hands its content to `gloamSite`; `index.js` (loaded before the page's own script) lists what there is.

interface SiteIndex {
  /** Question → number of the script that holds its answer. */
  readonly answers: Readonly<Record<string, number>>;
  /** Path of a scaled picture or crop → file beside the page. */
  readonly files: Readonly<Record<string, string>>;
}
type Taker = (content: unknown) => void;

declare global {
  var gloamSite: { readonly index: SiteIndex; put?: (name: string, content: unknown) => void } | undefined;
}

const waiting = new Map<string, Taker>();
const loaded = new Map<string, Promise<unknown>>();

export function siteForm(): boolean {
  return globalThis.gloamSite !== undefined;
}

export async function siteAnswer(address: string): Promise<unknown> {
  const number = globalThis.gloamSite?.index.answers[address];
  if (number === undefined) throw new Error('This folder does not hold the answer; it shows one run only.');
  return load(`data/${String(number)}.js`, `a${String(number)}`);
}

/** Scaled pictures and crops are plain files; the empty text when there is none. */
export function siteFile(path: string): string {
  return globalThis.gloamSite?.index.files[path] ?? '';
}

/** Whole pictures come as data addresses, because pixels of plain files cannot be read from disk. */
export async function sitePicture(hash: string): Promise<string> {
  return String(await load(`pictures/${hash}.js`, `p${hash}`));
}

function load(file: string, name: string): Promise<unknown> {
  const known = loaded.get(file);
  if (known !== undefined) return known;
  const promise = new Promise<unknown>((resolve, reject) => {
    const site = globalThis.gloamSite;
    if (site !== undefined) site.put ??= (key, content) => waiting.get(key)?.(content);
    waiting.set(name, resolve);
    const script = document.createElement('script');
    script.src = `./${file}`;
    script.onerror = () => {
      reject(new Error(`${file} is missing beside this page.`));
    };
    document.head.append(script);
  });
  loaded.set(file, promise);
  return promise;
}
