// A run from the queue → what this machine needs to work on it: its own app, the same views, and proof that its pictures will be the same.
import { openApp } from '../../../runner/app/open-app.ts';
import type { OpenApp } from '../../../runner/app/open-app.ts';
import type { Access } from '../../../runner/app/access.ts';
import type { Secrets } from '../../../runner/app/secrets.ts';
import type { FoundBrowser } from '../../../runner/browser/find-browser.ts';
import { browserAhead } from '../../../runner/browser/launch-browser.ts';
import { readTokens } from '../../config/read-tokens.ts';
import { workRefused } from '../../errors/queue-errors.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { makePlan } from '../../plan/make-plan.ts';
import type { AnnouncedRun } from '../../queue/work-queue.ts';
import { readAccess } from '../read-access.ts';
import type { Environment } from '../read-access.ts';
import { dyedNames } from '../run/execute-run.ts';
import { readMachineFacts } from './machine-facts.ts';
import type { MachineFacts } from './machine-facts.ts';
import { unlikeMachines } from './unlike-machines.ts';
import type { PreparedRun } from './work-group.ts';
import { asPlan } from './work-plan.ts';

/** This machine, from the first run it meets until nothing is left to do. */
export interface Bench extends AsyncDisposable {
  /** @throws work-refused, what opening the app throws */
  prepare(announced: AnnouncedRun, ledger: Ledger): Promise<PreparedRun>;
  /** How the app is come by; each that works side by side signs in by itself. */
  access(): Access | undefined;
}

export async function openBench(from: {
  readonly configuration: Configuration;
  readonly found: FoundBrowser;
  readonly env: Environment;
  readonly secrets: Secrets;
  readonly signal: AbortSignal;
}): Promise<Bench> {
  const { configuration, found, signal } = from;
  const tokens = readTokens(configuration);
  const accessAt = await readAccess(configuration, from);
  let facts: Promise<MachineFacts> | null = null;
  let app: Promise<OpenApp> | null = null;
  let origin = '';
  const runs = new Map<string, Promise<PreparedRun>>();

  const readFacts = async (): Promise<MachineFacts> => {
    await using browser = browserAhead(found);
    return await readMachineFacts(configuration, {
      browser: await browser.ready(),
      browserVersion: found.version,
      tokenFiles: tokens?.files ?? [],
    });
  };
  const prepare = async ({ run, plan: given }: AnnouncedRun, ledger: Ledger): Promise<PreparedRun> => {
    const plan = asPlan(given);
    if (plan === null) throw workRefused(run, ['plan: found one of another format; expected one of this gloam']);
    facts ??= readFacts();
    const differences = unlikeMachines(await facts, plan.machine);
    if (differences.length > 0) throw workRefused(run, differences);
    app ??= openApp(configuration.app, signal);
    ({ origin } = await app);
    const { themes, viewports } = configuration;
    const views = makePlan({ origin, pages: plan.pages, themes, viewports });
    const accepted = ledger.accepted(plan.sets);
    accepted.catch(() => undefined);
    return {
      plan,
      configuration,
      views: new Map(views.map((view) => [view.id, view])),
      dye: dyedNames(configuration, tokens),
      accepted,
      previous: (await ledger.run(run)).previous,
    };
  };
  return {
    prepare: (announced, ledger) => {
      const known = runs.get(announced.run);
      if (known !== undefined) return known;
      const made = prepare(announced, ledger);
      runs.set(announced.run, made);
      made.catch(() => {
        runs.delete(announced.run);
        // What went wrong may be mended the next time.
        facts = null;
        app?.catch(() => {
          app = null;
        });
      });
      return made;
    },
    access: () => accessAt(origin),
    async [Symbol.asyncDispose]() {
      await (await app?.catch(() => null))?.close();
    },
  };
}
