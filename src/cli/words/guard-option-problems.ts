import { type GuardScope, guardScope } from '../../guard/guard-scope.js';
import { linkFrequencyFault } from '../../model/link-limits.js';
import { type Problem, problem } from '../../model/problem.js';
import { usualPilotHz } from '../../model/protection.js';
import type { Rig } from '../../model/rig.js';
import type { Target } from '../../model/target.js';
import { guardedSystems } from '../../recipes/rig-on-desk.js';
import { limits } from '../../units/generated/limits.js';
import { type GuardOptions, givenOption, guardWishes, type RigGuardOptions } from './guard-options.js';

// Apart from the options themselves, so that a help text loads none of this.

/** As wide and as lossy as a rig file may ask for. */
const { most: mostWindowHz } = limits.windowHz;
const { most: mostLossDb } = limits.keepLossDb;
const { most: mostAttenuationDb } = limits.pilotAttenuationDb;

type Fault = readonly [option: string, message: string];

const pilotFault = ({ pilot }: GuardOptions): Fault | null => {
  const told = pilot === undefined ? null : linkFrequencyFault('pilotHz', pilot);
  return told === null ? null : ['--pilot', told];
};

const lossFault = (option: string, lossDb: number | undefined, example: number): Fault | null => {
  if (lossDb === undefined || (lossDb >= 0 && lossDb <= mostLossDb)) return null;
  const wrong = lossDb < 0 ? 'would be a gain' : 'would leave no music';
  return [
    option,
    `A loss of ${lossDb} dB ${wrong}; give a number from 0 to ${mostLossDb}, as in ${example}.`,
  ];
};

const attenuationFault = ({ attenuation }: GuardOptions): Fault | null =>
  attenuation === undefined || (attenuation >= 0 && attenuation <= mostAttenuationDb)
    ? null
    : [
        '--attenuation',
        `An attenuation of ${attenuation} dB cannot be asked for; give a number from 0 to ${mostAttenuationDb}, as in 15.6.`,
      ];

/** A hard limit of a rig does not give way to reach anything. */
const stretchFault = ({ keepLossToReach }: GuardOptions, { isKeepLossStated }: GuardScope): Fault | null =>
  keepLossToReach !== undefined && isKeepLossStated
    ? [
        '--keep-loss-to-reach',
        'The rig states a hard limit, keepLossAtMostDb, beside which nothing more may be lost. Take it out of the rig, or give another with --keep-loss.',
      ]
    : null;

const keepFault = ({ keepHigh }: GuardOptions, { keepLowHz }: GuardScope): Fault | null =>
  keepHigh !== undefined && keepHigh <= keepLowHz
    ? [
        '--keep-high',
        `The music is kept from ${keepLowHz} Hz up; ${keepHigh} Hz is no upper end for it. Give a higher frequency, as in 12k.`,
      ]
    : null;

const windowFault = ({ window }: GuardOptions): Fault | null =>
  window !== undefined && window > mostWindowHz
    ? [
        '--window',
        `A window of +-${window} Hz is wider than the +-${mostWindowHz} Hz allowed; give less, as in 100.`,
      ]
    : null;

/** What lies beyond half of a sample rate is not there to be judged. */
const beyondFault = (
  options: GuardOptions,
  { pilotHz, windowHz, keepHighHz }: GuardScope,
  { id, realisations }: Pick<Target, 'id' | 'realisations'>,
): Fault | null => {
  const halfRateHz = Math.min(...realisations.map(({ sampleRateHz }) => sampleRateHz ?? Infinity)) / 2;
  const told = `is not below ${halfRateHz} Hz, half of the lowest sample rate target ${id} may run at; nothing is known there. Give a lower frequency.`;
  if (pilotHz + windowHz >= halfRateHz) {
    const option = givenOption(options, 'pilot', 'window') ?? '--target';
    return [option, `A pilot at ${pilotHz} Hz +-${windowHz} Hz ${told}`];
  }
  return keepHighHz >= halfRateHz
    ? [options.keepHigh === undefined ? '--target' : '--keep-high', `Music up to ${keepHighHz} Hz ${told}`]
    : null;
};

/** Nothing can be taken from the pilot's window and kept for the music at once. */
const overlapFault = (options: GuardOptions, { pilotHz, windowHz, keepHighHz }: GuardScope): Fault | null => {
  const option = givenOption(options, 'keepHigh', 'window');
  return option && pilotHz - windowHz <= keepHighHz
    ? [
        option,
        `The pilot at ${pilotHz} Hz +-${windowHz} Hz reaches into the music that is kept, up to ${keepHighHz} Hz. Keep less of it, or narrow the window.`,
      ]
    : null;
};

/** The first thing that makes no sense in what was asked for, given what it comes to; null where all does. */
const guardOptionProblem = (
  options: GuardOptions,
  scope: GuardScope,
  target: Pick<Target, 'id' | 'realisations'>,
): Problem | null => {
  const fault =
    pilotFault(options) ??
    lossFault('--keep-loss', options.keepLoss, 1) ??
    lossFault('--keep-loss-to-reach', options.keepLossToReach, 3) ??
    attenuationFault(options) ??
    stretchFault(options, scope) ??
    keepFault(options, scope) ??
    windowFault(options) ??
    beyondFault(options, scope, target) ??
    overlapFault(options, scope);
  return fault && problem('usage', ...fault);
};

/** What options come to where there is no rig. */
export const scopeOf = (options: GuardOptions): GuardScope =>
  guardScope(options.pilot ?? usualPilotHz, guardWishes(options));

/** The first thing that makes no sense in them on a desk; null where all does. */
export const deskGuardProblem = (
  options: GuardOptions,
  target: Pick<Target, 'id' | 'realisations'>,
): Problem | null => guardOptionProblem(options, scopeOf(options), target);

/** The first thing that makes no sense in them for any pilot of a rig; null where all does. */
export const rigGuardProblem = (
  options: RigGuardOptions,
  rig: Rig,
  { target }: { readonly target: Pick<Target, 'id' | 'realisations'> },
): Problem | null => {
  const problems = guardedSystems(rig).map(({ system: { pilotHz = usualPilotHz } }) => {
    const scope = guardScope(pilotHz, { ...rig.guard, ...guardWishes(options) });
    return guardOptionProblem(options, scope, target);
  });
  return problems.find((each) => each !== null) ?? null;
};
