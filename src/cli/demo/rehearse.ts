import type { Desk } from '../../model/desk.js';
import type { Outcome } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import type { OscTransport } from '../../model/target.js';
import { push } from '../../node/desk/push.js';
import { restore } from '../../node/desk/restore.js';
import { verify } from '../../node/desk/verify.js';
import type { WriteReport } from '../../node/desk/write-desk.js';
import { withTemporaryFolder } from '../../node/folders.js';
import { readInput } from '../../node/read-input.js';
import type { RunningStandin } from '../../node/standin/start-standin.js';
import { startStandin } from '../../node/standin/start-standin.js';
import { outputsFor } from '../../standin/address-map.js';
import { ok } from '../../units/result.js';
import { withInterrupts } from '../words/conversation.js';
import type { Terminal } from '../words/terminal.js';

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

/** A stand-in on this computer need not be spared. */
const ratePerSecond = 2000;

const valuesIn = ({ mixes }: WriteReport): number =>
  mixes.reduce((sum, { values }) => sum + values.filter(({ state }) => state === 'held').length, 0);

/** Pushes, verifies and restores on a stand-in. */
const actOut = async (
  recipe: Recipe,
  target: Desk,
  kind: OscTransport,
  { port, snapshot }: RunningStandin,
  options: { readonly journalFolder: string; readonly signal: AbortSignal; readonly hardSignal: AbortSignal },
): Promise<Outcome<Rehearsed>> => {
  const desk = { ...options, to: `${bind}:${port}`, transport: kind, ratePerSecond };
  const agree = async (): Promise<boolean> => true;
  const before = JSON.stringify(snapshot());
  const pushed = await push({ ...desk, recipe, target, acceptNames: true, agree });
  if (!pushed.ok) return pushed;
  const verified = await verify({ ...desk, recipe, target });
  if (!verified.ok) return verified;
  const kept = await readInput(pushed.value.journal ?? '');
  if (!kept.ok) return kept;
  const restored = await restore({ ...desk, journal: kept.value.bytes, source: kept.value.source, agree });
  if (!restored.ok) return restored;
  const isAsFound = JSON.stringify(snapshot()) === before;
  const isDone = ({ result }: { readonly result: string }): boolean => result === 'done';
  return ok({
    transport: kind,
    push: { done: isDone(pushed.value), mixes: pushed.value.mixes.length, values: valuesIn(pushed.value) },
    verify: {
      done: isDone(verified.value),
      mixes: verified.value.mixes.filter(({ state }) => state === 'holds').length,
    },
    restore: { done: isDone(restored.value) && isAsFound, mixes: restored.value.mixes.length },
  });
};

/** Rehearses a recipe on a stand-in, over a real socket and with a journal on disk. */
export const rehearse = (recipe: Recipe, desk: Desk, terminal: Terminal): Promise<Outcome<Rehearsed>> =>
  withTemporaryFolder((journalFolder) =>
    withInterrupts(terminal, async ({ signal, hardSignal }) => {
      const kind = desk.target.osc?.transports[0]?.kind ?? 'udp';
      const outputs = outputsFor(recipe.mixes);
      const standin = await startStandin({ desk, kind, port: 0, bind, seed, scatter: true, outputs });
      if (!standin.ok) return standin;
      try {
        return await actOut(recipe, desk, kind, standin.value, { journalFolder, signal, hardSignal });
      } finally {
        await standin.value.close();
      }
    }),
  );
