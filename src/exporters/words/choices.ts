import { type GuardFigures, roundingDb } from '../../guard/guard-figures.js';
import { knobNames } from '../../model/knob.js';
import type { Guard, PlacedFilter, RecipeMix } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { displayText } from './settings.js';

/** A filter in a word, and its slot where another is called the same. */
const nameAmong = ({ type, slot }: PlacedFilter, filters: readonly PlacedFilter[]): string =>
  filters.filter((each) => each.type === type).length > 1 ? `${typeWords[type]} in ${slot}` : typeWords[type];

/** What becomes of one filter: the knobs that stand elsewhere, or that it is not there any more. */
const movesOf = (
  before: PlacedFilter,
  befores: readonly PlacedFilter[],
  afters: readonly PlacedFilter[],
): readonly string[] => {
  const after = afters.find(({ role }) => role === before.role);
  if (!after) return [`${nameAmong(before, befores)} left out`];
  if (after.type !== before.type) return [`${nameAmong(before, befores)} made a ${typeWords[after.type]}`];
  const moved = knobNames.flatMap((knob) => {
    const [from, to] = [before.steps[knob], after.steps[knob]];
    // Steps that a screen shows alike nobody can tell apart.
    return from && to && from.index !== to.index && from.display !== to.display
      ? [`${displayText(knob, from)} -> ${displayText(knob, to)}`]
      : [];
  });
  return moved.length > 0 ? [`${nameAmong(after, afters)} ${moved.join(', ')}`] : [];
};

/** How some filters differ from others, knob by knob. */
export const changesOf = (
  before: readonly PlacedFilter[],
  after: readonly PlacedFilter[],
): readonly string[] => [
  ...before.flatMap((placed) => movesOf(placed, before, after)),
  ...after
    .filter(({ role }) => !before.some((each) => each.role === role))
    .map(({ type }) => `a ${typeWords[type]} added`),
];

/** What is told of one setting: dB at the pilot, dB of music lost, and in words how it is had. */
export interface SettingChoice {
  readonly name: string;
  readonly pilot: string;
  readonly music: string;
  readonly about: readonly string[];
  /** What somebody may copy from it. */
  readonly whole?: readonly string[];
}

export const tenths = (valueDb: number): string => (Number(valueDb.toFixed(1)) + 0).toFixed(1);

export const figuresOf = ({ pilotAttenuationDb, keepLossDb }: GuardFigures) => ({
  pilot: tenths(pilotAttenuationDb),
  music: tenths(Math.max(0, keepLossDb)),
});

/** A limit that lets a loss be, as it is typed: to the hundredth up. */
const limitText = (lossDb: number): string => String(Math.ceil(Math.max(0, lossDb) * 100 - 1e-6) / 100);

const byHand = (worst: GuardFigures, { limits, worst: chosen }: Guard): readonly string[] => {
  const mostDb = limits.keepLossAsAskedDb ?? limits.keepLossAtMostDb;
  // Where it takes more at the pilot and was not chosen, a reader wants to know why.
  const isTooMuch =
    worst.keepLossDb > mostDb + roundingDb && worst.pilotAttenuationDb > chosen.pilotAttenuationDb;
  return [
    'every knob at its own nearest step',
    ...(isTooMuch ? [`loses more than the ${tenths(mostDb)} dB of the filters as asked`] : []),
  ];
};

/**
 * The choice beside what every knob at its own nearest step would give, and beside the setting a person may prefer: dB
 * taken out at the pilot and dB of music lost, each in the worst way the desk may build its filters. Nothing where
 * nothing was chosen.
 */
export const choicesOf = ({ filters, guard, nearest, alternative }: RecipeMix): readonly SettingChoice[] => {
  if (!guard || !nearest) return [];
  const moved = changesOf(nearest.filters, filters);
  if (moved.length === 0 && !alternative) return [];
  const choices: SettingChoice[] = [
    { name: 'by hand', ...figuresOf(nearest.worst), about: byHand(nearest.worst, guard) },
    {
      name: 'chosen',
      ...figuresOf(guard.worst),
      about: moved.length > 0 ? moved : ['the same, as far as the desk shows'],
    },
  ];
  if (alternative) {
    const { kind, worst, isHadByLimit } = alternative;
    const option = `--keep-loss ${limitText(worst.keepLossDb)}`;
    const how = isHadByLimit ? [`to have it: ${option}`] : [];
    const about = [...changesOf(filters, alternative.filters), ...how];
    choices.push({ name: kind, ...figuresOf(worst), about, whole: [option] });
  }
  return choices;
};
