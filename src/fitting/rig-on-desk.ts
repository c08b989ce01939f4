import type { Desk } from '../model/desk.js';
import { type Problem, problem } from '../model/problem.js';
import type { Rig } from '../model/rig.js';
import { quote } from '../units/quote.js';

/** What a rig asks of a desk that the desk does not have: outputs beyond its last, slots it does not know. */
export const rigOnDeskProblems = (rig: Rig, desk: Desk): readonly Problem[] => {
  const { count } = desk.target.outputs;
  const slotIds = desk.slots.map(({ id }) => id);
  return rig.mixes.flatMap((mix, index) => [
    ...mix.outputs.flatMap((output, leg) =>
      output > count
        ? [
            problem(
              'output-unknown',
              `mixes[${index}].outputs[${leg}]`,
              `Mix ${quote(mix.name)} is on output ${output}; target ${quote(desk.target.id)} has outputs 1 to ${count}. Move the mix or choose another target.`,
            ),
          ]
        : [],
    ),
    ...(mix.freeSlots ?? []).flatMap((id, place) =>
      slotIds.includes(id)
        ? []
        : [
            problem(
              'slot-unknown',
              `mixes[${index}].freeSlots[${place}]`,
              `Target ${quote(desk.target.id)} has no slot ${quote(id)}; it has ${slotIds.map(quote).join(', ')}. Name its slots or leave freeSlots out.`,
            ),
          ],
    ),
  ]);
};
