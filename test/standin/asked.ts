import type { OscAddresses, Target } from '../../src/model/target.js';
import type { OscArgument, OscMessage } from '../../src/osc/message.js';

/** A question, and where its answer comes. */
export interface Asked {
  readonly message: OscMessage;
  readonly answerAddress: string;
}

/** The output and slot that an address is of, and the template it was made from; padding aside. */
const placeOf = (address: string, addresses: OscAddresses) => {
  for (const [name, template] of Object.entries(addresses)) {
    const pattern = template.replace(/\{(\w+)\}/g, (_, key: string) => `(?<${key}>[^/]+)`);
    const found = new RegExp(`^${pattern}$`).exec(address);
    if (found) return { name, ...found.groups } as Readonly<Record<string, string>>;
  }
  throw new Error(`nothing stands at ${address}`);
};

/**
 * How a value of a target is asked for, read from the target as its schema describes it, and apart from the program's
 * own ways of asking: tests hold those against this.
 */
export const askedOf = ({ osc }: Target, address: string): Asked => {
  if (!osc || osc.read === 'none') throw new Error('it cannot be asked');
  if (osc.read === 'same-address-without-arguments')
    return { message: { address, args: [] }, answerAddress: address };
  if (osc.read.by === 'argument') {
    const { type, text } = osc.read.argument;
    const argument = (type === 's' ? { type, value: text } : { type }) as OscArgument;
    return { message: { address, args: [argument] }, answerAddress: address };
  }
  const place = placeOf(address, osc.addresses);
  const template = osc.read.addresses?.[place.name as keyof OscAddresses] ?? osc.read.address ?? '';
  const asked = template
    .split('{address}')
    .join(address)
    .replace(/\{(\w+)\}/g, (_, key: string) => place[key] ?? '');
  return {
    message: { address: asked, args: [] },
    answerAddress: osc.read.answeredAt === 'asked-address' ? asked : address,
  };
};
