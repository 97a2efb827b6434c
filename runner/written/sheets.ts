// Place in the text of a style sheet → file, line and column, through a source map where there is one.
import type { SheetHeader } from '../driver/page-driver.ts';
import type { Tab } from '../tab/tab.ts';
import type { SourceMap } from './source-map.ts';
import { readSourceMap } from './source-map.ts';

export interface SheetPlace {
  readonly file: string;
  /** 1-based. */
  readonly line: number;
  readonly column: number;
}

export interface Sheets {
  place(styleSheetId: string, range: { readonly startLine: number; readonly startColumn: number }): Promise<SheetPlace | null>;
}

/** @param headers by id of the style sheet */
export function openSheets(tab: Tab, headers: ReadonlyMap<string, SheetHeader>): Sheets {
  const maps = new Map<string, Promise<SourceMap | null>>();
  const mapOf = (header: SheetHeader): Promise<SourceMap | null> => {
    const { sourceMapURL = '' } = header;
    if (sourceMapURL === '') return Promise.resolve(null);
    const url = new URL(sourceMapURL, header.sourceURL === '' ? tab.url : header.sourceURL).href;
    let map = maps.get(url);
    if (map === undefined) maps.set(url, (map = fetchMap(tab, url)));
    return map;
  };
  return {
    place: async (styleSheetId, { startLine, startColumn }) => {
      const header = headers.get(styleSheetId);
      if (header === undefined) return null;
      const mapped = (await mapOf(header))?.find(startLine, startColumn);
      if (mapped !== undefined && mapped !== null) return { file: mapped.file, line: mapped.line + 1, column: mapped.column + 1 };
      // What scripts made stands in no file.
      if (header.sourceURL === '') return null;
      return {
        file: header.sourceURL,
        line: startLine + header.startLine + 1,
        column: startColumn + (startLine === 0 ? header.startColumn : 0) + 1,
      };
    },
  };
}

/** Through the page's own context, so that its cookies and proxies hold. */
async function fetchMap(tab: Tab, url: string): Promise<SourceMap | null> {
  try {
    if (url.startsWith('data:')) return readSourceMap(await (await fetch(url)).text());
    const answer = await tab.guard('reading a source map', tab.context.request.get(url));
    return answer.ok() ? readSourceMap(await answer.text()) : null;
  } catch (error) {
    if (tab.dead || tab.signal.aborted) throw error;
    return null;
  }
}
