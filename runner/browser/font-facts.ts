// What the fonts of this machine make of text: which family stands for each generic one, and what a page of many scripts looks like.
import { createHash } from 'node:crypto';
import type { Browser } from 'playwright';
import { openChromiumPage } from '../driver/chromium/chromium-page.ts';

export interface FontFacts {
  /** Generic family → the families that its text is drawn with. */
  readonly families: Readonly<Record<string, string>>;
  /** Hash of the picture of all of them: the same families in another version, or drawn otherwise, give another. */
  readonly picture: string;
}

/** CSS Fonts 4, section 2.1.1. */
const GENERIC = ['serif', 'sans-serif', 'monospace', 'cursive', 'fantasy', 'system-ui'] as const;

/** Latin with marks, Greek, Cyrillic, Hebrew, Arabic, Han, kana, Hangul, Thai, signs: each may come from another font. Common practice. */
const TEXT = 'Tide gauge 0123 fl ÄÖÜßéñ ΩΔλ Жщя שלום مرحبا 潮位 ひらカナ 조위 น้ำ → ✓ € ≈ ☀';

export async function readFontFacts(browser: Browser): Promise<FontFacts> {
  const context = await browser.newContext({ viewport: { width: 900, height: 500 }, deviceScaleFactor: 1 });
  try {
    const page = await context.newPage();
    const lines = GENERIC.map((family) => `<p id="${family}" style="font: 16px ${family}; margin: 4px">${TEXT}</p>`);
    await page.setContent(`<!doctype html><html lang="en"><meta charset="utf-8"><body>${lines.join('')}</body></html>`);
    const picture = createHash('sha256')
      .update(await page.screenshot())
      .digest('hex');
    const styles = await (await openChromiumPage(context, page)).openStyles();
    const root = await styles.root();
    const families: Record<string, string> = {};
    for (const family of GENERIC) {
      const line = await styles.find(root, `#${family}`);
      families[family] = line === null ? '' : [...(await styles.fonts(line))].sort().join(', ');
    }
    return { families, picture };
  } finally {
    await context.close();
  }
}
