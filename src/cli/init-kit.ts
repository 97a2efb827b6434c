// The parts that gloam init composes, loaded together when it runs.
export { exploreApp } from '../../runner/explore/first-look.ts';
export { proposeJson, proposeTypeScript, signInNote } from '../config/propose-configuration.ts';
export { letInBefore } from './let-in-before.ts';
export { findTokens } from '../config/propose-configuration-tokens.ts';
export { validateConfiguration } from '../config/read-configuration.ts';
