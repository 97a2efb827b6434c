// `90s`, `30m`, `1h30m` → ms, for people who write times.

/** @returns NaN for what is no such time, or none at all (`0m`) */
export function millisecondsOf(text: string): number {
  const [whole = '', hours = '0', minutes = '0', seconds = '0'] = /^(?:(\d+)h)?(?:(\d+)m)?(?:(\d+)s)?$/u.exec(text) ?? [];
  const ms = ((Number(hours) * 60 + Number(minutes)) * 60 + Number(seconds)) * 1000;
  return whole === '' || ms === 0 ? NaN : ms;
}
