// Two machines → what tells them apart, in words. Pure.
import type { MachineFacts } from './machine-facts.ts';

/** @param mine of this machine @param planned of the one that planned the run @returns none where their pictures are the same */
export function unlikeMachines(mine: MachineFacts, planned: MachineFacts): readonly string[] {
  const said = (what: string, found: string, expected: string): readonly string[] =>
    found === expected ? [] : [`${what}: found ${found}; expected ${expected}`];
  const families = Object.keys({ ...mine.fonts.families, ...planned.fonts.families }).flatMap((family) =>
    said(`font ${family}`, quoted(mine.fonts.families[family]), quoted(planned.fonts.families[family])),
  );
  const files = Object.keys({ ...mine.files, ...planned.files }).flatMap((file) =>
    said(file, hashed(mine.files[file]), hashed(planned.files[file])),
  );
  return [
    ...said('gloam', mine.gloam, planned.gloam),
    ...said('browser', mine.browser, planned.browser),
    ...families,
    ...(families.length > 0
      ? []
      : said(
          'picture of text in the same fonts',
          hashed(mine.fonts.picture.slice(0, 16)),
          hashed(planned.fonts.picture.slice(0, 16)),
        )),
    ...said('configuration', hashed(mine.configuration), hashed(planned.configuration)),
    ...files,
    ...said('files of the app', hashed(mine.app ?? undefined), hashed(planned.app ?? undefined)),
  ];
}

function quoted(families: string | undefined): string {
  return families === undefined ? 'none' : `"${families}"`;
}

function hashed(hash: string | undefined): string {
  return hash === undefined ? 'none' : `one with the hash ${hash}`;
}
