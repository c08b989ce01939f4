import { quoteText } from '../../../units/quote.js';
import { fail, ok, type Result } from '../../../units/result.js';

/** What a number or a name in an example address may be of. */
export interface DeskPlaces {
  readonly outputs: number;
  readonly slots: readonly string[];
}

/** An address template, and what it says of the example it was made from. */
export interface AddressReading {
  readonly template: string;
  readonly output: string | null;
  readonly slot: string | null;
}

/** A stretch of an address that may be a number of an output or the id of a slot. */
interface Place {
  readonly at: number;
  readonly text: string;
}

const placesIn = (address: string, { slots }: DeskPlaces): readonly Place[] => {
  const found: Place[] = [];
  for (const { index, 0: part } of address.matchAll(/[^/]+/g)) {
    if (slots.includes(part)) found.push({ at: index, text: part });
    else
      for (const digits of part.matchAll(/\d+/g)) found.push({ at: index + digits.index, text: digits[0] });
  }
  return found;
};

const padded = (name: string, text: string): string =>
  /^0\d/.test(text) ? `{${name}:0${text.length}}` : `{${name}}`;

const mayBeOutput = ({ text }: Place, { outputs }: DeskPlaces): boolean =>
  /^\d+$/.test(text) && Number(text) >= 1 && Number(text) <= outputs;

const mayBeSlot = ({ text }: Place, { slots }: DeskPlaces): boolean =>
  slots.includes(text) || slots.includes(text.replace(/^0+(?=.)/, ''));

const withPlaces = (address: string, output: Place | null, slot: Place | null): AddressReading => {
  const cuts = [
    ...(output ? [{ ...output, put: padded('output', output.text) }] : []),
    ...(slot ? [{ ...slot, put: padded('slot', slot.text) }] : []),
  ].sort((a, b) => b.at - a.at);
  const template = cuts.reduce(
    (text, { at, text: old, put }) => text.slice(0, at) + put + text.slice(at + old.length),
    address,
  );
  return { template, output: output?.text ?? null, slot: slot?.text ?? null };
};

/**
 * Every way to read an example address of one output (and of one slot of it, where it is of a slot), the likeliest first:
 * the output before the slot. A template in its place is taken as it is.
 */
export const readingsOf = (
  address: string,
  desk: DeskPlaces,
  isOfSlot: boolean,
): Result<readonly AddressReading[], string> => {
  if (!address.startsWith('/') || /\s/.test(address)) {
    return fail(`${quoteText(address)} is no OSC address; one begins with "/" and has no blanks.`);
  }
  if (/\{(output|slot)(:0\d)?\}/.test(address)) return ok([{ template: address, output: null, slot: null }]);
  const places = placesIn(address, desk);
  const needsOutput = desk.outputs > 1;
  const needsSlot = isOfSlot && desk.slots.length > 1;
  const outputs = needsOutput ? places.filter((place) => mayBeOutput(place, desk)) : [null];
  const slots = needsSlot ? places.filter((place) => mayBeSlot(place, desk)) : [null];
  const pairs = outputs.flatMap((output) =>
    slots.filter((slot) => slot === null || slot !== output).map((slot) => ({ output, slot })),
  );
  // Desks name the whole before its part.
  const likely = (each: (typeof pairs)[number]): number =>
    each.output && each.slot && each.slot.at < each.output.at ? 1 : 0;
  const readings = pairs
    .sort((a, b) => likely(a) - likely(b))
    .map(({ output, slot }) => withPlaces(address, output, slot));
  if (readings.length > 0) return ok(readings);
  const lacking = [
    ...(outputs.length === 0 ? [`the number of an output, 1 to ${desk.outputs}`] : []),
    ...(slots.length === 0 ? [`the name of a slot, ${desk.slots.join(' ')}`] : []),
    ...(outputs.length > 0 && slots.length > 0 ? ['two numbers, one of an output and one of a slot'] : []),
  ].join(' and ');
  return fail(
    `${quoteText(address)} holds nothing that could be ${lacking}; paste the address of one output${isOfSlot ? ' and slot' : ''}, or write {output}${isOfSlot ? ' and {slot}' : ''} in their places.`,
  );
};

/** Of several readings those that read like another address: with its placeholders between the same words. */
export const likeOther = (readings: readonly AddressReading[], other: string): readonly AddressReading[] => {
  const shape = (template: string): string => template.slice(0, template.lastIndexOf('/'));
  const alike = readings.filter(({ template }) => shape(template) === shape(other));
  return alike.length > 0 ? alike : readings;
};

const wordsFor: readonly Readonly<Record<string, string>>[] = [
  {
    frequency: 'frequency',
    q: 'q',
    bandwidth: 'bandwidth',
    gain: 'gain',
    slope: 'slope',
    on: 'on',
    type: 'type',
  },
  { frequency: 'freq', q: 'q', bandwidth: 'bandwidth', gain: 'gain', slope: 'slope', on: 'on', type: 'type' },
];

/** What an address is likely to be where the one of the frequency ends in that word; null where it does not. */
export const guessedAddress = (frequency: string | null | undefined, of: string): string | null => {
  if (frequency == null) return null;
  const words = wordsFor.find(({ frequency: last }) => frequency.endsWith(`/${last}`));
  const word = words?.[of];
  return word === undefined ? null : frequency.replace(/[^/]+$/, word);
};
