// An exemption that was asked for in the report is written into the configuration, with the way to put the file back as it was.
import { existsSync } from 'node:fs';
import { readFile, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { ReportSources } from '../../report-ui/server/sources.ts';
import { exemptionOf } from '../checks/exemption-cover.ts';
import { exemptionFileOf } from '../config/exemption-file.ts';
import { writeExemption } from '../config/write-exemption.ts';
import { exemptionFor } from '../gate/exemption-for.ts';
import { readConfiguration } from '../config/read-configuration.ts';
import type { Configuration } from '../plan/configuration.ts';

type Exempting = NonNullable<ReportSources['exempt']>;

/** @returns null where the file may not be written */
export function exempting({ file, folder }: Pick<Configuration, 'file' | 'folder'>): Exempting {
  return async (finding, wish) => {
    const files = [file, exemptionFileOf(file)];
    const before = new Map(await Promise.all(files.map(async (name) => [name, await textOf(name)] as const)));
    // Read anew: it may have changed since the report was started.
    const configuration = await readConfiguration({ folder, file });
    const today = new Date().toISOString().slice(0, 10);
    let written: string;
    try {
      written = await writeExemption(configuration, exemptionFor(finding, wish), ({ exempt }) => {
        const { measured, ...place } = finding;
        return exemptionOf({ ...place, code: String(measured['code'] ?? '') }, exempt, today) !== undefined;
      });
    } catch (error) {
      if (error instanceof Error && 'code' in error && error.code === 'exemption-unwritable') return null;
      throw error;
    }
    const after = await textOf(written);
    return {
      file: path.relative(folder, written),
      undo: async () => {
        // Whoever changed it since keeps what they wrote.
        if ((await textOf(written)) !== after) return false;
        const was = before.get(written) ?? null;
        await (was === null ? rm(written) : writeFile(written, was));
        return true;
      },
    };
  };
}

async function textOf(file: string): Promise<string | null> {
  return existsSync(file) ? readFile(file, 'utf8') : null;
}
