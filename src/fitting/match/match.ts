import type { Band } from '../../model/recipe.js';
import type { Fit, FitOutcome } from '../fit.js';
import { nearest } from '../nearest.js';
import { errorOf, place } from '../placement.js';
import { stepsOf } from './band-space.js';
import { matchSpace, scored } from './match-space.js';
import { canSearchAll, searchAll } from './search-all.js';
import { searchNear } from './search-near.js';

const fitCurve: Fit['fit'] = (intents, context): FitOutcome => {
  const { desk, slots } = context;
  const plain = nearest.fit(intents, context);
  // What only stands in for another type could not follow its curve, and would drag the others after it.
  const followers = plain.bands.filter(({ type, asked }) => type === asked.type);
  if (followers.length === 0) return plain;
  const space = matchSpace(followers, slots, desk.target.realisations);
  const start = scored(space.start, space);
  const found = canSearchAll(space) ? searchAll(space, start) : searchNear(space, start);

  const moved = new Map<Band, Band>();
  followers.forEach((band, index) => {
    const bandSpace = space.bands[index];
    const setting = found.settings[index];
    if (!bandSpace || !setting) return;
    const { set, steps } = place(
      bandSpace.intent,
      bandSpace.slotType,
      desk.target.display,
      stepsOf(bandSpace, setting),
    );
    moved.set(band, { ...band, set, steps, error: errorOf(band.type, band.asked, set) });
  });
  const movedOf = (band: Band): Band => moved.get(band) ?? band;
  return {
    bands: plain.bands.map(movedOf),
    shortcomings: plain.shortcomings.map((each) =>
      'band' in each ? { ...each, band: movedOf(each.band) } : each,
    ),
  };
};

/**
 * The steps whose response lies closest to the curve asked for, the analogue prototypes of the intents: the
 * least greatest difference in dB, over 1/24-octave points from 20 Hz to 20 kHz, both curves floored at -60 dB,
 * in the worst of the ways the desk may build its filters; of those within a tenth of a dB of that, or two per
 * cent of it, the one with the smallest sum of squares. Filters that stand in for another type stay where nearest
 * puts them.
 *
 * Slots are given out as `nearest` gives them; then all knobs move together. Where there are few enough
 * combinations all of them are looked at and the best is taken; else it is a setting that no move of one band or
 * of two betters (see `search-near.ts`).
 */
export const match: Fit = {
  name: 'match',
  summary: 'the steps that together come closest to the curve asked for',
  fit: fitCurve,
};
