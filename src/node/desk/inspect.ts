import { readRig } from '../../documents/read.js';
import { type InspectedRig, inspectRig } from '../../live/inspect/inspect-rig.js';
import { planInspection } from '../../live/inspect/plan-inspection.js';
import type { SurveyedMix } from '../../live/write/survey.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { Rig } from '../../model/rig.js';
import { rigOnDeskProblems } from '../../recipes/rig-on-desk.js';
import { fail, ok } from '../../units/result.js';
import { systemClock } from '../network/clock.js';
import { readGiven } from '../read-input.js';
import { loadDesk } from '../targets.js';
import { type DeskOptions, never, readDesk } from './open-desk.js';

export interface InspectOptions extends DeskOptions {
  /** A rig, or its text: JSON or XML. Its guard tells what is asked at the pilots. */
  readonly rig: Rig | string | Uint8Array;
  /** What the rig is called in problems: a file's name. */
  readonly source?: string;
  /** The id of a shipped target, a target's file, or a desk. */
  readonly target: string | Desk;
  /** How many slots a mix's recipe may spend on further cuts near the pilot; none where left out. */
  readonly spareSlots?: number;
}

/** What a rig's mixes do to their pilots as the desk stands. */
export interface InspectReport extends InspectedRig {
  readonly purpose: 'inspect';
  /** `done`: every pilot is safe. `interrupted`: no mix is told of. */
  readonly result: 'done' | 'falls-short' | 'interrupted';
  /** The target's id. */
  readonly target: string;
  /** Null where no mix feeds an FM stereo link, and no desk was spoken to. */
  readonly desk: Journal['desk'] | null;
  /** For people: `192.0.2.7:9000 by UDP`. */
  readonly destination: string | null;
}

/**
 * Reads every slot of every mix that feeds an FM stereo link as it stands on a desk, and tells which leave their pilots
 * at risk, and why. It writes nothing. Problems: what is wrong with rig or target, those of `readDesk`.
 */
export const inspect = async (options: InspectOptions): Promise<Outcome<InspectReport>> => {
  const { source = 'the rig' } = options;
  const read = readGiven(options.rig, source, readRig);
  if (!read.ok) return read;
  const rig = read.value;
  const loaded = typeof options.target === 'string' ? await loadDesk(options.target, []) : ok(options.target);
  if (!loaded.ok) return loaded;
  const desk = loaded.value;
  const { spareSlots = 0 } = options;
  if (!Number.isInteger(spareSlots) || spareSlots < 0) {
    const told = `${spareSlots} is no number of slots: give a whole number from 0 up.`;
    return fail([problem('usage', 'spareSlots', told)]);
  }
  const misfits = rigOnDeskProblems(rig, desk);
  const plan = misfits.length > 0 ? fail(misfits) : planInspection(rig, desk);
  if (!plan.ok) return fail(plan.error.map((each) => ({ source, ...each })));
  const inspections = plan.value;
  const reading =
    inspections.length === 0
      ? ok({ mixes: [], at: null, destination: null })
      : await readDesk(
          inspections.map((each) => each.plan),
          desk,
          options,
        );
  if (!reading.ok) return reading;
  const { mixes: surveyed, at, destination } = reading.value;
  const task = { rig, desk, inspections, spareSlots };
  const inspectAll = (found: readonly SurveyedMix[], signal: AbortSignal) =>
    inspectRig(found, task, {
      onFitting: (isFitting) =>
        options.onProgress?.(isFitting ? { stage: 'fitting', target: desk.target.id } : null),
      pause: () => systemClock.wait(0),
      signal,
    });
  const whole = surveyed && (await inspectAll(surveyed, options.signal ?? never));
  const inspected = whole ?? (await inspectAll([], never));
  if (!inspected) throw new Error('nothing was to be fitted, and it was interrupted');
  const isSafe = inspected.mixes.every(({ state }) => state === 'safe');
  return ok({
    purpose: 'inspect',
    result: whole === null ? 'interrupted' : isSafe ? 'done' : 'falls-short',
    target: desk.target.id,
    desk: at,
    destination,
    ...inspected,
  });
};
