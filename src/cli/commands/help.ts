// gloam help: commands and topics, or one of them. Topics are the pages in docs/; their sections and table rows go by their own names.
import { Command } from 'commander';
import { expectedName } from '../../config/nearest-name.ts';
import { wrongUse } from '../../errors/command-errors.ts';
import type { Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { ioIn } from '../io.ts';
import type { Io } from '../io.ts';
import { loadTopics } from '../load.ts';

export function helpCommand(program: Command, run: Run): Command {
  return new Command('help')
    .description('commands and topics, or one of them')
    .argument(
      '[topic]',
      'a topic, a command, or what a topic has a heading or a row for (neon, pairs, config-invalid); topics and commands are listed without one',
    )
    .allowExcessArguments(false)
    .action(async (asked: string | undefined) => {
      await run(async (around) => {
        const { readTopics, forTerminal, partsNamed, partNames } = await loadTopics();
        const io = ioIn(around, { json: false });
        const topics = readTopics();
        if (asked === undefined) {
          list(io, program, topics);
          return EXIT.done;
        }
        const topic = topics.find(({ name }) => name === asked);
        const command = program.commands.find((one) => one.name() === asked);
        if (topic === undefined) {
          const parts = partsNamed(topics, asked);
          if (command === undefined && parts.length === 0)
            throw unknownTopic(asked, [...topics.map(({ name }) => name), ...names(program), ...partNames(topics)]);
          for (const { topic: from, title, text } of parts) {
            io.say(io.style('bold', title));
            io.say();
            io.say(forTerminal(text, io.columns));
            io.say();
            io.say(io.style('dim', `From: gloam help ${from}`));
          }
          if (command !== undefined) io.say(command.helpInformation().trimEnd());
          return EXIT.done;
        }
        io.say(io.style('bold', topic.title));
        io.say();
        io.say(forTerminal(topic.whole, io.columns));
        if (command !== undefined) io.say();
        if (command !== undefined) io.say(io.style('dim', `Options: gloam ${asked} --help`));
        return EXIT.done;
      });
    });
}

function list(io: Io, program: Command, topics: readonly { readonly name: string; readonly title: string }[]): void {
  const width = Math.max(...[...names(program), ...topics.map(({ name }) => name)].map((name) => name.length));
  io.say(program.description());
  io.say();
  io.say(`${io.style('bold', 'commands')} (gloam COMMAND --help)`);
  for (const command of program.commands) io.say(`  ${command.name().padEnd(width)}  ${command.description()}`);
  io.say();
  io.say(`${io.style('bold', 'topics')} (gloam help TOPIC)`);
  for (const { name, title } of topics) io.say(`  ${name.padEnd(width)}  ${title}`);
}

function names(program: Command): readonly string[] {
  return program.commands.map((command) => command.name());
}

function unknownTopic(asked: string, known: readonly string[]): ReturnType<typeof wrongUse> {
  return wrongUse(
    `help: found "${asked}", which is neither a topic nor a command; expected ${expectedName(asked, known)}`,
    'gloam help lists them all.',
  );
}
