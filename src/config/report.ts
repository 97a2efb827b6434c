// How the parts of the configuration's reader tell a fault: where in the file, what was found, what was expected.
export type Report = (at: readonly PropertyKey[], found: string, expected: string) => void;
