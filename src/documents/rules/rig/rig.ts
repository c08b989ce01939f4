import type { Rig } from '../../../model/rig.js';
import { quote } from '../../../units/quote.js';
import { didYouMean, listed } from '../../../units/suggest.js';
import { intentsRules } from '../intents.js';
import { outputsOfOneMix, uniqueMixNames } from '../mixes.js';
import { brokenBy, type Rule, rule } from '../rule.js';
import { systemRules } from './systems.js';

/** Each mix feeds one of the rig's systems. */
const feedsASystem: Rule<Rig> = rule('feeds-a-system', ({ systems, mixes }) => {
  const ids = Object.keys(systems);
  return brokenBy(mixes, ({ feeds }, index) => {
    if (ids.includes(feeds)) return null;
    const hint = didYouMean(feeds, ids) || '.';
    const message = `No system is called ${quote(feeds)}${hint} There are: ${listed(ids)}.`;
    return [`mixes[${index}].feeds`, message];
  });
});

/** A filter is left out or asked for, not both. */
const leaveOutOrAsk: Rule<Rig> = rule('leave-out-or-ask', ({ leaveOut = [], intents = [] }) =>
  brokenBy(leaveOut, (role, index) => {
    const asked = intents.findIndex((intent) => intent.role === role);
    if (asked === -1) return null;
    const message = `${quote(role)} is left out here, and asked for by intents[${asked}]; take one of the two out.`;
    return [`leaveOut[${index}]`, message];
  }),
);

/** The band of music kept where a rig does not say. Common practice, no source. */
export const usualKeepBandHz = { low: 80, high: 12000 } as const;

/** The band of music to keep begins below where it ends. */
const keepBand: Rule<Rig> = rule('keep-band', ({ guard: { keepLowHz, keepHighHz } = {} }) => {
  const { low, high } = { low: keepLowHz ?? usualKeepBandHz.low, high: keepHighHz ?? usualKeepBandHz.high };
  if (low < high) return [];
  const isUnsaid = keepLowHz === undefined || keepHighHz === undefined;
  const usual = `, which are ${usualKeepBandHz.low} and ${usualKeepBandHz.high} where not given`;
  const message = `The band to keep goes from ${low} Hz to ${high} Hz; keepLowHz must be below keepHighHz${isUnsaid ? usual : ''}.`;
  return [[`guard.${keepLowHz === undefined ? 'keepHighHz' : 'keepLowHz'}`, message]];
});

/** A limit on loss is hard, or gives way up to another to reach the attenuation asked; not both. */
const oneLossLimit: Rule<Rig> = rule('one-loss-limit', ({ guard = {} }) => {
  const { keepLossAtMostDb, keepLossToReachDb } = guard;
  if (keepLossAtMostDb === undefined || keepLossToReachDb === undefined) return [];
  const message = `keepLossAtMostDb, ${keepLossAtMostDb} dB, is a hard limit; beside it nothing more may be lost to reach the attenuation asked. Take one of the two out.`;
  return [['guard.keepLossToReachDb', message]];
});

/** What holds for rigs. A system that no mix feeds is no mistake. */
export const rigRules: readonly Rule<Rig>[] = [
  uniqueMixNames,
  feedsASystem,
  outputsOfOneMix,
  ...systemRules,
  ...intentsRules,
  leaveOutOrAsk,
  keepBand,
  oneLossLimit,
];
