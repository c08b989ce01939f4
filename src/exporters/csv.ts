import type { GuardFigures } from '../guard/guard-figures.js';
import type { Intent } from '../model/intent.js';
import { type Knob, knobs } from '../model/knob.js';
import type { MissingFilter, PlacedFilter, Recipe, RecipeMix } from '../model/recipe.js';
import { ok } from '../units/result.js';
import { type Cell, csvText, numberText } from './csv-records.js';
import type { Exporter } from './exporter.js';

/** A filter asked for that is not set, and why in words where the recipe tells. */
interface Unset extends MissingFilter {
  readonly because: string | null;
}

/** What a row tells of: a filter of a mix, one that is not set, or a mix without any. */
interface CsvRow {
  readonly recipe: Recipe;
  readonly mix: RecipeMix;
  readonly placed?: PlacedFilter;
  readonly unset?: Unset;
}

interface CsvColumn {
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
  cell: ({ placed }) => (placed ? cell(placed) : null) ?? null,
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

/** A column about what was asked, also of a filter that is not set. */
const ofAsked = (name: string, meaning: string, cell: (asked: Intent) => Cell | undefined): CsvColumn => ({
  name,
  meaning,
  cell: ({ placed, unset }) => {
    const asked = placed?.asked ?? unset?.asked;
    return asked ? (cell(asked) ?? null) : null;
  },
});

const filterColumns: readonly CsvColumn[] = [
  {
    name: 'filter_state',
    meaning: 'set; no-place where no slot was left for it, left-out where the pilot is better off without it',
    cell: ({ placed, unset }) => (placed ? 'set' : (unset?.why ?? null)),
  },
  {
    name: 'not_set_because',
    meaning: 'what was asked, why it is not set, what to change',
    cell: ({ unset }) => unset?.because ?? null,
  },
  ofFilter('slot', 'slot of the desk', ({ slot }) => slot),
  {
    name: 'role',
    meaning: 'what the filter is for',
    cell: ({ placed, unset }) => (placed ?? unset)?.role ?? null,
  },
  ofFilter('type', 'filter type to set, by its W3C Web Audio name', ({ type }) => type),
  {
    name: 'asked_type',
    meaning: 'filter type asked for',
    cell: ({ placed, unset }) => placed?.asked.type ?? unset?.type ?? null,
  },
  ofAsked('asked_frequency_hz', 'frequency asked for', (asked) => asked.frequencyHz),
  ofAsked('asked_q', 'Q asked for', (asked) => asked.q),
  ofAsked('asked_bandwidth_octaves', 'bandwidth asked for', (asked) => asked.bandwidthOctaves),
  ofAsked('asked_shelf_slope', 'shelf slope S asked for', (asked) => asked.shelfSlope),
  ofAsked('asked_slope_db_per_octave', 'slope asked for', (asked) => asked.slopeDbPerOctave),
  ofAsked('asked_gain_db', 'gain asked for', (asked) => asked.gainDb),
];

/** So many digits has the number a desk shows; none where it shows no number. */
const digitsShown = (shown: string): number =>
  /\d+(?:\.\d+)?/.exec(shown)?.[0].replace('.', '').replace(/^0+/, '').length ?? 0;

/** What is to be dialled, no shorter than the desk shows it. */
const dialled = (knob: Knob, { set, steps }: PlacedFilter): Cell => {
  const value = set[knobs[knob].value];
  return value === undefined ? null : numberText(value, digitsShown(steps[knob]?.display ?? ''));
};

/** A gain bare of its unit, so that its sign begins a number and no formula. */
const shown = (knob: Knob, { steps }: PlacedFilter): Cell => {
  const display = steps[knob]?.display ?? null;
  return knob === 'gain' && display !== null ? display.replace(/ dB$/, '') : display;
};

const shownNames: Readonly<Record<Knob, string>> = {
  frequency: 'frequency_shown',
  q: 'q_shown',
  bandwidth: 'bandwidth_shown',
  gain: 'gain_shown_db',
  slope: 'slope_shown',
};

const setNames: Readonly<Record<Knob, string>> = {
  frequency: 'set_frequency_hz',
  q: 'set_q',
  bandwidth: 'set_bandwidth_octaves',
  gain: 'set_gain_db',
  slope: 'set_slope_db_per_octave',
};

const knobColumns = (knob: Knob): readonly CsvColumn[] => [
  ofFilter(setNames[knob], `${knob} to set`, (placed) => dialled(knob, placed)),
  ofFilter(shownNames[knob], `${knob} as the desk shows it`, (placed) => shown(knob, placed)),
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
  ofFilter('family', 'family of a cut with a slope', ({ set }) => set.family),
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
  worst('music_lost_db', 'most that is lost of the music to keep', (each) => each.keepLossDb),
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

/** The filters of a mix that are not set; a recipe tells of them in order, among its problems. */
const unsetOf = ({ problems }: Recipe, { missing }: RecipeMix, path: string): readonly Unset[] =>
  missing.map((each, index) => {
    const before = missing.slice(0, index).filter(({ why }) => why === each.why).length;
    const told = problems.filter((problem) => problem.code === each.why && problem.path === path);
    return { ...each, because: told[before]?.message ?? null };
  });

/** A row for each filter of each mix, set or not, and one for a mix without any. */
const rowsOf = (recipe: Recipe): readonly CsvRow[] =>
  recipe.mixes.flatMap((mix, index): readonly CsvRow[] => {
    const rows = [
      ...mix.filters.map((placed) => ({ recipe, mix, placed })),
      ...unsetOf(recipe, mix, `mixes[${index}]`).map((unset) => ({ recipe, mix, unset })),
    ];
    return rows.length > 0 ? rows : [{ recipe, mix }];
  });

/**
 * The recipe as CSV (RFC 4180) with a header row: a row a filter, one that is not set included, and a row for a mix
 * without filters. Columns are told by `csvColumns`; what is not known or does not apply is an empty cell. Numbers that
 * were worked out have six significant digits, those to be dialled as many as the desk shows, and decibels
 * within 0.0000005 of 0 are 0; the JSON form has them all. How text is kept from being a formula is told at `csvText`.
 */
export const csv: Exporter = {
  name: 'csv',
  summary: 'one row a filter, for spreadsheets',
  fileName: 'recipe.csv',
  mediaType: 'text/csv; charset=utf-8; header=present',
  content: (recipe) => {
    const header = csvColumns.map(({ name }) => name);
    const rows = rowsOf(recipe).map((row) => csvColumns.map(({ cell }) => cell(row)));
    return ok(csvText([header, ...rows]));
  },
};
