import { pairNamed } from '../../../model/pairs.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { type Breach, brokenBy, type Rule, repeated, rule } from '../rule.js';
import { oscRules } from './osc.js';
import { oscAddressRules } from './osc-addresses.js';
import { oscAskingRules } from './osc-asking.js';
import { slotRules, unusedQuantisers } from './slots.js';

/** Pairs are told of a desk whose pairs share their filters; listed ones are of its outputs, each of one pair. */
const outputPairs: Rule<Target> = rule('output-pairs', ({ outputs: { count, stereo, pairs } }) => {
  if (pairs === undefined) return [];
  if (stereo === 'legs-separate') {
    const message = `Where each output is dialled by itself ("legs-separate") any two may be a pair; take pairs out, or write "legs-share".`;
    return [['outputs.pairs', message]];
  }
  const firstPaths = new Map<number, string>();
  return brokenBy(typeof pairs === 'string' ? [] : pairs, (name, index): Breach | null => {
    const pair = pairNamed(name);
    const [left, right] = pair;
    const path = `outputs.pairs[${index}]`;
    if (left === right) return [path, `${quote(name)} is one output; a pair is two, as in "1/2".`];
    const beyond = pair.find((output) => output > count);
    if (beyond !== undefined) {
      return [path, `Output ${beyond} is beyond the ${count} there are; correct it, or outputs.count.`];
    }
    const taken = pair.find((output) => firstPaths.has(output));
    if (taken !== undefined) {
      const first = firstPaths.get(taken);
      return [path, `Output ${taken} is of ${first} already; it shares its filters with one other only.`];
    }
    for (const output of pair) firstPaths.set(output, path);
    return null;
  });
});

const uniqueIds = (name: string, list: 'slots' | 'realisations'): Rule<Target> =>
  rule(name, (target) =>
    repeated(target[list].map(({ id }) => id)).map(({ name: id, index, firstIndex }) => [
      `${list}[${index}].id`,
      `The id ${quote(id)} is that of ${list}[${firstIndex}] already; give each an id of its own.`,
    ]),
  );

/** A digital design runs at a sample rate; the analogue prototype at none. */
const sampleRate: Rule<Target> = rule('sample-rate', ({ realisations }) =>
  brokenBy(realisations, ({ id, design, sampleRateHz }, index) => {
    if ((design === 'analogue') === (sampleRateHz === null)) return null;
    const message =
      sampleRateHz === null
        ? `Realisation ${quote(id)} is of the ${design} design, which runs at a sample rate; give it in Hz, as in 48000.`
        : `Realisation ${quote(id)} is the analogue prototype, which has no sample rate; write null.`;
    return [`realisations[${index}].sampleRateHz`, message];
  }),
);

/** Only the cookbook reads a width in octaves in two ways. */
const bandwidthMeaning: Rule<Target> = rule('bandwidth-meaning', ({ realisations }) =>
  brokenBy(realisations, ({ design, bandwidthMeaning: meaning }, index) => {
    const message = `The design ${design} reads a width in octaves by the plain relation of bandwidth and Q; bandwidthMeaning is for the design cookbook. Leave it out.`;
    return meaning === undefined || design === 'cookbook'
      ? null
      : [`realisations[${index}].bandwidthMeaning`, message];
  }),
);

/** What holds for targets, before their grids are made. */
export const targetRules: readonly Rule<Target>[] = [
  outputPairs,
  uniqueIds('unique-slot-ids', 'slots'),
  ...slotRules,
  uniqueIds('unique-realisation-ids', 'realisations'),
  sampleRate,
  bandwidthMeaning,
  ...oscRules,
  ...oscAddressRules,
  ...oscAskingRules,
];

/** No two filter types are shown alike; who dials could not tell them apart. */
const typeLabelsDiffer: Rule<Target> = rule('type-labels-differ', ({ display }) => {
  const labels = Object.entries(display.typeLabels ?? {});
  return repeated(labels.map(([, label]) => label)).map(({ name, index, firstIndex }) => [
    `display.typeLabels.${labels[index]?.[0]}`,
    `${quote(name)} is the label of ${labels[firstIndex]?.[0]} already; who dials cannot tell them apart.`,
  ]);
});

/** No two realisations are the same but for their ids; the second would only cost time. */
const realisationsDiffer: Rule<Target> = rule('realisations-differ', ({ realisations }) =>
  repeated(
    realisations.map(
      ({ design, qMeaning, bandwidthMeaning: meaning = 'digital', sampleRateHz }) =>
        `${design} ${qMeaning} ${meaning} ${sampleRateHz}`,
    ),
  ).map(({ index, firstIndex }) => [
    `realisations[${index}]`,
    `This is the same as ${quote(realisations[firstIndex]?.id)}; one of the two can go.`,
  ]),
);

/** A desk whose response was not measured may build its filters otherwise than the only way its target lists. */
const onlyRealisation: Rule<Target> = rule('one-realisation', ({ realisations, evidence }) => {
  const [only, ...others] = realisations;
  if (only === undefined || others.length > 0 || evidence.response === 'tested') return [];
  const message = `Every recipe is judged by ${quote(only.id)} alone, and evidence.response is ${quote(evidence.response)}: where the desk builds its filters otherwise, the pilot may be guarded less than is told. List the other ways it may build them, or measure the response and say "tested".`;
  return [['realisations', message]];
});

/** What a target works without, but is better with. */
export const targetNotices: readonly Rule<Target>[] = [
  unusedQuantisers,
  typeLabelsDiffer,
  realisationsDiffer,
  onlyRealisation,
];
