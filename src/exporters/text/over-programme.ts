import type { DbRange } from '../../guard/pilot-to-programme.js';
import type { Guard } from '../../model/recipe.js';

const signed = (valueDb: number): string => {
  const shown = (Number(valueDb.toFixed(1)) + 0).toFixed(1);
  return Number(shown) > 0 ? `+${shown}` : shown;
};

/** `-4.1 to +10.9 dB`; one figure where both ends show the same. */
const rangeText = ({ leastDb, mostDb }: DbRange): string =>
  `${[...new Set([signed(leastDb), signed(mostDb)])].join(' to ')} dB`;

/** How far the pilot stands above the programme in its window, and how far it stood before the filters. */
export const overProgrammeText = ({
  worst,
  unfilteredPilotToProgrammeDb: before,
  overDeviatingLineUpsDbfs: tooLoud,
}: Guard): string => {
  const { pilotToProgrammeDb: now } = worst;
  const told = now ? `${rangeText(now)} over pink noise` : 'nothing of pink noise falls into its window';
  return [
    told,
    ...(before ? [`was ${rangeText(before)}`] : []),
    ...(tooLoud.length > 0 ? [`line-ups of ${tooLoud.join(', ')} dBFS over-deviate`] : []),
  ].join('; ');
};
