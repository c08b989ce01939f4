import { recipeMessages } from '../osc/recipe-messages.js';
import { ok } from '../units/result.js';
import type { Exporter } from './exporter.js';
import { messageLine } from './osc-notation.js';

/**
 * The messages that set the recipe, one a line, in the order to send them; `messageLine` says how to read
 * one. Nothing here is sent.
 */
export const osc: Exporter = {
  name: 'osc',
  summary: 'the OSC messages, one readable line each',
  fileName: 'recipe-osc.txt',
  mediaType: 'text/plain; charset=utf-8',
  content: (recipe, { target }) => {
    const messages = recipeMessages(recipe, target);
    if (!messages.ok) return messages;
    return ok(messages.value.map(({ message }) => `${messageLine(message)}\n`).join(''));
  },
};
