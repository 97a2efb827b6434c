// A JSON file → its value; a fault says where it breaks.
import { readFile } from 'node:fs/promises';
import { configUnreadable } from '../errors/command-errors.ts';
import { parseJson } from '../tokens/json/parse-json.ts';
import { filePlace } from '../tokens/json/file-place.ts';

/** @throws GloamError `config-unreadable` */
export async function readJson(file: string): Promise<unknown> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    throw configUnreadable(file, error);
  }
  try {
    return JSON.parse(text.replace(/^\uFEFF/, '')) as unknown;
  } catch (error) {
    throw configUnreadable(file, new Error(placeOfJsonFault(file, text, error)));
  }
}

/** Node's own message gives no line on every version; the token reader's parser does. */
function placeOfJsonFault(file: string, text: string, error: unknown): string {
  const [fault] = parseJson(file, text).faults;
  if (fault === undefined) return error instanceof Error ? error.message : String(error);
  const { line, column } = filePlace(fault.at);
  return `line ${line}, column ${column}: found ${fault.found}; expected ${fault.expected}`;
}
