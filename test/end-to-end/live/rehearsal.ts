import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeJson } from '../../../src/documents/write-json.js';
import type { MixReport, ValueReport } from '../../../src/live/write/report.js';
import type { Desk } from '../../../src/model/desk.js';
import type { OscTransport, Target } from '../../../src/model/target.js';
import { type StartStandinOptions, startStandin } from '../../../src/node/standin/start-standin.js';
import type { StandinEvent } from '../../../src/standin/events.js';
import type { StandinState } from '../../../src/standin/snapshot.js';
import { recipeOn, shippedDesk } from '../../live/recipe-on.js';
import { type Run, type RunOptions, run, runLoaded } from '../run.js';

/** What `push --json` and `restore --json` say of one value, and of one mix. */
export type ToldValue = ValueReport;
export type ToldMix = MixReport;

export interface Told {
  readonly result: string;
  readonly journal: string | null;
  readonly mixes: readonly ToldMix[];
  readonly problems: readonly { readonly code: string; readonly message: string }[];
}

export const told = ({ stdout, stderr, exitCode }: Run): Told => {
  try {
    return JSON.parse(stdout.toString('utf8')) as Told;
  } catch {
    throw new Error(`exit ${exitCode}, and no JSON: ${stdout.toString('utf8')}\n${stderr}`);
  }
};

export interface Rehearsal {
  readonly desk: Desk;
  /** A recipe of the show in `test/live/recipe-on.ts`, as a file. */
  readonly recipe: string;
  readonly journals: string;
  readonly port: number;
  readonly events: readonly StandinEvent[];
  snapshot(): StandinState;
  /** Runs a command against the stand-in, where the program is loaded already. */
  command(name: string, args: readonly string[]): Promise<Run>;
  /** The same in a process of its own. */
  program(name: string, args: readonly string[]): Promise<Run>;
  /** Every journal there is. */
  kept(): Promise<readonly string[]>;
  close(): Promise<void>;
}

export interface RehearsalOptions
  extends Partial<Pick<StartStandinOptions, 'faults' | 'seed' | 'outputs' | 'state'>> {
  readonly target: string;
  /** The desk there really is, where it is not as the target says. */
  readonly change?: (target: Target) => Target;
  readonly kind?: OscTransport;
  readonly scatter?: boolean;
}

/** A stand-in on a socket of this machine, in a state of its own, and a recipe to push to it. */
export const rehearse = async (folder: string, options: RehearsalOptions): Promise<Rehearsal> => {
  const { target, change, kind = 'udp', scatter = true, ...rest } = options;
  const desk = await shippedDesk(target, change);
  const recipe = join(folder, 'recipe.json');
  await writeFile(recipe, writeJson(recipeOn(desk)));
  const events: StandinEvent[] = [];
  const standin = await startStandin({
    desk,
    kind,
    port: 0,
    bind: '127.0.0.1',
    scatter: scatter && rest.state === undefined,
    onEvent: (event) => events.push(event),
    ...rest,
  });
  if (!standin.ok) throw new Error(JSON.stringify(standin.error));
  const { port, snapshot, close } = standin.value;
  const journals = join(folder, 'journals');
  const withRun =
    (runs: (args: readonly string[], options: RunOptions) => Promise<Run>): Rehearsal['command'] =>
    (name, args) =>
      runs([name, ...args, '--to', `127.0.0.1:${port}`, '--transport', kind], {
        env: { BANDWRIGHT_JOURNALS: journals },
      });
  return {
    desk,
    recipe,
    journals,
    port,
    events,
    snapshot,
    close,
    command: withRun(runLoaded),
    program: withRun(run),
    kept: async () => {
      const names = await readdir(journals).catch(() => []);
      const files = names.filter((name) => !name.startsWith('.')).map((name) => join(journals, name));
      const texts = await Promise.all(files.map((file) => readFile(file, 'utf8')));
      return files.filter((_, index) => texts[index] !== '').sort();
    },
  };
};

const words: Readonly<Record<string, string>> = {
  lowpass: 'high cut',
  highpass: 'low cut',
  bandpass: 'band-pass',
  notch: 'notch',
  allpass: 'all-pass',
  peaking: 'bell',
  lowshelf: 'low shelf',
  highshelf: 'high shelf',
};

/** What a stand-in shows of one value; null where it has none. */
export const shownBy = (
  state: StandinState,
  { output, slot, parameter }: Pick<ToldValue, 'output' | 'slot' | 'parameter'>,
  { target }: Desk,
): string | null => {
  const filters = state.filters.find(({ outputs }) => outputs.includes(output));
  const found = filters?.slots.find(({ id }) => id === slot);
  if (!found) return null;
  if (parameter === 'on') return found.on ? 'on' : 'off';
  if (parameter === 'type') return target.display.typeLabels?.[found.type] ?? words[found.type] ?? null;
  return found.knobs[parameter as keyof typeof found.knobs]?.display ?? null;
};

/** The outputs of the show's mixes that may be written to, and of those that may not even be read. */
export const guardedOutputs = [1, 2, 5, 6];

/**
 * Everything a report says of the desk that is not so, given how the desk stood before and stands now. A value
 * the report says it does not know cannot be wrong.
 */
export const lies = (report: Told, before: StandinState, now: StandinState, desk: Desk): readonly string[] =>
  report.mixes.flatMap(({ name, state, values }) =>
    values.flatMap((value) => {
      const [was, stands] = [shownBy(before, value, desk), shownBy(now, value, desk)];
      const place = `${name}, output ${value.output}, slot ${value.slot}, ${value.parameter}`;
      const claims = (
        {
          applied: value.set,
          unchanged: value.set ?? was,
          untouched: was,
          'put-back': was,
        } as Readonly<Record<string, string | null>>
      )[state];
      const single = (
        {
          held: value.read,
          differs: value.read,
          sent: value.set,
          untouched: was,
          unread: null,
        } as const
      )[value.state];
      const claimed = claims === undefined ? single : claims;
      return claimed === null || claimed === stands
        ? []
        : [`${place}: ${state}, said to be ${claimed}, and it is ${stands}`];
    }),
  );
