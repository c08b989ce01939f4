import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { type RunningStandin, startStandin } from '../../src/node/standin/start-standin.js';
import type { StandinEvent } from '../../src/standin/events.js';
import { rig, shippedDesk } from '../live/recipe-on.js';
import { type Run, runLoaded, scratchFolder } from './run.js';

/** What stands in a slot of a stand-in, by the steps of its knobs. */
export interface Slot {
  readonly id: string;
  readonly on: boolean;
  readonly type: string;
  readonly knobs: Readonly<Record<string, { readonly index: number }>>;
}

// log-179 counts 179 frequencies, 26 * (21700/26)^(k/178) Hz (174 is 18.66 kHz, 175 is 19.37 kHz, 151 is 7.822 kHz), 58 Qs,
// 0.33 * (10.6/0.33)^(k/57) (40 is 3.77), and 35 gains from -16.5 dB by 0.75 dB (2 is -15 dB, 30 is +6 dB).
export const bell = (id: string, frequency: number, on = true): Slot => ({
  id,
  on,
  type: 'peaking',
  knobs: { frequency: { index: frequency }, q: { index: 40 }, gain: { index: 2 } },
});
export const lowCut: Slot = { id: '3', on: true, type: 'highpass', knobs: { frequency: { index: 11 } } };
export const shelf: Slot = {
  id: '4',
  on: true,
  type: 'highshelf',
  knobs: { frequency: { index: 151 }, gain: { index: 30 } },
};
export const highCut: Slot = { id: '4', on: true, type: 'lowpass', knobs: { frequency: { index: 169 } } };

/** Two bells of 15 dB to either side of the pilot: far more than the 16 or 18 dB that pre-emphasis adds there. */
export const guarded: readonly Slot[] = [bell('1', 174), bell('2', 175), lowCut, highCut];

export interface StandingDesk extends RunningStandin {
  readonly events: readonly StandinEvent[];
  /** Runs `bandwright inspect` on the rig as it stands there. */
  inspect(...args: readonly string[]): Promise<Run>;
}

export const standingDesk = async (
  heron: readonly Slot[],
  lark: readonly Slot[],
  options: { readonly target?: string; readonly faults?: readonly string[] } = {},
): Promise<StandingDesk> => {
  const { target = 'log-179', faults = [] } = options;
  const desk = await shippedDesk(target);
  const events: StandinEvent[] = [];
  const banks =
    target === 'two-legs'
      ? [[1], [5]]
      : [
          [1, 2],
          [5, 6],
        ];
  const started = await startStandin({
    desk,
    kind: 'udp',
    port: 0,
    bind: '127.0.0.1',
    faults,
    seed: 1,
    outputs: {
      names: new Map(rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name]))),
    },
    state: {
      format: 'bandwright-standin-state/1',
      target,
      filters: [
        { outputs: banks[0], slots: heron },
        { outputs: banks[1], slots: lark },
      ],
    },
    onEvent: (event) => events.push(event),
  });
  if (!started.ok) throw new Error(JSON.stringify(started.error));
  const standin = started.value;
  onTestFinished(() => standin.close());
  const cwd = await scratchFolder();
  await writeFile(join(cwd, 'show.json'), JSON.stringify(rig));
  return {
    ...standin,
    events,
    inspect: (...args) =>
      runLoaded(['inspect', 'show.json', '--target', target, '--to', `127.0.0.1:${standin.port}`, ...args], {
        cwd,
      }),
  };
};
