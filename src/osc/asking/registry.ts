import type { Osc, OscRead, Target } from '../../model/target.js';
import { ok, type Result } from '../../units/result.js';
import type { Asking } from './asking.js';
import { byAddress } from './by-address.js';
import { byArgument } from './by-argument.js';
import { none } from './none.js';
import type { AskedValue, Question } from './question.js';
import { sameAddress } from './same-address.js';

/** Every way a desk may be asked. */
export const askings: readonly Asking[] = [sameAddress, byAddress, byArgument, none];

const askingFor = (read: OscRead): Asking => {
  const name = typeof read === 'string' ? read : read.by;
  const found = askings.find((each) => each.name === name);
  if (!found) throw new RangeError(`no way of asking is called ${name}`);
  return found;
};

/**
 * What asks a desk for a value, as its target says; null where it cannot be asked. The error is a sentence that says
 * why there is no such question.
 */
export const questionFor = (
  { read }: Pick<Osc, 'read'>,
  value: AskedValue,
): Result<Question | null, string> => askingFor(read).question?.(value, read) ?? ok(null);

/** Whether a desk answers questions at all. */
export const canBeAsked = ({ osc }: Pick<Target, 'osc'>): boolean =>
  osc !== undefined && askingFor(osc.read).question !== undefined;

/** How a desk is asked, in a clause for people. */
export const askingWords = ({ read }: Pick<Osc, 'read'>): string => askingFor(read).tell(read);
