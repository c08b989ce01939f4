import { buildChain } from '../../filters/build.js';
import { magnitudeDb } from '../../filters/response.js';
import { type DeskSlotType, filterOf } from '../../model/desk.js';
import { knobNames } from '../../model/knob.js';
import { itemAt } from '../../units/at.js';
import { step } from '../../units/quantity.js';
import type { AskedCurve } from './asked-curve.js';
import type { Setting } from './filter-space.js';

/** What one filter does at all points of all realisations, one after another, in dB. Those of a chain add up. */
export type Response = Float64Array;

/** The response of a filter by setting. */
export type Responses = (setting: Setting) => Response;

/** So many responses are kept, some 80 MB of them for five realisations; beyond, all are forgotten. */
export const mostKept = 8192;

/** The responses of slots by what they can make and setting, worked out once as long as they are kept. */
export const responsesOn = (curves: readonly AskedCurve[]): ((slotType: DeskSlotType) => Responses) => {
  const bySlotType = new Map<DeskSlotType, Map<string, Response>>();
  const length = curves.reduce((sum, { frequenciesHz }) => sum + frequenciesHz.length, 0);
  let kept = 0;
  const made = (slotType: DeskSlotType, setting: Setting): Response => {
    const knobs = knobNames.filter((knob) => slotType.grids[knob]);
    const steps = Object.fromEntries(knobs.map((knob, i) => [knob, step(itemAt(setting, i))]));
    const filter = filterOf(slotType, steps);
    const response = new Float64Array(length);
    let at = 0;
    for (const { realisation, frequenciesHz } of curves) {
      const out = response.subarray(at, at + frequenciesHz.length);
      magnitudeDb(buildChain([filter], realisation), frequenciesHz, out);
      at += out.length;
    }
    return response;
  };
  return (slotType) => {
    const known = bySlotType.get(slotType) ?? new Map<string, Response>();
    bySlotType.set(slotType, known);
    return (setting) => {
      const key = setting.join();
      const found = known.get(key);
      if (found) return found;
      if (kept >= mostKept) {
        for (const each of bySlotType.values()) each.clear();
        kept = 0;
      }
      const response = made(slotType, setting);
      known.set(key, response);
      kept++;
      return response;
    };
  };
};
