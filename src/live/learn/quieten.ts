import type { FilterType } from '../../filters/filter.js';
import type { Desk, DeskSlot } from '../../model/desk.js';
import { argumentFor, saysTheSame } from '../../osc/encodings/registry.js';
import type { OscArgument } from '../../osc/message.js';
import { switchScale } from '../../osc/scale.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { knobWire } from './knob-wire.js';
import { parameterOf, type SlotAtWork, type Talk } from './talk.js';

/**
 * What may be turned in a slot without anybody hearing it. `off`: its switch reads as off, anything may. `flat`: it has no
 * switch, and its gain reads 0 dB, at which a bell or a shelf does nothing: frequency and width may, gain and type not.
 * `over`: it was broken off.
 */
export type Quiet =
  | { readonly kind: 'off' | 'flat' | 'over' }
  | { readonly kind: 'not'; readonly why: string };

/** What tells a switch to go off. */
export const offArgument = ({ encoding }: SlotParameter): OscArgument => {
  const off = argumentFor(encoding, switchScale.at(0));
  if (!off.ok) throw new RangeError(`a switch cannot be told to go off: ${off.error}`);
  return off.value;
};

/** Whether a slot's switch, read anew, says that it is off. */
export const readsOff = async (slot: SlotAtWork, talk: Talk): Promise<boolean> => {
  const onSwitch = parameterOf(slot, 'on');
  if (!onSwitch) return false;
  const answer = await talk.read(slot, onSwitch);
  return answer.kind === 'told' && saysTheSame(offArgument(onSwitch), answer.read);
};

const gainTypes: readonly FilterType[] = ['peaking', 'lowshelf', 'highshelf'];

const flatOrNot = async (
  slot: SlotAtWork,
  type: FilterType | null,
  offered: DeskSlot,
  { target }: Desk,
  talk: Talk,
): Promise<Quiet> => {
  const gain = parameterOf(slot, 'gain');
  const types = type === null ? [...offered.types.keys()] : [type];
  if (!gain || !types.every((each) => gainTypes.includes(each)))
    return {
      kind: 'not',
      why: 'it has no switch, and is or may be a filter that cuts without a gain: turning it could be heard',
    };
  // What the survey read may be of minutes ago.
  const answer = await talk.read(slot, gain);
  if (answer.kind === 'over') return { kind: 'over' };
  const stands = answer.kind === 'told' ? answer.read : null;
  const { as } = gain.encoding;
  // A step or a share says no decibels: the draft's own grid may be wrong.
  const gainDb =
    stands && (as === 'engineering' || as === 'text')
      ? knobWire('gain', gain, target.display).valueOf(stands)
      : null;
  return gainDb === 0
    ? { kind: 'flat' }
    : {
        kind: 'not',
        why:
          gainDb === null
            ? 'it has no switch, and whether its gain stands at 0 dB cannot be read: turning it could be heard'
            : `it has no switch, and its gain stands at ${gainDb} dB: set it to 0 dB on the desk, and learn again`,
      };
};

/** Makes a slot silent, if that can be done without raising anything; its switch is written only where it is on. */
export const quieten = async (
  slot: SlotAtWork,
  type: FilterType | null,
  offered: DeskSlot,
  desk: Desk,
  talk: Talk,
): Promise<Quiet> => {
  const onSwitch = parameterOf(slot, 'on');
  if (!onSwitch) return flatOrNot(slot, type, offered, desk, talk);
  const off = offArgument(onSwitch);
  // Read anew: since the survey it may have been switched, by somebody or by the desk.
  const found = slot.stands.get('on');
  if (found && saysTheSame(off, found) && (await readsOff(slot, talk))) return { kind: 'off' };
  const answer = await talk.write(slot, onSwitch, off);
  if (answer.kind === 'over') return { kind: 'over' };
  if (answer.kind === 'told' && saysTheSame(off, answer.read)) return { kind: 'off' };
  return { kind: 'not', why: 'its switch does not read as off once it was told to go off' };
};
