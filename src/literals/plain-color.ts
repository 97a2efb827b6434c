// A colour as it is written, comments and constant arithmetic included → text that names the colour plainly.

/** Comments stand for white space (CSS Syntax 3, section 4.3.2); `calc()` of plain numbers is worked out (CSS Values 4, section 10). */
export function plainColor(text: string): string {
  const bare = text.replace(/\/\*[^]*?(\*\/|$)/g, ' ');
  return bare.replace(/calc(\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\))/gi, (whole, inside: string) => worked(inside) ?? whole);
}

/** Numbers of one unit, joined by + - * / and parentheses; null for anything else. */
function worked(text: string): string | null {
  const tokens = text.match(/[\d.]+(?:e[+-]?\d+)?(?:%|[a-z]+)?|[-+*/()]/gi);
  if (tokens === null || tokens.join('') !== text.replace(/\s+/g, '')) return null;
  const units = [...new Set(tokens.flatMap((token) => /(?<=[\d.])(%|[a-z]+)$/i.exec(token)?.[0] ?? []))];
  if (units.length > 1) return null;
  let at = 0;
  const next = (): string | undefined => tokens[at];
  const sum = (): number => {
    let value = product();
    while (next() === '+' || next() === '-') {
      const sign = tokens[at] === '+' ? 1 : -1;
      at += 1;
      value += sign * product();
    }
    return value;
  };
  const product = (): number => {
    let value = one();
    while (next() === '*' || next() === '/') {
      const divides = tokens[at] === '/';
      at += 1;
      const by = one();
      value = divides ? value / by : value * by;
    }
    return value;
  };
  const one = (): number => {
    const token = next();
    at += 1;
    if (token === '-') return -one();
    if (token === '+') return one();
    if (token !== '(') return Number.parseFloat(token ?? '');
    const value = sum();
    if (next() !== ')') return NaN;
    at += 1;
    return value;
  };
  const value = sum();
  return at === tokens.length && Number.isFinite(value) ? `${String(value)}${units[0] ?? ''}` : null;
}
