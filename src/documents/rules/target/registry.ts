import type { Target } from '../../../model/target.js';
import type { Rule } from '../rule.js';
import { bandwidthMeaning } from './bandwidth-meaning.js';
import { gridsExist } from './grids-exist.js';
import { knobsFitType } from './knobs-fit-type.js';
import { oscAddressesDiffer } from './osc-addresses-differ.js';
import { oscAskingArgument } from './osc-asking-argument.js';
import { oscAskingComplete } from './osc-asking-complete.js';
import { oscEncodings } from './osc-encodings.js';
import { oscPairs } from './osc-pairs.js';
import { oscPlaceholders } from './osc-placeholders.js';
import { oscReachesKnobs } from './osc-reaches-knobs.js';
import { oscTypeOrder } from './osc-type-order.js';
import { outputPairs } from './output-pairs.js';
import { realisationsDiffer } from './realisations-differ.js';
import { sampleRate } from './sample-rate.js';
import { slotFamily } from './slot-family.js';
import { typeLabelsDiffer } from './type-labels-differ.js';
import { uniqueRealisationIds, uniqueSlotIds } from './unique-ids.js';
import { unusedQuantisers } from './unused-quantisers.js';

/** What holds for targets, before their grids are made. */
export const targetRules: readonly Rule<Target>[] = [
  outputPairs,
  uniqueSlotIds,
  gridsExist,
  knobsFitType,
  slotFamily,
  uniqueRealisationIds,
  sampleRate,
  bandwidthMeaning,
  oscPairs,
  oscReachesKnobs,
  oscEncodings,
  oscTypeOrder,
  oscPlaceholders,
  oscAddressesDiffer,
  oscAskingComplete,
  oscAskingArgument,
];

/** What a target works without, but is better with. */
export const targetNotices: readonly Rule<Target>[] = [
  unusedQuantisers,
  typeLabelsDiffer,
  realisationsDiffer,
];
