// A page of ten thousand elements in three themes: the readings of a year, as a table of many small cards.

/** @param turn number that one of its colours depends on @returns files by name */
export function bigPage(turn: number): Readonly<Record<string, string>> {
  const ink = `#${(0x10 + turn).toString(16)}2030`;
  const css = `:root{--silt-0:#ffffff;--silt-100:#f1f4f5;--silt-300:#c4cdd2;--silt-600:#55666f;--silt-900:${ink};--face:var(--silt-0);--face-2:var(--silt-100);--mark:var(--silt-900);--quiet:var(--silt-600);--line:var(--silt-300)}
.dusk{--face:#101a20;--face-2:#1a262d;--mark:#e4eaec;--quiet:#9fb0b8;--line:#33434b}
.stark{--face:#000000;--face-2:#000000;--mark:#ffffff;--quiet:#ffffff;--line:#ffffff}
body{margin:16px;font:13px/1.4 sans-serif;background:var(--face);color:var(--mark)}
main{display:grid;grid-template-columns:repeat(16,1fr);gap:4px}
article{background:var(--face-2);border:1px solid var(--line);border-radius:3px;padding:2px 4px}
h2{font-size:12px;margin:0} p{margin:0} small{color:var(--quiet)}`;
  const cards = Array.from(
    { length: 2000 },
    (_, i) =>
      `<article><h2>Day ${i + 1}</h2><p>${((i * 37) % 480) / 100} m</p><p>${i % 24}:${String((i * 7) % 60).padStart(2, '0')}</p><small>${i % 2 === 0 ? 'rising' : 'falling'}</small></article>`,
  );
  const script = `const t=localStorage.getItem('harbour-theme');if(t&&t!=='noon')document.documentElement.className=t`;
  const themes = Object.fromEntries(
    ['noon', 'dusk', 'stark'].map((name) => [
      name,
      { tone: name === 'noon' ? 'light' : 'dark', ...(name === 'noon' ? {} : { apply: { class: { add: [name] } } }) },
    ]),
  );
  return {
    'index.html': `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Readings</title><link rel="stylesheet" href="readings.css"><script>${script}</script></head><body><h1>Readings of a year</h1><main>${cards.join('')}</main></body></html>`,
    'readings.css': css,
    'gloam.config.json': JSON.stringify({ app: { serve: '.' }, pages: ['/index.html'], themes, reference: 'noon' }),
  };
}
