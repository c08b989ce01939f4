import { type AddressPlace, fillAddress } from '../../../model/address-template.js';
import { askingTemplate, type OscAddressed, type OscAddresses, type Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { type Breach, brokenBy, type Rule, repeated, rule } from '../rule.js';

const holds = (template: string, placeholder: 'output' | 'slot'): boolean =>
  new RegExp(`\\{${placeholder}(:0\\d)?\\}`).test(template);

const templateFault = (key: string, template: string, target: Target): string | null => {
  if (target.outputs.count > 1 && !holds(template, 'output')) {
    return 'holds no {output}, so every output would be reached alike; put {output} where its number goes';
  }
  if (/\}[A-Za-z0-9]*\{/.test(template)) {
    return 'runs {output} and {slot} together, so that output 1, slot 11 and output 11, slot 1 may share an address; write a "/" between them';
  }
  if (key === 'outputName') {
    return holds(template, 'slot') ? 'holds {slot}, but an output has one name; take {slot} out' : null;
  }
  return target.slots.length > 1 && !holds(template, 'slot')
    ? 'holds no {slot}, so every slot would be reached alike; put {slot} where it goes'
    : null;
};

/** An address tells outputs and slots apart where there is more than one. */
const oscPlaceholders: Rule<Target> = rule('osc-placeholders', (target) => {
  const { addresses = {}, read = 'none' } = target.osc ?? {};
  const breachesIn = (templates: OscAddresses, path: string): readonly Breach[] =>
    brokenBy(Object.entries(templates), ([key, template]) => {
      const fault = templateFault(key, template, target);
      return fault === null ? null : [`${path}.${key}`, `${quote(template)} ${fault}.`];
    });
  const asked = typeof read !== 'string' && read.by === 'address' ? read.addresses : {};
  return [...breachesIn(addresses, 'osc.addresses'), ...breachesIn(asked ?? {}, 'osc.read.addresses')];
});

/** A template, and the place in the target that says so. */
interface Templated {
  readonly name: OscAddressed;
  readonly template: string;
  readonly path: string;
}

const writtenAt = ({ osc }: Target): readonly Templated[] =>
  (Object.entries(osc?.addresses ?? {}) as [OscAddressed, string][]).map(([name, template]) => ({
    name,
    template,
    path: `osc.addresses.${name}`,
  }));

/** Every address template of a target that is asked at an address of its own; none for all others. */
export const askedAt = (target: Target): readonly Templated[] => {
  const read = target.osc?.read;
  if (read === undefined || typeof read === 'string' || read.by !== 'address') return [];
  return writtenAt(target).flatMap(({ name, template: written }) => {
    const template = askingTemplate(read, name, written);
    const path = read.addresses?.[name] === undefined ? 'osc.read.address' : `osc.read.addresses.${name}`;
    return template === null ? [] : [{ name, template, path }];
  });
};

// Padding changes how a number looks, not which one it is.
const bareOf = (template: string): string => template.replace(/:0\d\}/g, '}');

/** No two things are sent to one address, and none is asked for where another one is. */
const oscAddressesDiffer: Rule<Target> = rule('osc-addresses-differ', (target) => {
  const written = writtenAt(target);
  const shared = repeated(written.map(({ template }) => bareOf(template)));
  const sent = shared.map(({ index, firstIndex }): Breach => {
    const { path = '', template } = written[index] ?? {};
    const message = `${quote(template)} is the address of ${written[firstIndex]?.name} already; give each an address of its own.`;
    return [path, message];
  });
  const asked = askedAt(target);
  const confused = brokenBy(asked, ({ name, template, path }, index) => {
    const isHere = (other: string): boolean => bareOf(other) === bareOf(template);
    const other = [...written.filter((each) => each.name !== name), ...asked.slice(0, index)].find((each) =>
      isHere(each.template),
    )?.name;
    const message = `${quote(template)} would ask for ${name} at an address of ${other}; ask for each at an address of its own.`;
    return other === undefined ? null : [path, message];
  });
  return [...sent, ...confused];
});

/** What stands between the slashes. No number and no slot's id has a slash of its own. */
const partsOf = (template: string): readonly string[] => template.split('/');

/** Whether two templates may come to one address: they do not where plain parts differ, or there are more of them. */
const mayMeet = (one: string, other: string): boolean => {
  const [a, b] = [partsOf(one), partsOf(other)];
  return (
    a.length === b.length &&
    a.every((part, at) => part === b[at] || part.includes('{') || b[at]?.includes('{') === true)
  );
};

/**
 * Whether a template may come to one address for two things: only where a slot's id is padded. An output is digits, and
 * something that is none parts it from a slot in the same part, or the template has been told of already.
 */
const mayMeetItself = (template: string): boolean => /\{slot:0/.test(template);

const outputsOf = ({ outputs }: Target): readonly number[] =>
  Array.from({ length: outputs.count }, (_, index) => index + 1);

const placesFor = (
  name: OscAddressed,
  outputs: readonly number[],
  { slots }: Target,
): readonly AddressPlace[] =>
  outputs.flatMap((output) =>
    name === 'outputName' ? [{ output }] : slots.map(({ id }) => ({ output, slot: id })),
  );

const thing = (name: OscAddressed, { output, slot }: AddressPlace): string =>
  name === 'outputName' ? `the name of output ${output}` : `${name} of output ${output}, slot ${slot}`;

/** Every template can be filled for every slot; outputs are numbers, which always fit. */
const oscAddressesFit: Rule<Target> = rule('osc-addresses-fit', (target) => {
  // What lacks a place, or names one too many, is told there.
  if (oscPlaceholders.check(target).length > 0) return [];
  return brokenBy([...writtenAt(target), ...askedAt(target)], ({ name, template, path }) => {
    const filled = placesFor(name, [1], target).map((place) => fillAddress(template, place));
    const fault = filled.find((each) => !each.ok);
    return fault?.ok === false ? [path, fault.error] : null;
  });
});

/**
 * Once every address of every output and slot is written out, each is the address of one thing. Templates that differ may
 * still meet: `/f/1{output}` of output 3 is `/f/{output}` of output 13. Only those that may meet are written out; what is
 * wrong with one is told once.
 */
const oscAddressesApart: Rule<Target> = rule('osc-addresses-apart', (target) => {
  // Those say more of a template than two of its addresses do.
  const others = [oscPlaceholders, oscAddressesDiffer, oscAddressesFit];
  if (others.some((each) => each.check(target).length > 0)) return [];
  const all = [...writtenAt(target), ...askedAt(target)];
  const inQuestion = all.filter(
    (one) =>
      mayMeetItself(one.template) ||
      all.some((other) => other !== one && mayMeet(one.template, other.template)),
  );
  const outputs = outputsOf(target);
  const [ofSlots, ofOutputs] = [placesFor('on', outputs, target), placesFor('outputName', outputs, target)];
  const placesOf = (name: OscAddressed) => (name === 'outputName' ? ofOutputs : ofSlots);
  // There may be many: what stands at an address is a number, its template's place in the list and its own.
  const taken = new Map<string, number>();
  const stride = ofSlots.length + ofOutputs.length;
  const thingOf = (number: number): string => {
    const name = inQuestion[Math.floor(number / stride)]?.name ?? 'outputName';
    const place = placesOf(name)[number % stride];
    return place ? thing(name, place) : '';
  };
  return brokenBy(inQuestion, ({ name, template, path }, index) => {
    for (const [at, place] of placesOf(name).entries()) {
      const address = fillAddress(template, place);
      if (!address.ok) continue;
      const before = taken.get(address.value);
      if (before === undefined) taken.set(address.value, index * stride + at);
      else if (thingOf(before) !== thing(name, place)) {
        const message = `${quote(template)} comes to ${quote(address.value)} for ${thing(name, place)}, which is the address of ${thingOf(before)} already: one would be set or asked for as the other. Give each a template that no other can come to.`;
        return [path, message];
      }
    }
    return null;
  });
});

/** What holds for the addresses at which OSC reaches a desk. */
export const oscAddressRules: readonly Rule<Target>[] = [
  oscPlaceholders,
  oscAddressesDiffer,
  oscAddressesFit,
  oscAddressesApart,
];
