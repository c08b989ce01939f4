import type { Desk } from '../../model/desk.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import { type SlotParameter, slotParameters } from '../../osc/slot-parameters.js';
import type { Findings } from './found.js';
import type { SlotAtWork, Talk } from './talk.js';

/**
 * Whether the other leg of a pair goes along: it is read beside a knob that was turned here, before and after that is put
 * back as it was found. The other leg is never written to.
 */
export const findPartner = async (
  slot: SlotAtWork,
  turned: SlotParameter,
  output: number,
  { desk, talk, findings }: { readonly desk: Desk; readonly talk: Talk; readonly findings: Findings },
): Promise<void> => {
  const offered = desk.slots.find(({ id }) => id === slot.id);
  const there = offered && slotParameters(offered, output, desk);
  const other = there?.ok ? there.value.find(({ name }) => name === turned.name) : undefined;
  const [found, now] = [slot.found.get(turned.name), slot.stands.get(turned.name)];
  if (!other || !found || !now || saysTheSame(found, now)) return;
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
