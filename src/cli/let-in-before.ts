// How an app is come by, as the configuration says that gloam init is about to replace: looked for with it, and taken over into the new one.
import path from 'node:path';
import type { Access } from '../../runner/app/access.ts';
import type { Secrets } from '../../runner/app/secrets.ts';
import type { LetIn } from '../config/propose-configuration.ts';
import { readConfiguration } from '../config/read-configuration.ts';
import { GloamError } from '../errors/gloam-error.ts';
import type { Configuration } from '../plan/configuration.ts';
import { readAccess } from './read-access.ts';
import type { Environment } from './read-access.ts';

export interface LetInBefore {
  readonly letIn: LetIn;
  readonly accessAt?: (origin: string) => Access | undefined;
  /** What could not be taken over, for people. */
  readonly notes: readonly string[];
}

/** @throws GloamError `config-invalid` where a variable is not set or the script is none */
export async function letInBefore(
  file: string,
  from: { readonly env: Environment; readonly secrets: Secrets },
): Promise<LetInBefore> {
  let configuration: Configuration;
  try {
    configuration = await readConfiguration({ folder: path.dirname(file), file });
  } catch (error) {
    // It is to be replaced: what is wrong with it need not stop that.
    if (!(error instanceof GloamError)) throw error;
    return { letIn: {}, notes: [`${path.basename(file)} could not be read, so nothing was taken over from it`] };
  }
  const accessAt = await readAccess(configuration, from);
  return { letIn: letInOf(configuration), accessAt, notes: [] };
}

function letInOf({ session, headers = {}, cookies = {}, folder }: Configuration): LetIn {
  return {
    ...(session === undefined
      ? {}
      : {
          session: {
            script: path.relative(folder, session.script).replaceAll(path.sep, '/'),
            ...(session.env.length === 0 ? {} : { env: session.env }),
            within: session.withinMs / 1000,
          },
        }),
    ...(Object.keys(headers).length === 0 ? {} : { headers }),
    ...(Object.keys(cookies).length === 0 ? {} : { cookies }),
  };
}
