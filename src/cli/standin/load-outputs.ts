import { journalKind, recipeKind, rigKind } from '../../documents/kinds.js';
import { readOneOf } from '../../documents/read.js';
import type { Outcome } from '../../model/problem.js';
import type { Target } from '../../model/target.js';
import { readInput } from '../../node/read-input.js';
import { outputsToWrite } from '../../osc/mix-on-target.js';
import { outputsFor, type StandinOutputs } from '../../standin/address-map.js';
import { fail, ok } from '../../units/result.js';

/** A desk's outputs as a rig or a recipe has them: what they are called, and which are pairs. */
export const loadOutputs = async (path: string, target: Target): Promise<Outcome<StandinOutputs>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const { bytes, source } = input.value;
  const document = readOneOf(bytes, { source }, [rigKind, recipeKind, journalKind]);
  if (!document.ok) return document;
  const { mixes } = document.value;
  const beyond = mixes.flatMap((mix, index) => {
    const outputs = mix.outputs.length > 0 ? outputsToWrite(mix, target, `mixes[${index}]`) : null;
    return outputs === null || outputs.ok ? [] : outputs.error;
  });
  return beyond.length > 0 ? fail(beyond.map((each) => ({ ...each, source }))) : ok(outputsFor(mixes));
};
