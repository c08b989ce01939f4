import type { ComparedDesk, ServedDesk } from '../../analysis/compare/compared-desk.js';
import { type Cell, csvText } from '../../exporters/csv-records.js';
import { missingTexts, unfitText } from './desk-words.js';

/** Columns that only a desk on which the rig fits has: snake case, the unit at the end. */
const served: readonly { readonly name: string; readonly cell: (desk: ServedDesk) => Cell }[] = [
  { name: 'guarded_mixes', cell: ({ guardedMixCount }) => guardedMixCount },
  { name: 'pilot_attenuation_db', cell: ({ pilot }) => pilot?.attenuationDb ?? null },
  { name: 'pilot_short_by_db', cell: ({ short }) => short.pilotDb },
  { name: 'music_lost_db', cell: ({ keepLossDb }) => keepLossDb },
  { name: 'music_lost_over_by_db', cell: ({ short }) => short.lossDb },
  { name: 'rise_over_by_db', cell: ({ short }) => short.riseDb },
  { name: 'dials', cell: ({ dials }) => dials.knobs },
  { name: 'settings', cell: ({ dials }) => dials.settings },
  { name: 'legs_apart', cell: ({ dials }) => (dials.legsApart ? 'yes' : 'no') },
  { name: 'missing', cell: (desk) => missingTexts(desk).join('; ') },
  { name: 'otherwise_than_asked', cell: ({ otherwiseCount }) => otherwiseCount },
  { name: 'ways_of_building', cell: ({ wayCount }) => wayCount },
  { name: 'evidence_grid', cell: ({ evidence }) => evidence.grid },
  { name: 'evidence_response', cell: ({ evidence }) => evidence.response },
  { name: 'evidence_push', cell: ({ evidence }) => evidence.push },
  { name: 'not_proved', cell: ({ notProved }) => notProved },
];

/** The comparison as CSV (RFC 4180), a row a desk; what does not apply is an empty cell. */
export const comparisonCsv = (compared: readonly ComparedDesk[]): string =>
  csvText([
    [
      'place',
      'target',
      'target_id',
      'target_title',
      'verdict',
      ...served.map(({ name }) => name),
      'unfit_because',
    ],
    ...compared.map((desk, index) => [
      index + 1,
      desk.name,
      desk.id,
      desk.title,
      desk.fits ? desk.verdict : 'does-not-fit',
      ...served.map(({ cell }) => (desk.fits ? cell(desk) : null)),
      desk.fits ? null : unfitText(desk),
    ]),
  ]);
