import type { GuardFigures } from '../../guard/guard-figures.js';
import { type Knob, knobs } from '../../model/knob.js';
import type { PlacedFilter, Recipe, RecipeMix } from '../../model/recipe.js';
import type { Cell } from './rfc4180.js';

/** What a row tells of: a filter of a mix, or a mix without filters. */
export interface CsvRow {
  readonly recipe: Recipe;
  readonly mix: RecipeMix;
  readonly placed: PlacedFilter | null;
}

export interface CsvColumn {
  /** Snake case, the unit at the end. */
  readonly name: string;
  readonly meaning: string;
  cell(row: CsvRow): Cell;
}

const ofMix = (name: string, meaning: string, cell: (mix: RecipeMix, recipe: Recipe) => Cell): CsvColumn => ({
  name,
  meaning,
  cell: ({ mix, recipe }) => cell(mix, recipe),
});

const ofFilter = (
  name: string,
  meaning: string,
  cell: (placed: PlacedFilter) => Cell | undefined,
): CsvColumn => ({
  name,
  meaning,
  cell: ({ placed }) => (placed === null ? null : (cell(placed) ?? null)),
});

const timesToDial = ({ treatment, outputs }: RecipeMix, { target }: Recipe): number => {
  if (treatment === 'leave-alone') return 0;
  return target.stereo === 'legs-separate' && outputs.length > 1 ? outputs.length : 1;
};

const mixColumns: readonly CsvColumn[] = [
  ofMix('rig_title', 'title of the rig or intents file', (_, { rig }) => rig.title),
  ofMix('target_id', 'the desk, by the id of its target file', (_, { target }) => target.id),
  ofMix('mix', 'name of the mix', ({ name }) => name),
  ofMix('output_left', 'desk output, or the left one of a pair', ({ outputs }) => outputs[0] ?? null),
  ofMix('output_right', 'the right output of a pair', ({ outputs }) => outputs[1] ?? null),
  ofMix('times_to_dial', '2 where both legs of a pair are dialled, 0 for a mix left alone', timesToDial),
  ofMix('system', 'id of the in-ear system the mix feeds', ({ system }) => system),
  ofMix('link', 'fm-stereo, digital or wired', ({ link }) => link),
  ofMix('treatment', 'protect, leave-alone or as-asked', ({ treatment }) => treatment),
  ofMix('reason', 'why it is treated so', ({ reason }) => reason),
];

const filterColumns: readonly CsvColumn[] = [
  ofFilter('slot', 'slot of the desk', ({ slot }) => slot),
  ofFilter('role', 'what the filter is for', ({ role }) => role),
  ofFilter('type', 'filter type to set, by its W3C Web Audio name', ({ type }) => type),
  ofFilter('asked_type', 'filter type asked for', ({ asked }) => asked.type),
  ofFilter('asked_frequency_hz', 'frequency asked for', ({ asked }) => asked.frequencyHz),
  ofFilter('asked_q', 'Q asked for', ({ asked }) => asked.q),
  ofFilter('asked_bandwidth_octaves', 'bandwidth asked for', ({ asked }) => asked.bandwidthOctaves),
  ofFilter('asked_shelf_slope', 'shelf slope S asked for', ({ asked }) => asked.shelfSlope),
  ofFilter('asked_slope_db_per_octave', 'slope asked for', ({ asked }) => asked.slopeDbPerOctave),
  ofFilter('asked_gain_db', 'gain asked for', ({ asked }) => asked.gainDb),
];

const setNames: Readonly<Record<Knob, string>> = {
  frequency: 'set_frequency_hz',
  q: 'set_q',
  bandwidth: 'set_bandwidth_octaves',
  gain: 'set_gain_db',
  slope: 'set_slope_db_per_octave',
};

const knobColumns = (knob: Knob): readonly CsvColumn[] => [
  ofFilter(setNames[knob], `${knob} to set`, ({ set }) => set[knobs[knob].value]),
  ofFilter(`${knob}_shown`, `${knob} as the desk shows it`, ({ steps }) => steps[knob]?.display),
  ofFilter(`${knob}_step`, `step of the ${knob} knob, counted from 0`, ({ steps }) => steps[knob]?.index),
  ofFilter(`${knob}_step_count`, `how many steps the ${knob} knob has`, ({ steps }) => steps[knob]?.of),
  ofFilter(
    `${knob}_clicks_from_bottom`,
    'clicks up from the bottom stop',
    ({ steps }) => steps[knob]?.fromBottom,
  ),
  ofFilter(`${knob}_clicks_from_top`, 'clicks down from the top stop', ({ steps }) => steps[knob]?.fromTop),
];

const errorColumns: readonly CsvColumn[] = [
  ofFilter('family', 'layout of a cut with a slope', ({ set }) => set.family),
  ofFilter('error_frequency_hz', 'frequency set less asked', ({ error }) => error.frequencyHz),
  ofFilter('error_frequency_cents', 'the same as an interval', ({ error }) => error.frequencyCents),
  ofFilter('error_q_ratio', 'Q set over Q asked', ({ error }) => error.qRatio),
  ofFilter('error_gain_db', 'gain set less asked', ({ error }) => error.gainDb),
  ofFilter('error_slope_db_per_octave', 'slope set less asked', ({ error }) => error.slopeDbPerOctave),
];

const worst = (name: string, meaning: string, figure: (worst: GuardFigures) => Cell): CsvColumn =>
  ofMix(name, `${meaning}, the worst over every way the desk may build its filters`, ({ guard }) =>
    guard ? figure(guard.worst) : null,
  );

const overProgramme = 'pilot over the pink noise that falls into its window';

const guardColumns: readonly CsvColumn[] = [
  ofMix('pilot_hz', 'frequency of the pilot', ({ guard }) => guard?.pilotHz ?? null),
  worst('pilot_attenuation_db', 'least attenuation at the pilot', (each) => each.pilotAttenuationDb),
  worst('keep_loss_db', 'most loss in the placed to keep', (each) => each.keepLossDb),
  worst('rise_db', 'most rise above 0 dB', (each) => each.riseDb),
  worst('guard_band_db', 'reduction of programme round the pilot', (each) => each.guardBandDb),
  worst(
    'pilot_to_programme_least_db',
    `${overProgramme}, the least over line-ups and pre-emphases`,
    (each) => each.pilotToProgrammeDb?.leastDb ?? null,
  ),
  worst(
    'pilot_to_programme_most_db',
    `${overProgramme}, the most over line-ups and pre-emphases`,
    (each) => each.pilotToProgrammeDb?.mostDb ?? null,
  ),
  ofMix('verdict', 'met or falls-short', ({ guard }) => guard?.verdict ?? null),
];

/** Every column, in order: its name in the header row and what it means. */
export const csvColumns: readonly CsvColumn[] = [
  ...mixColumns,
  ...filterColumns,
  ...knobColumns('frequency'),
  ...knobColumns('q'),
  ...knobColumns('bandwidth'),
  ...knobColumns('slope'),
  ...knobColumns('gain'),
  ...errorColumns,
  ...guardColumns,
];
