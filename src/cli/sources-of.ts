// Where files that causes name lie among the sources: of token files beside the configuration, of pages in the served folder.
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import type { FormInput } from '../gate/forms/form.ts';
import type { Configuration } from '../plan/configuration.ts';
import { repositoryOf } from './ignore-store.ts';

export function sourcesOf({ folder, file, app }: Configuration): Required<Pick<FormInput, 'folder' | 'locate' | 'fallback'>> {
  const root = repositoryOf(folder) ?? folder;
  const roots = [folder, ...(app.kind === 'serve' ? [app.folder] : [])];
  return {
    folder: root,
    fallback: file,
    locate: (name) => {
      if (/^[a-z][a-z\d+.-]+:/i.test(name) && !path.isAbsolute(name)) return null;
      const plain = name.replace(/[?#].*$/, '');
      const candidates = [plain, ...roots.map((each) => path.join(each, plain))].filter((each) => path.isAbsolute(each));
      const found = candidates.find((each) => existsSync(each) && statSync(each).isFile());
      // What lies outside of the repository has no path there.
      return found === undefined || path.relative(root, found).startsWith('..') ? null : found;
    },
  };
}
