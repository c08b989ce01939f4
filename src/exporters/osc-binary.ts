import { type Outcome, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Target } from '../model/target.js';
import { makeOscCodec } from '../osc/codec.js';
import { joinLengthPrefixed } from '../osc/framing/length-prefix.js';
import { recipeMessages } from '../osc/recipe-messages.js';
import { fail, ok } from '../units/result.js';
import type { Exporter } from './exporter.js';

const packetStream = (recipe: Recipe, target: Target): Outcome<Uint8Array> => {
  const messages = recipeMessages(recipe, target);
  if (!messages.ok) return messages;
  const codec = makeOscCodec();
  const packets: Uint8Array[] = [];
  for (const { message, parameter } of messages.value) {
    const bytes = codec.encode(message);
    if (!bytes.ok) return fail([problem('osc-packet-unfit', `osc.addresses.${parameter}`, bytes.error)]);
    packets.push(bytes.value);
  }
  return ok(joinLengthPrefixed(packets));
};

/**
 * The messages that set the recipe, in the order to send them, as OSC 1.0 packets, each behind its size as a
 * big-endian int32: what a TCP stream would carry.
 */
export const oscBinary: Exporter = {
  name: 'osc-binary',
  summary: 'the OSC messages as packets, each behind its size',
  fileName: 'recipe-packets.osc',
  mediaType: 'application/octet-stream',
  content: (recipe, { target }) => packetStream(recipe, target),
};
