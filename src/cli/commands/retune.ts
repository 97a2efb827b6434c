// gloam retune: the least change of the whole palette under which every measured pair of colours reaches its ratio.
import { Option } from 'commander';
import type { Command } from 'commander';
import { expectedName } from '../../config/nearest-name.ts';
import { wrongUse } from '../../errors/command-errors.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { chooseRun } from '../choose-run.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { loadLedger, loadRetune } from '../load.ts';
import { wholeFromOne } from '../option-values.ts';
import { showTried } from '../show-tried.ts';

interface RetuneOptions extends CommonOptions {
  readonly run?: string;
  readonly pin?: readonly string[];
  readonly theme?: readonly string[];
  readonly move: 'steps' | 'aliases' | 'both';
  readonly binding: number;
  readonly write?: boolean;
  readonly try?: boolean;
}

export function retuneCommand(run: Run): Command {
  const gather = (value: string, before: readonly string[] | undefined): readonly string[] => [...(before ?? []), value];
  return command<RetuneOptions>(
    'retune',
    'work out the least change of the whole palette under which every measured pair passes',
    run,
    async (session, options) => {
      const { io } = session;
      const configuration = await session.configuration();
      const asked = await askedOf(configuration, options);
      const { retuneRun, tryRetune, writeFiles, showPalette } = await loadRetune();
      const { openLedger } = await loadLedger();
      await using ledger = await openLedger(await session.store(), { access: 'read' });
      const from = { ...session, configuration, ledger, run: (await chooseRun({ ledger, io }, options.run)).id, now: new Date() };
      const retuned = await retuneRun(from, asked);
      if (options.try === true) io.note('Putting the palette on the live pages …');
      const tried = options.try === true ? await tryRetune(from, asked) : null;
      if (options.write === true) writeFiles(configuration, retuned.files);
      const files = retuned.files.map(({ file }) => file);
      if (io.json)
        io.result({
          format: 'gloam-palette/1',
          run: from.run,
          ...retuned.palette,
          tokenFaults: retuned.tokenFaults,
          files,
          left: retuned.left,
          written: options.write === true,
          ...(tried === null ? {} : { tried }),
        });
      else {
        showPalette(io, retuned);
        if (tried !== null) showTried(io, tried.outcome, tried.views);
        if (options.write === true) io.note(files.length === 0 ? 'Nothing to write.' : `Written: ${files.join(', ')}`);
      }
      return EXIT.done;
    },
  )
    .option('--run <id>', 'which run; the last whole one unless set')
    .option('--pin <token>', 'a token that stays as it is; repeatable', gather)
    .option('--theme <name>', 'move only what governs these themes alone; repeatable', gather)
    .addOption(new Option('--move <what>', 'what may move').choices(['steps', 'aliases', 'both']).default('both'))
    .option('--binding <n>', 'how many of the pairs that would fail next are listed', wholeFromOne, 8)
    .option('--write', 'write the new values and aliases into the token files; all else in them stays')
    .option('--try', 'put the palette on the live pages and count what it mends and breaks');
}

async function askedOf(
  configuration: Configuration,
  { pin, theme, move, binding }: RetuneOptions,
): Promise<{ pins: readonly string[]; themes?: readonly string[]; moves: RetuneOptions['move']; binding: number }> {
  const names = configuration.themes.map(({ name }) => name);
  for (const each of theme ?? []) {
    if (!names.includes(each)) throw wrongUse(`--theme ${each}: the configuration has no such theme.`, expectedName(each, names));
  }
  const { readTokens } = await loadRetune();
  const read = readTokens(configuration);
  const known = read === null ? null : [...read.graph.tokens.keys()];
  for (const each of pin ?? []) {
    if (known !== null && !known.includes(each))
      throw wrongUse(`--pin ${each}: the token files have no such token.`, expectedName(each, known));
  }
  return { pins: pin ?? [], ...(theme === undefined ? {} : { themes: theme }), moves: move, binding };
}
