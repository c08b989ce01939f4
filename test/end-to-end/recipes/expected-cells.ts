import type { FilterJson, MixJson, RecipeJson } from './shapes.js';

/** OWASP, "CSV Injection": an apostrophe before what a spreadsheet would take for a formula; a number is none. */
const guarded = (text: string): string =>
  /^[=+\-@]/.test(text) && typeof comparable(text) !== 'number' ? `'${text}` : text;

/** A cell by what it says: one number may be written in many ways. */
export const comparable = (text: string): number | string =>
  /^[+-]?\d+(\.\d+)?$/.test(text) ? Number(text) : text;

/** Whole and stated numbers as they are; what was worked out to six significant digits, or as many as a desk shows. */
const rounded = (value: number, shown = ''): number => {
  if (Number.isInteger(value) || Number(value.toPrecision(9)) === value) return value;
  const digitsShown = shown.replace(/[^\d.].*$/, '').replace(/^[0.]+|\./g, '').length;
  return Number(value.toPrecision(Math.max(6, digitsShown)));
};

const cell = (value: number | string | undefined, shown?: string): number | string => {
  if (value === undefined) return '';
  return typeof value === 'number' ? rounded(value, shown) : comparable(guarded(value));
};

/** A figure in decibels: within 0.0000005 of 0 it is 0. */
const decibels = (value: number | undefined): number | string =>
  cell(value !== undefined && Math.abs(value) <= 0.0000005 ? 0 : value);

const knobs = [
  ['frequency', 'frequencyHz', 'frequency_hz'],
  ['q', 'q', 'q'],
  ['bandwidth', 'bandwidthOctaves', 'bandwidth_octaves'],
  ['slope', 'slopeDbPerOctave', 'slope_db_per_octave'],
  ['gain', 'gainDb', 'gain_db'],
] as const;

const mixCells = ({ name, outputs, link, treatment, reason, guard }: MixJson) => ({
  mix: cell(name),
  output_left: cell(outputs[0]),
  output_right: cell(outputs[1]),
  link: cell(link ?? undefined),
  treatment,
  reason,
  pilot_hz: cell(guard?.pilotHz),
  pilot_attenuation_db: decibels(guard?.worst.pilotAttenuationDb),
  music_lost_db: decibels(guard?.worst.keepLossDb),
  rise_db: decibels(guard?.worst.riseDb),
  guard_band_db: decibels(guard?.worst.guardBandDb),
  pilot_to_programme_least_db: decibels(guard?.worst.pilotToProgrammeDb?.leastDb),
  pilot_to_programme_most_db: decibels(guard?.worst.pilotToProgrammeDb?.mostDb),
  verdict: cell(guard?.verdict),
});

const filterCells = (placed: FilterJson | undefined) => ({
  filter_state: placed ? 'set' : '',
  not_set_because: '',
  slot: cell(placed?.slot),
  role: cell(placed?.role),
  type: cell(placed?.type),
  error_frequency_hz: cell(placed?.error.frequencyHz),
  error_frequency_cents: cell(placed?.error.frequencyCents),
  error_q_ratio: cell(placed?.error.qRatio),
  error_gain_db: decibels(placed?.error.gainDb),
  ...Object.fromEntries(
    knobs.flatMap(([knob, value, column]) => {
      const position = placed?.steps[knob];
      return [
        [`asked_${column}`, cell(placed?.asked[value])],
        [`set_${column}`, cell(placed?.set[value], position?.display.replace(/^[+-]/, ''))],
        knob === 'gain'
          ? ['gain_shown_db', cell(position?.display.replace(/ dB$/, ''))]
          : [`${knob}_shown`, cell(position?.display)],
        [`${knob}_step`, cell(position?.index)],
        [`${knob}_step_count`, cell(position?.of)],
        [`${knob}_clicks_from_bottom`, cell(position?.fromBottom)],
        [`${knob}_clicks_from_top`, cell(position?.fromTop)],
      ];
    }),
  ),
});

/** The trade's words for the filters of a protective recipe (common practice, no source). */
const words: Readonly<Record<string, string>> = { highpass: 'low cut', lowpass: 'high cut', peaking: 'bell' };

/** A filter that is not set: what was asked, and the problem of its mix that tells of it by its word. */
const missingCells = (
  { role, type, why, asked }: MixJson['missing'][number],
  mixPath: string,
  of: RecipeJson,
) => {
  const told = of.problems.find(
    ({ path, code, message }) =>
      path === mixPath && code === why && message.startsWith(`Asked: ${words[type]} at `),
  );
  return {
    ...filterCells(undefined),
    filter_state: why,
    not_set_because: told?.message,
    role: cell(role),
    asked_type: type,
    ...Object.fromEntries(knobs.map(([, value, column]) => [`asked_${column}`, cell(asked[value])])),
  };
};

/** What a spreadsheet is to hold of a recipe: a row a filter, set or not, one for a mix without filters. */
export const expectedCells = (recipe: RecipeJson) =>
  recipe.mixes.flatMap((mix, index) => {
    const filters = [
      ...mix.filters.map(filterCells),
      ...mix.missing.map((each) => missingCells(each, `mixes[${index}]`, recipe)),
    ];
    const { rig, target } = recipe;
    return (filters.length === 0 ? [filterCells(undefined)] : filters).map((cells) => ({
      rig_title: cell(rig.title),
      target_id: target.id,
      ...mixCells(mix),
      ...cells,
    }));
  });
