import type { Desk } from '../../model/desk.js';
import { type Knob, knobs } from '../../model/knob.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import { slotParameters } from '../../osc/slot-parameters.js';
import type { Findings } from './found.js';
import { parameterOf, type SlotAtWork, type Talk } from './talk.js';

/**
 * Whether the other leg of a pair goes along: it is read beside what stands here, before and after one knob is put back
 * as it was found. It is never written to.
 */
export const findPartner = async (
  slot: SlotAtWork,
  output: number,
  { desk, talk, findings }: { readonly desk: Desk; readonly talk: Talk; readonly findings: Findings },
): Promise<void> => {
  const offered = desk.slots.find(({ id }) => id === slot.id);
  const there = offered && slotParameters(offered, output, desk);
  const turned = (Object.keys(knobs) as Knob[])
    .filter((knob) => knob !== 'gain')
    .map((knob) => parameterOf(slot, knob))
    .find((parameter) => {
      const [found, stands] = [parameter && slot.found.get(parameter.name), parameter && slot.stands.get(parameter.name)];
      return found && stands && !saysTheSame(found, stands);
    });
  const other = there?.ok ? there.value.find(({ name }) => name === turned?.name) : undefined;
  const [found, now] = [turned && slot.found.get(turned.name), turned && slot.stands.get(turned.name)];
  if (!turned || !other || !found || !now) return;
  const before = await talk.readElsewhere(other);
  const answer = await talk.write(slot, turned, found);
  const after = answer.kind === 'told' ? await talk.readElsewhere(other) : null;
  if (answer.kind !== 'told' || before === null || after === null) {
    findings.partner = { output, goesAlong: 'not-known' };
    return;
  }
  const wentAlong = saysTheSame(now, before) && saysTheSame(answer.read, after);
  const stayed = saysTheSame(before, after);
  findings.partner = { output, goesAlong: wentAlong ? 'yes' : stayed ? 'no' : 'not-known' };
};
