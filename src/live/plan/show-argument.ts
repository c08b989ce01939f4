import type { FilterType } from '../../filters/filter.js';
import { argumentFor, saysTheSame } from '../../osc/encodings/registry.js';
import type { OscArgument } from '../../osc/message.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { quoteText } from '../../units/quote.js';
import { settingOf } from '../write/readback.js';

/** Text from outside is shown as far as anybody would read it, and never obeyed. */
const raw = (argument: OscArgument): string => {
  if (!('value' in argument) || argument.value instanceof Uint8Array)
    return `an argument of type ${argument.type}`;
  return typeof argument.value === 'string' ? quoteText(argument.value) : String(argument.value);
};

/** An argument as the desk would show it; as it came, and said so, where the target knows no such step. */
export const showArgument = (
  parameter: SlotParameter,
  argument: OscArgument,
  type: FilterType | null,
): string => {
  const setting = settingOf(parameter, argument, type);
  const sent = setting === null ? null : argumentFor(parameter.encoding, setting);
  return setting !== null && sent?.ok && saysTheSame(sent.value, argument)
    ? setting.text
    : `${raw(argument)} (no step of this target)`;
};
