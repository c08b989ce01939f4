import type { NearFrequency, PilotCut, PilotReach } from '../../fitting/pilot-reach.js';
import { placedFilter } from '../../fitting/placement.js';
import { filterPhrase } from '../../model/words.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { formatCents, formatFrequency, formatPerCent } from '../../units/format.js';
import { tableLines } from '../table.js';
import { wrap } from '../wrap.js';
import type { CheckedTarget } from './run-check.js';

const widest = 80;

const signedHz = (valueHz: number): string => `${valueHz > 0 ? '+' : ''}${valueHz.toFixed(1)} Hz`;

/** How far a frequency lies from the pilot, in the three ways people say it. */
export const offsetCells = (near: NearFrequency): readonly string[] => [
  signedHz(near.offsetHz),
  formatCents(near.offsetCents),
  formatPerCent(near.offsetFraction),
];

const nearRow = (word: string, near: NearFrequency | null): readonly string[] =>
  near
    ? [`  ${word}`, formatFrequency(near.frequencyHz), ...offsetCells(near)]
    : [`  ${word}`, 'none', '', '', ''];

const taken = (cut: PilotCut | null): string =>
  cut ? `${cut.attenuationDb.toFixed(1)} dB` : 'not to be had';

const settingOf = (cut: PilotCut | null): string =>
  cut ? filterPhrase(placedFilter(cut.type, cut.set)) : '';

/** What a narrow cut off the pilot does, with the figures, where the two differ enough to be worth saying. */
const warning = ({ nearest, byRealisation }: PilotReach): string | null => {
  if (!nearest || nearest.offsetHz === 0) return null;
  const told = byRealisation
    .filter(({ best, narrowest }) => best && narrowest && best.attenuationDb - narrowest.attenuationDb >= 1)
    .sort((a, b) => (a.narrowest?.attenuationDb ?? 0) - (b.narrowest?.attenuationDb ?? 0))[0];
  if (!told?.best || !told.narrowest) return null;
  return `A very narrow cut that misses the pilot does little: built as ${told.id}, the narrowest setting takes ${taken(told.narrowest)} out at the pilot, the best one ${taken(told.best)}. Widen it, or move other filters too.`;
};

/** One target's nearness to the pilot, for people. */
export const reachLines = ({ target, reach }: CheckedTarget, scope: GuardScope): readonly string[] => {
  const head = [`${target.id}: ${target.title}`, ''];
  if (!reach.nearest) {
    return [
      ...head,
      `It has neither bell nor notch near ${formatFrequency(reach.pilotHz)}: nothing of it can be set on the pilot.`,
    ];
  }
  const told = warning(reach);
  return [
    ...head,
    `Frequencies its bells and notches can take next to the pilot, ${formatFrequency(reach.pilotHz)}:`,
    ...tableLines(
      [
        nearRow('below', reach.below),
        ...(reach.at ? [nearRow('on it', reach.at)] : []),
        nearRow('above', reach.above),
      ],
      [1, 2, 3, 4],
    ),
    '',
    ...wrap(
      `What one of them takes out at the pilot itself: the best setting that costs the music at most ${scope.keepLossAtMostDb} dB up to ${formatFrequency(scope.keepHighHz)}, and the narrowest one.`,
      widest,
    ),
    ...tableLines(
      [
        ['  built as', 'best', 'set to', 'narrowest'],
        ...reach.byRealisation.map(({ id, best, narrowest }) => [
          `  ${id}`,
          taken(best),
          settingOf(best),
          taken(narrowest),
        ]),
      ],
      [1, 3],
    ),
    ...(told ? ['', ...wrap(told, widest)] : []),
  ];
};
