// Keys of one character: they do nothing while something is being typed, and can be switched off (WCAG 2.2, 2.1.4).
const KEY = 'gloam-keys';

export function keysOn(): boolean {
  try {
    return localStorage.getItem(KEY) !== 'off';
  } catch {
    return true; // storage may be refused, from disk for instance
  }
}

export function keepKeys(on: boolean): void {
  try {
    if (on) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, 'off');
  } catch {
    // then they stay as they are
  }
}

export function typing(event: KeyboardEvent): boolean {
  return event.target instanceof Element && event.target.closest('input, select, textarea, dialog') !== null;
}
