import { responseCurves } from '../analysis/response-curves.js';
import { closeHz, type ResponseView } from '../drawing/response-figure.js';
import type { Desk } from '../model/desk.js';
import type { Guard, PlacedFilter, RecipeMix } from '../model/recipe.js';
import type { Target } from '../model/target.js';
import { typeWords } from '../model/words.js';
import { stepsAround } from '../quantisers/snap.js';
import { formatDecibels, formatFrequency } from '../units/format.js';
import { step } from '../units/quantity.js';

/** The filters at the pilot, the one asked for and further ones beside it. */
const pilotCutsOf = ({ filters }: RecipeMix): readonly PlacedFilter[] =>
  filters.filter(({ asked }) => asked.role === 'pilot-cut');

/** Where the knob of the pilot's filter can stand in the close look. */
const knobOf = (mix: RecipeMix, desk: Desk | undefined): ResponseView['knob'] => {
  const cuts = pilotCutsOf(mix);
  const [first] = cuts;
  const slot = desk?.slots.find(({ id }) => id === first?.slot);
  const grid = first && slot?.types.get(first.type)?.grids.frequency;
  if (!first || !grid) return null;
  const [low, high] = closeHz.map((frequencyHz) => stepsAround(grid, frequencyHz));
  const from = low?.at ?? low?.above;
  const to = high?.at ?? high?.below;
  if (from == null || to == null || to < from) return null;
  return {
    what: `${typeWords[first.type]} in ${first.slot}`,
    count: to - from + 1,
    frequencyHz: (index) => grid.valueAt(step(from + index)),
    setHz: cuts.map(({ set }) => set.frequencyHz),
  };
};

const guardOf = (guard: Guard): NonNullable<ResponseView['guard']> => ({
  pilotHz: guard.pilotHz,
  windowHz: guard.windowHz,
  attenuationAtLeastDb: guard.limits.pilotAttenuationAtLeastDb,
  keepLowHz: guard.keepLowHz,
  keepHighHz: guard.keepHighHz,
  keepLossAtMostDb: guard.limits.keepLossAtMostDb,
  linkEndsHz: guard.audioHighHz ?? null,
});

/** The figure in words: for who does not see it. */
const descriptionOf = ({ guard, filters }: RecipeMix, ways: number): string => {
  const set = filters.map(({ type, set }) => `${typeWords[type]} at ${formatFrequency(set.frequencyHz)}`);
  const over = ways === 1 ? '' : `, in the worst of ${ways} ways the desk may build its filters`;
  return [
    `Level in dB over frequency, 20 Hz to 22 kHz and close from 12 to 20 kHz. Set: ${set.join('; ')}.`,
    ...(guard
      ? [
          `At the pilot, ${formatFrequency(guard.pilotHz)} +-${guard.windowHz} Hz, ${formatDecibels(guard.worst.pilotAttenuationDb)} are taken and ${formatDecibels(guard.limits.pilotAttenuationAtLeastDb)} asked${over}.`,
        ]
      : []),
  ].join(' ');
};

/** What a response figure shows of a mix: its curves, its guard, and where the desk's knob can stand. */
export const responseView = (mix: RecipeMix, target: Target, desk: Desk | undefined): ResponseView => {
  const { frequenciesHz, asked, set, nearest, realisation } = responseCurves(mix, target);
  const count = target.realisations.length;
  return {
    title: 'What the filters do over frequency',
    description: descriptionOf(mix, count),
    frequenciesHz,
    asked,
    set,
    byHand: nearest?.levelsDb ?? null,
    ways: { count, drawn: realisation },
    guard: mix.guard && guardOf(mix.guard),
    knob: knobOf(mix, desk),
  };
};
