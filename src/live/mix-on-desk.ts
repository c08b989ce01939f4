import type { Desk } from '../model/desk.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import { fillAddress } from '../osc/address.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';

/** Where a mix is on a desk. */
export interface MixPlace {
  /** The outputs to write to: the first alone where the legs of a pair share their filters. */
  readonly writeTo: readonly number[];
  /** Where the desk tells the names of its outputs, one for each; empty where it does not. */
  readonly nameAddresses: readonly string[];
}

/** Finds a mix's outputs on a desk. `path` names the mix in its file. */
export const mixOnDesk = (
  { name, outputs }: { readonly name: string; readonly outputs: readonly number[] },
  { target }: Desk,
  path: string,
): Outcome<MixPlace> => {
  if (outputs.length === 0) {
    const told = `${quote(name)} names no output, so there is nowhere to send its filters. Name its outputs in a rig file.`;
    return fail([problem('outputs-missing', `${path}.outputs`, told)]);
  }
  const { count, stereo } = target.outputs;
  const beyond = outputs.filter((output) => output > count);
  if (beyond.length > 0) {
    const told = `${quote(name)} is on output ${beyond.join(' and ')}; ${quote(target.id)} has outputs 1 to ${count}. Correct the rig, or choose another target.`;
    return fail([problem('output-beyond-target', `${path}.outputs`, told)]);
  }
  const template = target.osc?.addresses.outputName;
  const names = template === undefined ? [] : outputs.map((output) => fillAddress(template, { output }));
  const problems: readonly Problem[] = names.flatMap((address) =>
    address.ok ? [] : [problem('osc-address-unfit', 'osc.addresses.outputName', address.error)],
  );
  if (problems.length > 0) return fail(problems);
  return ok({
    writeTo: stereo === 'legs-share' ? outputs.slice(0, 1) : outputs,
    nameAddresses: names.flatMap((address) => (address.ok ? [address.value] : [])),
  });
};
