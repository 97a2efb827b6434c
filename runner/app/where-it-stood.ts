// What a page shows on which a sign-in script came no further: its address and title, what it says in an alert, whether it asks for a password.
import type { Page } from 'playwright';
import type { Stood } from '../../src/errors/sign-in-errors.ts';

/** A page that is held up is not waited for (ours). */
const WITHIN_MS = 2_000;
/** Code units of what it says; for messages. */
const MOST = 160;
const ALERTS = '[role=alert]:visible,[role=status]:visible,[aria-live=assertive]:visible,[aria-live=polite]:visible';

/** @returns null for a page that does not tell, or that was never opened */
export async function whereItStood(page: Page): Promise<Stood | null> {
  if (page.url() === 'about:blank') return null;
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(resolve, WITHIN_MS, null);
  });
  try {
    return await Promise.race([look(page), late]);
  } catch {
    return null;
  } finally {
    clearTimeout(timer);
  }
}

async function look(page: Page): Promise<Stood> {
  const [title, said, passwords] = await Promise.all([
    page.title(),
    page.locator(ALERTS).allInnerTexts(),
    page.locator('input[type=password]:visible').count(),
  ]);
  const says = said.map((text) => text.replace(/\s+/gu, ' ').trim()).find((text) => text !== '') ?? '';
  // What stands behind a question mark is mostly told to the sign-in, and long.
  return {
    address: page.url().replace(/\?[^#]*/u, ''),
    title: short(title.trim()),
    says: short(says),
    asksPassword: passwords > 0,
  };
}

function short(text: string): string {
  return text.length > MOST ? `${text.slice(0, MOST)}…` : text;
}
