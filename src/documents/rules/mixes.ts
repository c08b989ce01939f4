import { quote } from '../../units/quote.js';
import { type Breach, type Rule, repeated, rule } from './rule.js';

interface Named {
  readonly name: string;
}

/** What rigs, recipes and journals have in common. */
interface MixesHolder {
  readonly mixes: readonly (Named & { readonly outputs: readonly number[] })[];
}

const sameNames = (list: string, named: readonly Named[]): readonly Breach[] =>
  repeated(named.map(({ name }) => name)).map(({ name, index, firstIndex }) => [
    `${list}[${index}].name`,
    `${list}[${firstIndex}] is called ${quote(name)} already; give each mix a name of its own.`,
  ]);

/** Mixes are told apart by their names; in a journal also as they were left. */
export const uniqueMixNames: Rule<
  MixesHolder & { readonly outcome?: { readonly mixes: readonly Named[] } | null }
> = rule('unique-mix-names', ({ mixes, outcome }) => [
  ...sameNames('mixes', mixes),
  ...sameNames('outcome.mixes', outcome?.mixes ?? []),
]);

/** No desk output belongs to two mixes; the filters of one would overwrite the other's. */
export const outputsOfOneMix: Rule<MixesHolder> = rule('outputs-of-one-mix', ({ mixes }) => {
  const users = new Map<number, string>();
  return mixes.flatMap(({ name, outputs }, index) =>
    outputs.flatMap((output, place): readonly Breach[] => {
      const user = users.get(output);
      users.set(output, user ?? `mixes[${index}] ${quote(name)}`);
      const message = `Output ${output} is taken by ${user} already; each output belongs to one mix. Correct one of them.`;
      return user === undefined ? [] : [[`mixes[${index}].outputs[${place}]`, message]];
    }),
  );
});
