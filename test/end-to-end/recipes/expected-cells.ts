import type { BandJson, MixJson, RecipeJson } from './shapes.js';

/** OWASP, "CSV Injection": an apostrophe before what a spreadsheet would take for a formula. */
const guarded = (text: string): string => (/^[=+\-@]/.test(text) ? `'${text}` : text);

/** A cell by what it says: one number may be written in many ways. */
export const comparable = (text: string): number | string =>
  /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text;

const cell = (value: number | string | undefined): number | string => {
  if (value === undefined) return '';
  return typeof value === 'number' ? value : comparable(guarded(value));
};

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
  pilot_attenuation_db: cell(guard?.worst.pilotAttenuationDb),
  keep_loss_db: cell(guard?.worst.keepLossDb),
  rise_db: cell(guard?.worst.riseDb),
  guard_band_db: cell(guard?.worst.guardBandDb),
  pilot_to_programme_least_db: cell(guard?.worst.pilotToProgrammeDb?.leastDb),
  pilot_to_programme_most_db: cell(guard?.worst.pilotToProgrammeDb?.mostDb),
  verdict: cell(guard?.verdict),
});

const bandCells = (placed: BandJson | undefined) => ({
  slot: cell(placed?.slot),
  role: cell(placed?.role),
  type: cell(placed?.type),
  error_frequency_hz: cell(placed?.error.frequencyHz),
  error_frequency_cents: cell(placed?.error.frequencyCents),
  error_q_ratio: cell(placed?.error.qRatio),
  error_gain_db: cell(placed?.error.gainDb),
  ...Object.fromEntries(
    knobs.flatMap(([knob, value, column]) => {
      const position = placed?.steps[knob];
      return [
        [`asked_${column}`, cell(placed?.asked[value])],
        [`set_${column}`, cell(placed?.set[value])],
        [`${knob}_shown`, cell(position?.display)],
        [`${knob}_step`, cell(position?.index)],
        [`${knob}_step_count`, cell(position?.of)],
        [`${knob}_clicks_from_bottom`, cell(position?.fromBottom)],
        [`${knob}_clicks_from_top`, cell(position?.fromTop)],
      ];
    }),
  ),
});

/** What a spreadsheet is to hold of a recipe: a row a filter, one for a mix without filters. */
export const expectedCells = ({ rig, target, mixes }: RecipeJson) =>
  mixes.flatMap((mix) =>
    (mix.filters.length === 0 ? [undefined] : mix.filters).map((placed) => ({
      rig_title: cell(rig.title),
      target_id: target.id,
      ...mixCells(mix),
      ...bandCells(placed),
    })),
  );
