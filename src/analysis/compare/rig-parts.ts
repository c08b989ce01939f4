import type { Mix, Rig } from '../../model/rig.js';

/** The mixes of a rig that are fitted alike: one of them stands for all. */
export interface RigPart {
  /** The rig with that one mix and no other. */
  readonly rig: Rig;
  /** How many mixes it stands for. */
  readonly mixCount: number;
}

/** A rig's mixes with a pilot, by what sets their fits apart: the system they feed and the slots that are free. */
export const rigParts = (rig: Rig): readonly RigPart[] => {
  const alike = new Map<string, Mix[]>();
  for (const mix of rig.mixes) {
    if (rig.systems[mix.feeds]?.link !== 'fm-stereo') continue;
    const key = JSON.stringify([mix.feeds, mix.freeSlots]);
    alike.set(key, [...(alike.get(key) ?? []), mix]);
  }
  return [...alike.values()].map((mixes) => {
    // A pair may have to be dialled twice, a single output never: where there is a pair, it is the one.
    const [first] = [...mixes].sort((a, b) => b.outputs.length - a.outputs.length);
    return { rig: { ...rig, mixes: first ? [first] : [] }, mixCount: mixes.length };
  });
};
