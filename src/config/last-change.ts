// When a configuration was last written, for telling whether a stored run knew it as it is now.
import { stat } from 'node:fs/promises';
import { exemptionFileOf } from './exemption-file.ts';

/** The later of the configuration and the file of exemptions beside it. */
export async function lastChange(configurationFile: string): Promise<Date> {
  const times = await Promise.all(
    [configurationFile, exemptionFileOf(configurationFile)].map((file) =>
      stat(file).then(
        (facts) => facts.mtimeMs,
        () => 0,
      ),
    ),
  );
  return new Date(Math.max(...times));
}
