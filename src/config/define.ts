// What a TypeScript configuration imports from the package, so that an editor knows its members.
import type { ConfigurationFile } from './schema.ts';

export type { ConfigurationFile };

/** Returns its argument; gives a configuration in TypeScript or JavaScript its type. */
export function configuration(file: ConfigurationFile): ConfigurationFile {
  return file;
}
