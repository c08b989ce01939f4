import { readJournal } from '../../documents/read.js';
import type { MixPlan } from '../../live/plan/plan.js';
import { planPush } from '../../live/plan/plan-push.js';
import { planRestore } from '../../live/plan/plan-restore.js';
import { survey } from '../../live/write/survey.js';
import { verifyMix } from '../../live/write/verify.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import type { OscTransport } from '../../model/target.js';
import { readInput } from '../../node/read-input.js';
import { startStandin } from '../../node/standin/start-standin.js';
import { withTemporaryFolder } from '../../node/temporary-folder.js';
import { outputsFor } from '../../standin/address-map.js';
import type { StandinState } from '../../standin/snapshot.js';
import { fail, ok } from '../../units/result.js';
import type { DeskOptions } from '../live/desk-options.js';
import { withInterrupts } from '../live/interruption.js';
import { type OpenDesk, openDesk, withOpenDesk } from '../live/open-desk.js';
import { type Written, writeToDesk } from '../live/write-to-desk.js';
import type { Terminal } from '../words/terminal.js';

/** What is rehearsed. */
interface Scene {
  readonly desk: Desk;
  readonly plans: readonly MixPlan[];
  snapshot(): StandinState;
}

/** How a rehearsal on a stand-in went: each step tells whether it did what it is for. */
export interface Rehearsed {
  readonly transport: OscTransport;
  readonly push: { readonly done: boolean; readonly mixes: number; readonly values: number };
  readonly verify: { readonly done: boolean; readonly mixes: number };
  /** Whether the desk stands to the last step as it stood before the push. */
  readonly restore: { readonly done: boolean; readonly mixes: number };
}

const bind = '127.0.0.1';

/** The stand-in begins from a state left to this chance, so that there is something to put back. */
const seed = 19;

/** A stand-in on this machine needs no pacing. */
const reach: DeskOptions = { rate: 2000, timeout: 250, tries: 8 };

const valuesIn = ({ reports }: Written): number =>
  reports.reduce((sum, { values }) => sum + values.filter(({ state }) => state === 'held').length, 0);

const found = async (place: string | null): Promise<Outcome<Journal>> => {
  if (place === null) return fail([problem('journal-unwritable', '', 'Nothing was kept.')]);
  const input = await readInput(place);
  return input.ok ? readJournal(input.value.bytes, { source: place }) : input;
};

const isDone = ({ result }: Written): boolean => result === 'done';

/** Pushes, verifies and restores over an open conversation with a stand-in. */
const actOut = async (
  { desk, plans, snapshot }: Scene,
  open: OpenDesk,
  write: (purpose: Journal['purpose'], what: readonly MixPlan[]) => Promise<Outcome<Written>>,
  signal: AbortSignal,
): Promise<Outcome<Rehearsed>> => {
  const before = JSON.stringify(snapshot());
  const pushed = await write('push', plans);
  if (!pushed.ok) return pushed;
  const surveyed = (await survey(plans, desk, open.line, signal)) ?? [];
  const verified = surveyed.filter((mix) => verifyMix(mix, desk).state === 'holds').length;
  const journal = await found(pushed.value.journal);
  const back = journal.ok ? planRestore(journal.value, desk) : journal;
  if (!back.ok) return back;
  const restored = await write('restore', back.value);
  if (!restored.ok) return restored;
  const isAsFound = JSON.stringify(snapshot()) === before;
  return ok({
    transport: open.place.kind,
    push: { done: isDone(pushed.value), mixes: pushed.value.reports.length, values: valuesIn(pushed.value) },
    verify: { done: verified === plans.length, mixes: verified },
    restore: { done: isDone(restored.value) && isAsFound, mixes: restored.value.reports.length },
  });
};

/** Rehearses a recipe on a stand-in, over a real socket and with a journal on disk. */
export const rehearse = (recipe: Recipe, desk: Desk, terminal: Terminal): Promise<Outcome<Rehearsed>> =>
  withTemporaryFolder((journalFolder) =>
    withInterrupts(terminal, async (interruption) => {
      const plans = planPush(recipe, desk);
      if (!plans.ok) return plans;
      const kind = desk.target.osc?.transports[0]?.kind ?? 'udp';
      const outputs = outputsFor(recipe.mixes);
      const standin = await startStandin({ desk, kind, port: 0, bind, seed, scatter: true, outputs });
      if (!standin.ok) return standin;
      const { port, snapshot, close } = standin.value;
      try {
        const place = { kind, host: bind, address: bind, port };
        const open = await openDesk(place, reach, interruption.signal);
        if (!open.ok) return open;
        const common = { title: recipe.rig.title, desk, journalFolder, acceptNames: true, interruption };
        return await withOpenDesk(open.value, (to) =>
          actOut(
            { desk, plans: plans.value, snapshot },
            to,
            (purpose, what) =>
              writeToDesk({ ...common, purpose, plans: what, open: to, agree: async () => true }, terminal),
            interruption.signal,
          ),
        );
      } finally {
        await close();
      }
    }),
  );
