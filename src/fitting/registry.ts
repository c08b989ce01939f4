import type { Fit, FittedDocument } from './fit.js';
import { type FitName, fitNames } from './fit.js';
import { match } from './match/match.js';
import { nearest } from './nearest/nearest.js';
import { protect } from './protect/protect.js';

const byName: Readonly<Record<FitName, Fit>> = { nearest, match, protect };

/** The fit of a name. */
export const fitNamed = (name: FitName): Fit => byName[name];

/** Every fit there is. */
export const fits: readonly Fit[] = fitNames.map((name) => byName[name]);

/** The fit of a document for which nobody chose one. */
export const defaultFitFor = (document: FittedDocument): Fit => {
  const found = fits.find(({ isDefaultFor }) => isDefaultFor.includes(document));
  if (!found) throw new RangeError(`no fit is the default for a ${document}`);
  return found;
};
