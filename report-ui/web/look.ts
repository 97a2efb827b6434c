// Which look the reader chose; without a choice the system's is followed.
export const LOOKS = ['system', 'light', 'dark', 'contrast'] as const;
export type Look = (typeof LOOKS)[number];

const KEY = 'gloam-look';

export function readLook(): Look {
  try {
    return LOOKS.find((look) => look === localStorage.getItem(KEY)) ?? 'system';
  } catch {
    return 'system'; // storage may be refused, from disk for instance
  }
}

export function putOnLook(look: Look): void {
  const root = document.documentElement;
  if (look === 'system') root.removeAttribute('data-look');
  else root.setAttribute('data-look', look);
}

export function keepLook(look: Look): void {
  putOnLook(look);
  try {
    localStorage.setItem(KEY, look);
  } catch {
    // it then lasts until the page is left
  }
}
