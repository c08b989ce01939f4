import { Option } from 'commander';
import type { GuardWishes } from '../../model/rig.js';
import { parseFrequency, parseGain } from '../../units/parse.js';
import type { Db, Hz } from '../../units/quantity.js';
import { parsedBy } from './options.js';

/** Options that ask for another guard than usual, or than a rig asks for. */
export interface GuardOptions {
  readonly pilot?: Hz;
  readonly window?: Hz;
  readonly keepHigh?: Hz;
  readonly keepLoss?: Db;
  readonly keepLossToReach?: Db;
  readonly attenuation?: Db;
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

export const keepLossToReachOption = (unless: string) =>
  new Option(
    '--keep-loss-to-reach <gain>',
    `the most it may lose there to reach the attenuation asked (default: ${unless})`,
  )
    .argParser(parsedBy(parseGain))
    .conflicts('keepLoss');

export const attenuationOption = (unless: string) =>
  new Option('--attenuation <gain>', `ask for so much at the pilot (default: ${unless})`).argParser(
    parsedBy(parseGain),
  );

/** What the options ask of a guard. */
export const guardWishes = ({
  window,
  keepHigh,
  keepLoss,
  keepLossToReach,
  attenuation,
}: GuardOptions): GuardWishes => ({
  ...(window === undefined ? {} : { windowHz: window }),
  ...(keepHigh === undefined ? {} : { keepHighHz: keepHigh }),
  ...(keepLoss === undefined ? {} : { keepLossAtMostDb: keepLoss }),
  ...(keepLossToReach === undefined ? {} : { keepLossToReachDb: keepLossToReach }),
  ...(attenuation === undefined ? {} : { pilotAttenuationAtLeastDb: attenuation }),
});

/** The first of some options that was given, as it is typed; null where none was. */
export const givenOption = (
  options: GuardOptions,
  ...names: readonly (keyof GuardOptions)[]
): string | null => {
  const name = names.find((each) => options[each] !== undefined);
  return name === undefined ? null : `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
};
