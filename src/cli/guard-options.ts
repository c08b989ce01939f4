import { Option } from 'commander';
import type { GuardWishes } from '../model/rig.js';
import { parseFrequency, parseGain } from '../units/parse.js';
import type { Db, Hz } from '../units/quantity.js';
import { parsedBy } from './options.js';

/** Options that ask for another guard than usual, or than a rig asks for. */
export interface GuardOptions {
  readonly pilot?: Hz;
  readonly window?: Hz;
  readonly keepHigh?: Hz;
  readonly keepLoss?: Db;
}

export const pilotOption = () =>
  new Option(
    '--pilot <frequency>',
    'where the pilot is, 16 to 22 kHz (default: 19 kHz, as FM stereo has it)',
  ).argParser(parsedBy(parseFrequency));

/** Options of a guard; `unless` tells what holds without them. */
export const windowOption = (unless: string) =>
  new Option('--window <frequency>', `judge the pilot so far to either side (default: ${unless})`).argParser(
    parsedBy(parseFrequency),
  );

export const keepHighOption = (unless: string) =>
  new Option('--keep-high <frequency>', `keep the music up to here (default: ${unless})`).argParser(
    parsedBy(parseFrequency),
  );

export const keepLossOption = (unless: string) =>
  new Option('--keep-loss <gain>', `the most the music may lose there (default: ${unless})`).argParser(
    parsedBy(parseGain),
  );

/** What the options ask of a guard. */
export const guardWishes = ({ window, keepHigh, keepLoss }: GuardOptions): GuardWishes => ({
  ...(window === undefined ? {} : { windowHz: window }),
  ...(keepHigh === undefined ? {} : { keepHighHz: keepHigh }),
  ...(keepLoss === undefined ? {} : { keepLossLimitDb: keepLoss }),
});

/** The first of some options that was given, as it is typed; null where none was. */
export const givenOption = (
  options: GuardOptions,
  ...names: readonly (keyof GuardOptions)[]
): string | null => {
  const name = names.find((each) => options[each] !== undefined);
  return name === undefined ? null : `--${name.replace(/[A-Z]/, (letter) => `-${letter.toLowerCase()}`)}`;
};
