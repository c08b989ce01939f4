import { filterOf } from '../filter-of.js';
import { type AskedCurve, responseDb } from './asked-curve.js';
import { type BandSpace, type Setting, stepsOf } from './band-space.js';

/** What one band does at all points of all realisations, one after another, in dB. Those of a chain add up. */
export type Response = Float64Array;

/** The responses of a band by setting, each worked out once. */
export type Responses = (setting: Setting) => Response;

/** The arrays of all realisations as one. */
export const joined = (parts: readonly Float64Array[]): Float64Array => {
  const all = new Float64Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
};

export const responsesOf = (space: BandSpace, curves: readonly AskedCurve[]): Responses => {
  const known = new Map<string, Response>();
  return (setting) => {
    const key = setting.join();
    const found = known.get(key);
    if (found) return found;
    const filter = filterOf(space.slotType, stepsOf(space, setting));
    const made = joined(
      curves.map(({ realisation, frequenciesHz }) => responseDb([filter], realisation, frequenciesHz)),
    );
    known.set(key, made);
    return made;
  };
};
