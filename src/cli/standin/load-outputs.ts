import { type Outcome, problem } from '../../model/problem.js';
import type { Target } from '../../model/target.js';
import { readInput } from '../../node/read-input.js';
import { readDocument } from '../../reading/read.js';
import type { StandinOutputs } from '../../standin/layout.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';

/** A desk's outputs as a rig or a recipe has them: what they are called, and which are pairs. */
export const loadOutputs = async (
  path: string,
  { id, outputs }: Target,
): Promise<Outcome<StandinOutputs>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const { bytes, source } = input.value;
  const document = await readDocument(bytes, { source });
  if (!document.ok) return document;
  if (!('mixes' in document.value)) {
    const { format } = document.value;
    const told = `This is a ${quote(format)} file, which names no outputs; a rig and a recipe do.`;
    return fail([{ ...problem('format-unexpected', 'format', told), source }]);
  }
  const names = new Map<number, string>();
  for (const [index, mix] of document.value.mixes.entries()) {
    for (const output of mix.outputs) {
      if (output > outputs.count) {
        const told = `${quote(mix.name)} is on output ${output}; target ${id} has outputs 1 to ${outputs.count}. Name another target, or another file.`;
        return fail([{ ...problem('output-beyond', `mixes[${index}].outputs`, told), source }]);
      }
      names.set(output, mix.name);
    }
  }
  const pairs = document.value.mixes.flatMap(({ outputs: [left, right] }) =>
    left === undefined || right === undefined ? [] : [[left, right] as const],
  );
  return ok({ names, pairs });
};
