import type { Display, OscParameter } from '../../model/target.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { knobWire } from './knob-wire.js';
import { offArgument } from './quieten.js';
import type { NoAnswer, SlotAtWork, Talk, TalkAnswer } from './talk.js';

/** So many writes may follow a switch that read as off before it is read again. */
const mostUnseen: Readonly<Record<'gain' | 'other', number>> = { gain: 10, other: 16 };

/**
 * A slot that was made silent, and is kept so while it is turned: its switch is read after the first write of each knob,
 * before a gain is turned and every few messages, and told to go off again where it went on.
 */
export interface KeptOff {
  /** To be talked through: what it does not let through it answers with `heard`. */
  readonly talk: Talk;
  /** Reads the switch, and tells it to go off where it went on; null once it reads as off. */
  makeSure(): Promise<NoAnswer | null>;
  /** Why no gain may be turned here any more, as the end of a sentence; null where it may. */
  whyNoGain(): string | null;
  /** Whether it went on and does not go off again: nothing may be turned any more. */
  isStuck(): boolean;
}

/** `proven`: knobs that were seen to switch no section on. */
export const keepOff = (
  slot: SlotAtWork,
  onSwitch: SlotParameter,
  display: Display,
  proven: Set<OscParameter>,
  plain: Talk,
): KeptOff => {
  const off = offArgument(onSwitch);
  const first = { address: onSwitch.address, args: [off] };
  const switching = new Set<OscParameter>();
  let [wentOn, unseen, isSure, isStuck] = [0, 0, true, false];
  /** Whether a gain had to be sent again: the desk may have started anew meanwhile. */
  let isAstray = false;

  /** Reads the switch, after what is to be sent first, and tells it to go off where it is on. */
  const reads = async (by: OscParameter | null, sentFirst?: OscMessage): Promise<NoAnswer | null> => {
    const answer = await plain.read(slot, onSwitch, sentFirst && { first: sentFirst, isAlways: true });
    if (answer.kind !== 'told') return answer.kind;
    [unseen, isSure, isAstray] = [0, true, false];
    if (saysTheSame(off, answer.read)) return null;
    wentOn++;
    if (by !== null) switching.add(by);
    const told = await plain.write(slot, onSwitch, off);
    if (told.kind !== 'told') return told.kind;
    if (saysTheSame(off, told.read)) return null;
    isStuck = true;
    return 'heard';
  };

  const whyNoGain = (): string | null => {
    if (isStuck) return 'it went on, and does not read as off once it was told to go off again';
    const knobs = [...switching].join(' and ');
    if (switching.has('gain') || (wentOn > 1 && switching.size > 0))
      return `turning its ${knobs} switches it on: it was told to go off each time, and no gain was turned there`;
    return wentOn > 1 ? 'it was switched on again and again meanwhile: somebody may be working on it' : null;
  };

  /** Whether a gain rises, or may. Then its section is told to go off in the same breath. */
  const rises = (parameter: SlotParameter, argument: OscArgument): boolean => {
    const wire = knobWire('gain', parameter, display);
    const stands = slot.stands.get('gain');
    const [from, to] = [stands && wire.valueOf(stands), wire.valueOf(argument)];
    return typeof from !== 'number' || to === null || to > from;
  };

  /**
   * Whether a gain that is written switches its section on: it is told where it stands already, which moves nothing. Where the
   * switch was not sure before, it may have been on for another reason: then once more.
   */
  const provesGain = async ({ address }: SlotParameter): Promise<NoAnswer | null> => {
    const stands = slot.stands.get('gain');
    if (!stands) return isSure ? null : reads(null);
    for (let again = 0; again < 2; again++) {
      const wasSure = isSure;
      const before = wentOn;
      const fault = await reads(wasSure ? 'gain' : null, { address, args: [stands] });
      if (fault !== null) return fault;
      if (wasSure || wentOn === before) break;
    }
    if (!switching.has('gain')) proven.add('gain');
    return null;
  };

  const turnGain = async (parameter: SlotParameter, argument: OscArgument): Promise<TalkAnswer> => {
    const isDue = isAstray || unseen >= mostUnseen.gain;
    const fault = proven.has('gain') ? (isDue ? await reads(null) : null) : await provesGain(parameter);
    if (fault !== null) return { kind: fault };
    if (whyNoGain() !== null) return { kind: 'heard' };
    unseen++;
    const before = { first, isAlways: !isSure || rises(parameter, argument) };
    const answer = await plain.write(slot, parameter, argument, before);
    isAstray = plain.wasRepeated();
    return answer;
  };

  const turnOther = async (parameter: SlotParameter, argument: OscArgument): Promise<TalkAnswer> => {
    const { name } = parameter;
    const answer = await plain.write(slot, parameter, argument, { first, isAlways: false });
    isSure = false;
    unseen++;
    // After a change of type whoever changed it looks at once.
    if (name === 'type' || answer.kind === 'over') return answer;
    const isNew = !proven.has(name);
    proven.add(name);
    if (!isNew && !switching.has(name) && unseen < mostUnseen.other) return answer;
    const fault = await reads(isNew || switching.has(name) ? name : null);
    if (switching.has(name)) proven.delete(name);
    return fault === 'over' ? { kind: fault } : answer;
  };

  return {
    talk: {
      ...plain,
      read: async (at, parameter) => {
        const answer = await plain.read(at, parameter);
        if (parameter.name === 'on' && answer.kind === 'told') isSure = saysTheSame(off, answer.read);
        return answer;
      },
      write: async (at, parameter, argument) => {
        if (at !== slot || parameter.name === 'on') return plain.write(at, parameter, argument);
        if (isStuck) return { kind: 'heard' };
        return parameter.name === 'gain' ? turnGain(parameter, argument) : turnOther(parameter, argument);
      },
    },
    makeSure: async () => (isSure ? null : reads(null)),
    whyNoGain,
    isStuck: () => isStuck,
  };
};
