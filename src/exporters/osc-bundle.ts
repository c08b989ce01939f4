import { type Outcome, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Target } from '../model/target.js';
import { immediately, makeOscCodec } from '../osc/codec.js';
import { recipeMessages } from '../osc/recipe-messages.js';
import { fail } from '../units/result.js';
import type { Exporter } from './exporter.js';

const bundleBytes = (recipe: Recipe, target: Target): Outcome<Uint8Array> => {
  const messages = recipeMessages(recipe, target);
  if (!messages.ok) return messages;
  const elements = messages.value.map(({ message }) => message);
  const bytes = makeOscCodec().encode({ timeTag: immediately, elements });
  if (bytes.ok) return bytes;
  return fail([
    problem(
      'osc-bundle-unfit',
      'mixes',
      `${bytes.error} Export osc-binary instead, or fewer mixes at a time.`,
    ),
  ]);
};

/** The messages that set the recipe as one OSC 1.0 bundle, due at once: a single datagram. */
export const oscBundle: Exporter = {
  name: 'osc-bundle',
  summary: 'the OSC messages as one bundle, due at once',
  fileName: 'recipe-bundle.osc',
  mediaType: 'application/osc',
  content: (recipe, { target }) => bundleBytes(recipe, target),
};
