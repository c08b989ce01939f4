import type { Rig } from '../../../model/rig.js';
import { intentsRules } from '../intents/registry.js';
import type { Rule } from '../rule.js';
import { audioBand } from './audio-band.js';
import { encoderLowpass } from './encoder-lowpass.js';
import { feedsASystem } from './feeds-a-system.js';
import { keepBand } from './keep-band.js';
import { leaveOutOrAsk } from './leave-out-or-ask.js';
import { linkLimits } from './link-limits.js';
import { oneLossLimit } from './one-loss-limit.js';
import { outputsOfOneMix } from './outputs-of-one-mix.js';
import { pilotAboveAudio } from './pilot-above-audio.js';
import { preEmphasisInMicroseconds } from './pre-emphasis-in-microseconds.js';
import { uniqueMixNames } from './unique-mix-names.js';

/** What holds for rigs. A system that no mix feeds is no mistake. */
export const rigRules: readonly Rule<Rig>[] = [
  uniqueMixNames,
  feedsASystem,
  outputsOfOneMix,
  audioBand,
  linkLimits,
  pilotAboveAudio,
  encoderLowpass,
  preEmphasisInMicroseconds,
  ...intentsRules,
  leaveOutOrAsk,
  keepBand,
  oneLossLimit,
];
