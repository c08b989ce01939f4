import type { Desk } from '../../model/desk.js';
import { type Problem, problem } from '../../model/problem.js';
import { protectionNotes } from '../../model/protection.js';
import type { Rig } from '../../model/rig.js';
import { encoderNote, pilotLimitNote, preEmphasisNotes } from '../../recipes/notes.js';
import { guardedSystems } from '../../recipes/rig-on-desk.js';

const switchesNote = problem(
  'slots-assumed-on',
  'osc.addresses.on',
  'OSC does not reach the switches of the slots: every slot is taken to be on.',
);

const legsNote = problem(
  'legs-assumed-alike',
  'outputs.stereo',
  'The legs of a pair share their filters on this target: only the first was read.',
);

const evidenceNote = ({ grid, response }: Desk['target']['evidence']): Problem =>
  problem(
    'target-unproved',
    'target.evidence',
    `Tried on the real desk: grid ${grid}, response ${response}. Compare a slot or two with the desk's display before you trust this.`,
  );

/** What neither rig nor target told, and what was taken instead. */
export const inspectionNotes = (rig: Rig, { target }: Desk): readonly Problem[] => {
  const guarded = guardedSystems(rig);
  if (guarded.length === 0) return [];
  const { grid, response } = target.evidence;
  const hasPair = rig.mixes.some(
    ({ feeds, outputs }) => outputs.length > 1 && guarded.some(({ id }) => id === feeds),
  );
  return [
    ...guarded.flatMap(({ id, system }) => [
      ...protectionNotes(id, system, rig).filter(({ code }) => code === 'pilot-assumed'),
      ...preEmphasisNotes(id, system, rig.guard),
      ...(system.encoderLowpassHz === undefined ? [encoderNote(id)] : []),
    ]),
    ...(rig.guard?.pilotAttenuationAtLeastDb === undefined ? [pilotLimitNote] : []),
    ...(target.osc?.addresses.on === undefined ? [switchesNote] : []),
    ...(hasPair && target.outputs.stereo === 'legs-share' ? [legsNote] : []),
    ...(grid === 'tested' && response === 'tested' ? [] : [evidenceNote(target.evidence)]),
  ];
};
