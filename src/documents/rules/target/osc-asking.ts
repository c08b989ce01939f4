import type { OscAddressed, Target } from '../../../model/target.js';
import { typeWords } from '../../../model/words.js';
import { quote } from '../../../units/quote.js';
import { listed } from '../../../units/suggest.js';
import { type Breach, type Rule, rule } from '../rule.js';
import { encodingsOf } from './osc.js';
import { askedAt } from './osc-addresses.js';
import { offeredTypes } from './slots.js';

/** Where values are asked for by address, each of them has one, and nothing else has. */
const oscAskingComplete: Rule<Target> = rule('osc-asking-complete', (target) => {
  const { osc } = target;
  if (osc === undefined || typeof osc.read === 'string' || osc.read.by !== 'address') return [];
  const addressed = Object.keys(osc.addresses) as OscAddressed[];
  const asked = askedAt(target).map(({ name }) => name);
  const lacking = addressed.filter((name) => !asked.includes(name));
  const lacks = `There is no address to ask for ${listed(lacking)} at; give each one under osc.read.addresses, or one for all as in "/ask{address}" under osc.read.address.`;
  const strays = Object.keys(osc.read.addresses ?? {})
    .filter((name) => !addressed.includes(name as OscAddressed))
    .map((name): Breach => {
      const message = `${name} is asked for here and has no address under osc.addresses; give it that, or take this out.`;
      return [`osc.read.addresses.${name}`, message];
    });
  return lacking.length > 0 ? [['osc.read', lacks], ...strays] : strays;
});

/** What a text that travels may say, besides numbers. */
const wordsOf = (name: OscAddressed, target: Target): readonly string[] => {
  if (name === 'on') return ['on', 'off'];
  if (name !== 'type') return [];
  return offeredTypes(target).map(({ type }) => target.display.typeLabels?.[type] ?? typeWords[type]);
};

/** What a desk that is asked by a text may take for a value: a parameter that travels as text and may say the same. */
const mistakenFor = (text: string, target: Target): string | undefined => {
  const isNumber = /^[+-]?\.?\d/.test(text);
  const isWord = (name: OscAddressed): boolean =>
    wordsOf(name, target).some((word) => word.toLowerCase() === text.toLowerCase());
  return encodingsOf(target).find(([name, { type }]) => type === 's' && (isNumber || isWord(name)))?.[0];
};

/** A desk that is asked by an argument cannot take it for a value: asking must never set anything. */
const oscAskingArgument: Rule<Target> = rule('osc-asking-argument', (target) => {
  const read = target.osc?.read;
  if (read === undefined || typeof read === 'string' || read.by !== 'argument') return [];
  const { type, text } = read.argument;
  const at = (message: string): readonly Breach[] => [['osc.read.argument.text', message]];
  if (type !== 's') {
    return text === undefined ? [] : at(`OSC type ${quote(type)} carries no text; take it out.`);
  }
  if (text === undefined) return at('OSC type "s" carries a text, and none is given; give it, as in "?".');
  const mistaken = mistakenFor(text, target);
  const message = `${quote(text)} could be a value of ${mistaken}, which travels as text: asking would set it. Ask by a text that no filter can be set to, as in "?".`;
  return mistaken === undefined ? [] : at(message);
});

/** What holds for how OSC asks a desk. */
export const oscAskingRules: readonly Rule<Target>[] = [oscAskingComplete, oscAskingArgument];
