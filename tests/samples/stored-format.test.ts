// Runs stored before the form of samples rose are still shown; what nobody can read is said.
import { brotliCompressSync, brotliDecompressSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { packSamples, unpackSamples } from '../../src/ledger/sample-table.ts';
import { SAMPLE_FORMAT } from '../../src/samples/sample.ts';
import { picture, textRun } from '../checks/made-samples.ts';

const SAMPLES = [
  textRun({ color: '#111111', background: '#ffffff' }),
  picture({ filters: [{ selector: 'html', filter: 'invert(1)', origin: 'author' }] }),
];

/** As an older version stored them: 4 had all members but where a filter is written. */
async function storedIn(format: number): Promise<Uint8Array> {
  const table = JSON.parse(brotliDecompressSync(await packSamples(SAMPLES, [])).toString('utf8')) as object;
  return brotliCompressSync(JSON.stringify({ ...table, format }));
}

test.each([4, SAMPLE_FORMAT])('format %i is read', async (format) => {
  expect(await unpackSamples('a1', await storedIn(format))).toEqual({ samples: SAMPLES, masks: [] });
});

test.each([3, SAMPLE_FORMAT + 1])('format %i is not, and that is said', async (format) => {
  await expect(unpackSamples('a1', await storedIn(format))).rejects.toMatchObject({ code: 'samples-unreadable' });
});
