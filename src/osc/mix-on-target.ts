import { fillAddress } from '../model/address-template.js';
import { pairFault } from '../model/pairs.js';
import { type Outcome, problem } from '../model/problem.js';
import type { Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { type Question, questionFor } from './asking.js';

interface PlacedMix {
  readonly name: string;
  readonly outputs: readonly number[];
}

/** The outputs to write a mix to: the first alone where the legs of a pair share. `path` names the mix in its file. */
export const outputsToWrite = (
  { name, outputs }: PlacedMix,
  target: Target,
  path: string,
): Outcome<readonly number[]> => {
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
  const unpaired = pairFault(outputs, target);
  if (unpaired !== null) return fail([problem('pair-unknown', `${path}.outputs`, unpaired)]);
  return ok(stereo === 'legs-share' ? outputs.slice(0, 1) : outputs);
};

/** Where a desk has the name of an output, and what asks for it; null where the desk cannot be asked. */
export interface NamePlace {
  readonly address: string;
  readonly question: Question | null;
}

/** Where a desk tells the names of a mix's outputs, one for each; empty where it does not tell them. */
export const namePlacesOf = ({ outputs }: PlacedMix, { osc }: Target): Outcome<readonly NamePlace[]> => {
  const template = osc?.addresses.outputName;
  if (osc === undefined || template === undefined) return ok([]);
  const places: NamePlace[] = [];
  for (const output of outputs) {
    const place = { output };
    const address = fillAddress(template, place);
    if (!address.ok) return fail([problem('osc-address-unfit', 'osc.addresses.outputName', address.error)]);
    const question = questionFor(osc, { name: 'outputName', place, address: address.value });
    if (!question.ok) return fail([problem('osc-address-unfit', 'osc.read', question.error)]);
    places.push({ address: address.value, question: question.value });
  }
  return ok(places);
};
