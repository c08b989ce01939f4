import { type Command, Option } from 'commander';
import type { GuardWishes } from '../../model/rig.js';
import { parseCount, parseFrequency, parseGain } from '../../units/parse.js';
import type { Db, Hz } from '../../units/quantity.js';
import type { Result } from '../../units/result.js';
import { helpGroups, parsedBy } from './options.js';

/** What is asked of a guard on the command line; what is left out is as usual, or as a rig asks. */
export interface GuardOptions {
  readonly pilot?: Hz;
  readonly window?: Hz;
  readonly keepHigh?: Hz;
  readonly keepLoss?: Db;
  readonly keepLossToReach?: Db;
  readonly attenuation?: Db;
}

/** The same beside a rig, which says itself where its pilots are. */
export type RigGuardOptions = Omit<GuardOptions, 'pilot'>;

/** How an option is typed and told, and what holds without it where no rig says otherwise. */
interface GuardOption {
  readonly flags: string;
  readonly what: string;
  readonly usual: string;
  readonly parse: (text: string) => Result<number, string>;
}

const guardOptions: Readonly<Record<keyof GuardOptions, GuardOption>> = {
  pilot: {
    flags: '--pilot <frequency>',
    what: 'where the pilot is, 16 to 22 kHz',
    usual: '19 kHz, as FM stereo has it',
    parse: parseFrequency,
  },
  window: {
    flags: '--window <frequency>',
    what: 'judge the pilot so far to either side',
    usual: '100 Hz',
    parse: parseFrequency,
  },
  keepHigh: {
    flags: '--keep-high <frequency>',
    what: 'keep the music up to here',
    usual: '12 kHz',
    parse: parseFrequency,
  },
  keepLoss: {
    flags: '--keep-loss <dB>',
    what: 'the most music that may be lost there',
    usual: 'what the filters as asked would cost',
    parse: parseGain,
  },
  keepLossToReach: {
    flags: '--keep-loss-to-reach <dB>',
    what: 'the most that may be lost there to reach the attenuation asked',
    usual: '3 dB',
    parse: parseGain,
  },
  attenuation: {
    flags: '--attenuation <dB>',
    what: 'ask for so much at the pilot',
    usual: 'what pre-emphasis adds there',
    parse: parseGain,
  },
};

const guardOption = (name: keyof GuardOptions, before: string): Option => {
  const { flags, what, usual, parse } = guardOptions[name];
  const option = new Option(flags, `${what} (default: ${before}${usual})`)
    .argParser(parsedBy(parse))
    .helpGroup(helpGroups.guard);
  return name === 'keepLossToReach' ? option.conflicts('keepLoss') : option;
};

export const spareSlotsOption = (): Option =>
  new Option('--spare-slots <n>', 'slots that may be spent on further cuts near the pilot')
    .argParser(parsedBy((text) => parseCount(text, 0)))
    .default(0)
    .helpGroup(helpGroups.guard);

/** Adds options of a guard to a command that reads no rig. */
export const addGuardOptions = (command: Command, names: readonly (keyof GuardOptions)[]): Command =>
  names.reduce((to, name) => to.addOption(guardOption(name, '')), command);

/** Adds every option of a guard to a command that reads a rig: what is asked here comes before what the rig asks. */
export const addRigGuardOptions = (command: Command): Command =>
  (['window', 'keepHigh', 'keepLoss', 'keepLossToReach', 'attenuation'] as const)
    .reduce((to, name) => to.addOption(guardOption(name, 'as the rig asks, or ')), command)
    .addOption(spareSlotsOption());

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
  return name === undefined ? null : (guardOptions[name].flags.split(' ')[0] ?? null);
};
