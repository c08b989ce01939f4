import type { Tradeoff, TradeoffPoint } from '../../analysis/tradeoff.js';
import { csvText } from '../../exporters/csv-records.js';
import { placedFilter } from '../../fitting/placement.js';
import { filterPhrase } from '../../model/words.js';

const header = ['chosen_by', 'music_lost_at_most_db', 'music_lost_db', 'pilot_attenuation_db', 'settings'];

const cells = ({ keepLossDb, pilotAttenuationDb, filters }: TradeoffPoint) => [
  keepLossDb,
  pilotAttenuationDb,
  filters.map(({ slot, type, set }) => `${slot}: ${filterPhrase(placedFilter(type, set))}`).join('; '),
];

/**
 * The frontier as CSV (RFC 4180), and two rows that keep no limit: for nearest, and for the least loss that reaches the
 * attenuation asked.
 */
export const tradeoffCsv = ({ frontier, nearest, asked }: Tradeoff): string =>
  csvText([
    header,
    ...frontier.map((point) => ['protect', point.keepLossAtMostDb, ...cells(point)]),
    ['nearest', null, ...cells(nearest)],
    ...(asked.reached ? [['least-loss-as-asked', null, ...cells(asked.reached)]] : []),
  ]);
