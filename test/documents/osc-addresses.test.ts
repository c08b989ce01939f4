import fc from 'fast-check';
import { expect, it } from 'vitest';
import { oscAddressRules } from '../../src/documents/rules/target/osc-addresses.js';
import type { Target } from '../../src/model/target.js';
import { samples } from './samples.js';

const sample = samples.target as unknown as Target;

const literal = fc.constantFrom('f', 'g', '1', '2');
const output = fc.constantFrom('{output}', '{output:02}', '1{output}', '{output}1');
const slot = fc.constantFrom('{slot}', 'f{slot}', '{slot}1');

const inAnyOrder = (parts: readonly fc.Arbitrary<string>[]): fc.Arbitrary<string> =>
  fc
    .tuple(...parts)
    .chain((all) => fc.shuffledSubarray(all, { minLength: all.length }))
    .map((all) => `/${all.join('/')}`);

const template = fc.oneof(
  { weight: 4, arbitrary: inAnyOrder([output, slot, literal]) },
  { weight: 2, arbitrary: inAnyOrder([output, slot]) },
  { weight: 1, arbitrary: inAnyOrder([literal, fc.constantFrom('{slot}.{output}', '{output}-{slot}')]) },
);
const nameTemplate = fc.oneof(inAnyOrder([output, literal]), inAnyOrder([output, literal, literal]));

const targets = fc
  .record({
    count: fc.integer({ min: 2, max: 14 }),
    slots: fc.uniqueArray(fc.constantFrom('1', '2', '11', '12', 'f'), { minLength: 1, maxLength: 4 }),
    addresses: fc.record({ type: template, frequency: template, outputName: nameTemplate }),
    asked: fc.option(template),
  })
  .map(({ count, slots, addresses, asked }) => {
    if (!sample.osc) throw new Error('the sample is reached by OSC');
    const read =
      asked === null
        ? ('none' as const)
        : ({
            by: 'address',
            address: '/ask{address}',
            addresses: { frequency: asked },
            answeredAt: 'asked-address',
          } as const);
    return {
      ...sample,
      outputs: { count, stereo: 'legs-separate' },
      slots: slots.map((id) => ({ id, types: sample.slots[0]?.types ?? {} })),
      osc: { ...sample.osc, addresses, read },
    } as Target;
  });

/** Every address written out, by replacing text, and what is there. */
const writtenOut = ({
  outputs,
  slots,
  osc,
}: Target): readonly (readonly [address: string, thing: string])[] => {
  const read = osc?.read;
  const asks = typeof read === 'object' && read.by === 'address' ? (read.addresses ?? {}) : {};
  const templates = Object.entries(osc?.addresses ?? {}) as [keyof typeof asks, string][];
  const all = templates.flatMap(([name, template]) => [
    [name, template] as const,
    ...(typeof read === 'object' ? [[name, asks[name] ?? `/ask${template}`] as const] : []),
  ]);
  return all.flatMap(([name, template]) =>
    Array.from({ length: outputs.count }, (_, index) => index + 1).flatMap((output) =>
      (name === 'outputName' ? [''] : slots.map(({ id }) => id)).map((slot) => {
        const address = template
          .split('{output}')
          .join(`${output}`)
          .split('{output:02}')
          .join(output < 10 ? `0${output}` : `${output}`)
          .split('{slot}')
          .join(slot);
        return [address, `${name} ${output} ${slot}`] as const;
      }),
    ),
  );
};

const meet = (target: Target): boolean => {
  const things = new Map<string, string>();
  return writtenOut(target).some(([address, thing]) => {
    const other = things.get(address) ?? thing;
    things.set(address, thing);
    return other !== thing;
  });
};

it('a target is good only if no address of it, written out, is of two things', () => {
  let [good, bad] = [0, 0];
  fc.assert(
    fc.property(targets, (target) => {
      const told = oscAddressRules.flatMap((rule) => rule.check(target).map(({ code }) => code));
      if (told.length === 0) good++;
      if (told.includes('osc-addresses-apart')) bad++;
      if (meet(target)) expect(told).not.toEqual([]);
      else expect(told).not.toContain('osc-addresses-apart');
    }),
    { numRuns: 3000 },
  );
  // Templates at random are mostly told of by simpler rules.
  expect(good).toBeGreaterThan(50);
  expect(bad).toBeGreaterThan(50);
});

it('a target as large as any may be is good', () => {
  const osc = sample.osc as NonNullable<Target['osc']>;
  const slots = Array.from({ length: 128 }, (_, at) => ({
    id: `${at + 1}`,
    types: sample.slots[0]?.types ?? {},
  }));
  const target: Target = { ...sample, outputs: { count: 1024, stereo: 'legs-separate' }, slots, osc };
  expect(oscAddressRules.flatMap((rule) => rule.check(target))).toEqual([]);
});
