// Errors of the gate, of exemptions and of a newcomer's first look.
import { GloamError } from './gloam-error.ts';

export function exemptionThere(selector: string, why: string): GloamError {
  return new GloamError({
    code: 'exemption-there',
    message: `${selector}: is exempt already, with the same scope: ${why}`,
    hint: 'Change its end or its reason where it stands (gloam exempt lists them with their files), or widen the new one.',
    data: { selector },
  });
}

export function exemptionUnwritable(file: string, reason: string): GloamError {
  return new GloamError({
    code: 'exemption-unwritable',
    message: `${file}: the exemption cannot be written: ${reason}`,
    hint: 'Nothing was changed. Make the file writable and plain JSON, or add the exemption to the configuration by hand.',
    data: { file },
  });
}

export function configThere(file: string): GloamError {
  return new GloamError({
    code: 'config-there',
    message: `${file}: is there already; nothing was looked at.`,
    hint: '--force writes over it, --print shows what init would write, --config FILE writes elsewhere.',
    data: { file },
  });
}
