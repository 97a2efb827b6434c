// Where exemptions stand that tools write: a JSON list beside the configuration.

/** `gloam.config.ts` → `gloam.exempt.json` in the same folder. */
export function exemptionFileOf(configurationFile: string): string {
  return configurationFile.replace(/(\.config)?\.[^./\\]+$/, '.exempt.json');
}
