// Offset in a text → line and column, both from 1, as editors count them (UTF-16 units).
export function lineIndex(text: string): (offset: number) => { readonly line: number; readonly column: number } {
  const starts = [0];
  for (const { index, 0: ending } of text.matchAll(/\r\n|\r|\n/g)) starts.push(index + ending.length);
  return (offset) => {
    let [low, high] = [0, starts.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: offset - (starts[low] ?? 0) + 1 };
  };
}
