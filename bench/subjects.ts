// What nights are timed on: the demo app, one big page, pages on two CSS frameworks.
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { bigPage } from './big-page.ts';
import { FRAMEWORKS, fillWith } from './framework-app.ts';
import { HARBOUR } from './harbour-night.ts';
import { turnHarbour } from './turn-harbour.ts';

export interface Subject {
  readonly name: string;
  /** Fills an empty folder with the app, its configuration and token files. */
  readonly fill: (folder: string) => void;
  /** Changes one token there; each round another value. */
  readonly turn: (folder: string, round: number) => void;
  /** How a script puts a theme on before the page is loaded. */
  readonly wear: { readonly storage: string } | { readonly attribute: string };
}

/** Pages of frameworks are as long as those of an app: about a thousand elements. */
const TIMES = 10;

export function subjects(): readonly Subject[] {
  return [
    {
      name: 'demo app',
      fill: (folder) => {
        cpSync(HARBOUR, folder, { recursive: true, filter: (file) => !file.includes('.gloam') });
      },
      turn: turnHarbour,
      wear: { storage: 'harbour-theme' },
    },
    {
      name: 'big page',
      fill: (folder) => {
        writeBig(folder, 0);
      },
      turn: writeBig,
      wear: { storage: 'harbour-theme' },
    },
    ...FRAMEWORKS.map((framework): Subject => {
      const { name, attribute, property } = framework;
      return {
        name,
        fill: (folder) => {
          fillWith(framework, folder, TIMES);
        },
        turn: (folder, round) => {
          const file = path.join(folder, 'site', 'app.css');
          const [plain = ''] = readFileSync(file, 'utf8').split('/* turned */');
          writeFileSync(file, `${plain}/* turned */\n[${attribute}=dark] { ${property}: rgb(${String(150 + round)} 160 170) }\n`);
        },
        wear: { attribute },
      };
    }),
  ];
}

function writeBig(folder: string, round: number): void {
  for (const [name, text] of Object.entries(bigPage(round))) writeFileSync(path.join(folder, name), text);
}
