// The protocol of a browser is spoken in two rooms: runner/driver for pages, runner/browser for the process. Everybody else asks the driver.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';

const ROOT = path.join(import.meta.dirname, '..');

/** A session of the protocol, or a command of one of its domains. */
const SPOKEN = /\bCDPSession\b|newCDPSession|newBrowserCDPSession|\.send\(\s*'[A-Z][A-Za-z]+\.[a-z]/u;

const speakers = (files: readonly string[]): readonly string[] =>
  files.filter((file) => SPOKEN.test(readFileSync(path.join(ROOT, file), 'utf8')));

test('nobody else speaks it', () => {
  const files = ['runner', 'src'].flatMap((folder) =>
    readdirSync(path.join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts'))
      .map((file) => path.join(folder, file)),
  );
  const rooms = new Set(speakers(files).map((file) => path.dirname(file)));
  expect([...rooms].sort()).toEqual(['runner/browser', 'runner/driver/chromium']);
});

test.each(["cdp.send('Page.enable')", "cdp.send(\n  'CSS.enable'", 'context.newCDPSession(page)'])(
  'what the fence sees: %j',
  (text) => {
    expect(text).toMatch(SPOKEN);
  },
);
