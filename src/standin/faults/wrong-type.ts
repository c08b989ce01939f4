import { asFloat32, type OscArgument } from '../../osc/message.js';
import { ok } from '../../units/result.js';
import { type Fault, onShare } from './fault.js';

/** The same said in another OSC type. */
const retyped = (argument: OscArgument): OscArgument => {
  switch (argument.type) {
    case 'i':
      return { type: 'f', value: asFloat32(argument.value) };
    case 'f':
      return { type: 'd', value: argument.value };
    case 'd':
    case 'h':
      return { type: 's', value: String(argument.value) };
    case 's':
      return { type: 'i', value: argument.value.length };
    default:
      return { type: 'N' };
  }
};

/** One of three ways to answer wrongly; `chance` lies within [0, 1). */
const spoilt = (args: readonly OscArgument[], chance: number): readonly OscArgument[] => {
  if (chance < 1 / 3) return args.map(retyped);
  return chance < 2 / 3 ? [...args, ...args] : [];
};

/** Answers that say what was asked for in a way that was not. */
export const wrongType: Fault = {
  name: 'wrong-type',
  example: '10%',
  summary: 'answers of another OSC type, with two arguments, or with none',
  place: 'desk',
  create: (setting, context) => {
    const spoil = onShare(setting, context, (delivery) => {
      const { message } = delivery;
      return [{ ...delivery, message: { ...message, args: spoilt(message.args, context.random()) } }];
    });
    return spoil.ok
      ? ok((delivery) => (delivery.direction === 'out' ? spoil.value(delivery) : [delivery]))
      : spoil;
  },
};
