import { placedFilter } from '../../fitting/placement.js';
import type { NearFrequency, PilotCut, PilotReach } from '../../fitting/reach/pilot-reach.js';
import { filterPhrase } from '../../model/words.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { formatFrequency } from '../../units/format.js';
import { tableLines } from '../table.js';
import { wrap } from '../wrap.js';
import { decibels, offsetNumbers } from './reach-words.js';
import type { CheckedTarget } from './run-reach.js';

const widest = 80;

const nearRow = (word: string, near: NearFrequency | null): readonly string[] => {
  if (!near) return [`  ${word}`, 'none', '', '', ''];
  const [hertz, cents, perCent] = offsetNumbers(near);
  return [
    `  ${word}`,
    `${(near.frequencyHz / 1000).toFixed(3)} kHz`,
    `${hertz} Hz`,
    `${cents} cents`,
    `${perCent} %`,
  ];
};

const taken = (cut: PilotCut | null): string => (cut ? `${decibels(cut.attenuationDb)} dB` : 'not to be had');

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
