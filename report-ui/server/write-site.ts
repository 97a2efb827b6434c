// The static form of one run: a folder that opens from disk or any host. It is what the read-only server answers, asked without a
// socket and filed beside the page: answers and whole pictures as scripts (site-files.ts says why), scaled pictures and crops as files.
import { mkdir, readdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { questionAddress } from '../api/address.ts';
import { ENDPOINTS } from '../api/endpoints.ts';
import type { Answer, AskedQuery, EndpointName, Params } from '../api/endpoints.ts';
import { cropPath } from '../api/crop.ts';
import type { CropPlace } from '../api/crop.ts';
import type { Ramp } from '../api/ramps.ts';
import { folderTaken, siteUnanswered } from '../../src/errors/server-errors.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { StorePlace } from '../../src/ledger/store-at.ts';
import { buildServer } from './build-server.ts';
import { readPageFiles, webFolder } from './page-files.ts';
import { packageVersion } from './serve-reports.ts';
import type { ReportSources } from './sources.ts';

export interface SiteOptions {
  /** Store folder. */
  readonly store: StorePlace;
  /** Id of a run; the newest when absent. */
  readonly run?: string;
  /** Where the site is written; made when missing, files of the same names are replaced. */
  readonly folder: string;
  readonly sources?: ReportSources;
}

export interface Site {
  /** The page to open. */
  readonly index: string;
  readonly files: number;
  readonly bytes: number;
}

/** Widths the page asks for: panes and strips, and pictures at half size. */
const WIDTHS = [240, 480, 960];
/** Parts of a cause's places that are kept; a cause with thousands of places is told by the first hundred. */
const PLACE_PARTS = 2;

/** Nothing from elsewhere. `file:` stands beside 'self' because a page from disk has no origin that 'self' could mean. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self' file:",
  "style-src 'self' file:",
  "img-src 'self' file: data:",
  "font-src 'self' file:",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** An earlier report is written over; anything else is not. @throws folder-taken, page-not-built, run-unknown, and what `openLedger` throws */
export async function writeSite(options: SiteOptions): Promise<Site> {
  await refuseOthers(options.folder);
  const web = webFolder();
  const page = await readPageFiles(web);
  const ledger = await openLedger(options.store, { access: 'read' });
  try {
    const app = await buildServer({
      ledger,
      form: 'site',
      host: 'localhost',
      readOnly: true,
      gloam: packageVersion(web),
      page,
      sources: options.sources ?? {},
    });
    try {
      const run = (await ledger.run(options.run ?? (await ledger.runs({ limit: 1 }))[0]?.id ?? '')).id;
      const writer = new SiteWriter(options.folder, app);
      await writeAnswers(writer, run);
      await writePage(writer, page);
      return { index: join(options.folder, 'index.html'), files: writer.files, bytes: writer.bytes };
    } finally {
      await app.close();
    }
  } finally {
    await ledger.close();
  }
}

/** Files what the server answers, each thing once. */
class SiteWriter {
  readonly answers: Record<string, number> = {};
  readonly pictures: Record<string, string> = {};
  files = 0;
  bytes = 0;
  readonly #folder: string;
  readonly #app: FastifyInstance;
  readonly #whole = new Set<string>();

  constructor(folder: string, app: FastifyInstance) {
    this.#folder = folder;
    this.#app = app;
  }

  /** @param edit changes the answer before it is filed */
  async answer<N extends EndpointName>(
    name: N,
    params: Params<N>,
    query: AskedQuery<N>,
    edit: (answer: Answer<N>) => Answer<N> = (answer) => answer,
  ): Promise<Answer<N>> {
    const address = questionAddress(ENDPOINTS[name].path, params, query);
    const response = await this.#app.inject({ url: address, headers: { host: 'localhost' } });
    if (response.statusCode !== 200) throw siteUnanswered(address, response.body);
    // Our own server's answer to this very question.
    const answer = edit(response.json());
    const number = Object.keys(this.answers).length;
    this.answers[address] = number;
    // Parsed from a text, so that no member name can mean anything to the script.
    await this.write(`data/${String(number)}.js`, put(`a${String(number)}`, JSON.stringify(answer)));
    return answer;
  }

  /** All parts of a list. */
  async list<N extends EndpointName>(
    name: N,
    params: Params<N>,
    query: AskedQuery<N>,
    each: (answer: Answer<N>) => Promise<string | null>,
    most = Infinity,
  ): Promise<void> {
    let after: string | undefined;
    for (let part = 1; part <= most; part += 1) {
      const asked = after === undefined ? query : { ...query, after };
      const answer = await this.answer(name, params, asked, (got) => (part === most ? { ...got, next: null } : got));
      after = (await each(answer)) ?? undefined;
      if (after === undefined) return;
    }
  }

  async picture(path: string, file: string): Promise<void> {
    if (path in this.pictures) return;
    const response = await this.#app.inject({ url: path, headers: { host: 'localhost' } });
    if (response.statusCode !== 200) return; // without a scaler there are no crops; the page then cuts whole pictures itself
    this.pictures[path] = file;
    await this.write(file, response.rawPayload);
  }

  async whole(hash: string): Promise<void> {
    if (this.#whole.has(hash)) return;
    this.#whole.add(hash);
    const response = await this.#app.inject({ url: `/blobs/${hash}`, headers: { host: 'localhost' } });
    if (response.statusCode !== 200) return; // a blob that is gone shows as a missing picture, as it does on the server
    const address = `data:image/png;base64,${response.rawPayload.toString('base64')}`;
    await this.write(`pictures/${hash}.js`, put(`p${hash}`, JSON.stringify(address)));
  }

  async write(file: string, content: string | Buffer): Promise<void> {
    const path = join(this.#folder, file);
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, content);
    this.files += 1;
    this.bytes += Buffer.byteLength(content);
  }
}

function put(name: string, json: string): string {
  return `gloamSite.put(${JSON.stringify(name)}, JSON.parse(${JSON.stringify(json)}));\n`;
}

async function writeAnswers(writer: SiteWriter, run: string): Promise<void> {
  const ofRun = { run };
  const { sharp } = await writer.answer('session', {}, {}, (session) => ({ ...session, newest: run }));
  const { startedAt } = await writer.answer('run', ofRun, {});
  await writer.answer('tonight', ofRun, {});
  const { ramps } = await writer.answer('ramps', ofRun, {});
  await writer.answer('owners', ofRun, {});
  await writer.answer('launch', ofRun, {});
  await writer.answer('acceptances', {}, {});
  await writer.answer('history', {}, {}, ({ nights }) => ({ nights: nights.filter(({ at }) => at <= startedAt) }));
  const named = await writeCauses(writer, run);
  await writeTokens(writer, run, new Set([...named, ...ramps.flatMap(stepsOf)]));
  await writeChanges(writer, run, sharp);
  const pages: string[] = [];
  await writer.list('grid', ofRun, {}, ({ rows, next }) => {
    pages.push(...rows.map(({ page }) => page));
    return Promise.resolve(next);
  });
  for (const page of pages) await writePages(writer, run, page, sharp);
}

function stepsOf({ themes }: Ramp): readonly string[] {
  return themes.flatMap(({ steps }) => steps.map(({ token }) => token));
}

/** Pages of the tokens that the other screens lead to. */
async function writeTokens(writer: SiteWriter, run: string, tokens: ReadonlySet<string>): Promise<void> {
  for (const token of tokens) {
    const { places } = await writer.answer('token', { run }, { token });
    for (const place of places) if (place.shot !== null) await writeCrop(writer, { ...place, finding: { rect: place.rect } });
  }
}

async function writeCrop(writer: SiteWriter, place: CropPlace): Promise<void> {
  const path = cropPath(place);
  await writer.picture(path, `crops/${path.replace(/^\/crops\//, '').replace('/', '-')}.webp`);
}

/** @returns tokens that their chains name */
async function writeCauses(writer: SiteWriter, run: string): Promise<readonly string[]> {
  const ids: string[] = [];
  const tokens: string[] = [];
  await writer.list('causes', { run }, {}, ({ causes, next }) => {
    ids.push(...causes.map(({ id }) => id));
    tokens.push(...causes.flatMap(({ chain }) => chain.flatMap(({ token }) => token ?? [])));
    return Promise.resolve(next);
  });
  for (const id of ids) {
    await writer.answer('cause', { run }, { id });
    await writer.list(
      'places',
      { run },
      { cause: id },
      async ({ places, next }) => {
        for (const place of places) {
          if (place.shot !== null) await writeCrop(writer, place);
        }
        return next;
      },
      PLACE_PARTS,
    );
  }
  return tokens;
}

async function writeChanges(writer: SiteWriter, run: string, scaled: boolean): Promise<void> {
  const { groups } = await writer.answer('changeGroups', { run }, {});
  for (const group of groups) {
    await writer.list('changes', { run }, { group: group.id }, async ({ changes, next }) => {
      for (const { now, accepted } of changes) {
        for (const hash of [now, accepted]) if (hash !== null) await writePicture(writer, hash, scaled);
      }
      return next;
    });
  }
}

async function writePages(writer: SiteWriter, run: string, page: string, scaled: boolean): Promise<void> {
  const { views } = await writer.answer('page', { run }, { page });
  const places = new Map(views.map(({ state, viewport }) => [`${state}\n${viewport}`, { page, state, viewport }]));
  for (const query of places.values()) {
    await writer.list('findings', { run }, query, ({ next }) => Promise.resolve(next));
    await writer.list('evidence', { run }, query, ({ next }) => Promise.resolve(next));
  }
  for (const { shot } of views) if (shot !== null) await writePicture(writer, shot, scaled);
}

async function writePicture(writer: SiteWriter, hash: string, scaled: boolean): Promise<void> {
  await writer.whole(hash);
  if (!scaled) return;
  for (const width of WIDTHS) await writer.picture(`/thumbs/${hash}/${String(width)}`, `thumbs/${hash}-${String(width)}.webp`);
}

async function writePage(writer: SiteWriter, page: ReadonlyMap<string, Buffer>): Promise<void> {
  const index = { answers: writer.answers, files: writer.pictures };
  await writer.write('site.js', `globalThis.gloamSite = { index: JSON.parse(${JSON.stringify(JSON.stringify(index))}) };\n`);
  for (const [address, content] of page) {
    if (address !== '/') await writer.write(address.slice(1), content);
    else await writer.write('index.html', siteHtml(content.toString('utf8')));
  }
}

/** The built page, with the index of what lies beside it loaded first. */
function siteHtml(html: string): string {
  return html
    .replace(
      '<meta charset="utf-8" />',
      `<meta charset="utf-8" />\n    <meta http-equiv="Content-Security-Policy" content="${POLICY}" />`,
    )
    .replace('<script defer', '<script defer src="./site.js"></script>\n    <script defer');
}

/** What tells a report from other folders that have an index.html. */
const SIGN = 'site.js';

async function refuseOthers(folder: string): Promise<void> {
  const names: readonly string[] = await readdir(folder).catch(() => []);
  const [found] = names;
  if (found !== undefined && !names.includes(SIGN)) throw folderTaken(folder, found);
}
