import {
  isLinkFrequency,
  type LinkFrequency,
  linkFrequencyFault,
  preEmphasisFault,
} from '../../../model/link-limits.js';
import { pathTo } from '../../../model/problem.js';
import type { FmStereoSystem, Rig } from '../../../model/rig.js';
import { type Breach, brokenBy, type Rule, rule } from '../rule.js';

/** A rule about each FM stereo system on its own. */
const fmStereoRule = (
  name: string,
  breaches: (system: FmStereoSystem, path: string) => readonly Breach[],
): Rule<Rig> =>
  rule(name, ({ systems }) =>
    Object.entries(systems).flatMap(([id, system]) =>
      system.link === 'fm-stereo' ? breaches(system, pathTo('systems', id)) : [],
    ),
  );

/** A system's audio band begins below where it ends; an FM stereo link's does where `link-limits` finds no fault. */
const audioBand: Rule<Rig> = rule('audio-band', ({ systems }) =>
  brokenBy(Object.entries(systems), ([id, { link, audioLowHz = 0, audioHighHz = Infinity }]) => {
    if (link === 'fm-stereo' || audioLowHz < audioHighHz) return null;
    const message = `The audio band goes from ${audioLowHz} Hz to ${audioHighHz} Hz; audioLowHz must be below audioHighHz. Are they swapped?`;
    return [pathTo(pathTo('systems', id), 'audioLowHz'), message];
  }),
);

const linkKeys: readonly LinkFrequency[] = ['audioLowHz', 'audioHighHz', 'pilotHz'];

/** Whether either limit of the audio would do in the other's place. */
const isSwapped = ({ audioLowHz, audioHighHz }: FmStereoSystem): boolean =>
  isLinkFrequency('audioLowHz', audioHighHz) && isLinkFrequency('audioHighHz', audioLowHz);

/** Audio limits and pilot are such as an FM stereo link can have. */
export const linkLimits = fmStereoRule('link-limits', (system, path) => {
  const { audioLowHz: lowHz, audioHighHz: highHz } = system;
  const swapped = isSwapped(system);
  const message = `The audio cannot begin at ${lowHz} Hz and end at ${highHz} Hz: the two are swapped. Write ${highHz} for audioLowHz and ${lowHz} for audioHighHz.`;
  const wrong = brokenBy(linkKeys, (key) => {
    const frequencyHz = swapped && key !== 'pilotHz' ? undefined : system[key];
    const fault = frequencyHz === undefined ? null : linkFrequencyFault(key, frequencyHz);
    return fault === null ? null : [pathTo(path, key), fault];
  });
  return swapped ? [[pathTo(path, 'audioLowHz'), message], ...wrong] : wrong;
});

/**
 * A pilot lies above the audio of its system, or no filter could keep the two apart. The usual one lies above all
 * audio there can be; what `link-limits` refuses is not told again.
 */
const pilotAboveAudio = fmStereoRule('pilot-above-audio', ({ pilotHz, audioHighHz }, path) => {
  if (pilotHz === undefined || pilotHz > audioHighHz) return [];
  if (!isLinkFrequency('pilotHz', pilotHz) || !isLinkFrequency('audioHighHz', audioHighHz)) return [];
  const message = `The pilot at ${pilotHz} Hz must lie above the audio, which goes up to ${audioHighHz} Hz (audioHighHz). Correct one of them.`;
  return [[pathTo(path, 'pilotHz'), message]];
});

/** An encoder's low-pass is told by its frequency and its slope, and lets the audio through. */
const encoderLowpass = fmStereoRule('encoder-lowpass', (system, path) => {
  const { encoderLowpassHz, encoderLowpassDbPerOctave, audioHighHz } = system;
  if ((encoderLowpassHz === undefined) !== (encoderLowpassDbPerOctave === undefined)) {
    const keys = ['encoderLowpassHz', 'encoderLowpassDbPerOctave'] as const;
    const [told, missing] = encoderLowpassHz === undefined ? [keys[1], keys[0]] : keys;
    const message = `${told} says nothing without ${missing}. Add it or, where it is not known, leave both out.`;
    return [[pathTo(path, told), message]];
  }
  if (encoderLowpassHz === undefined || encoderLowpassHz >= audioHighHz) return [];
  const message = `A low-pass at ${encoderLowpassHz} Hz would take away audio that goes up to ${audioHighHz} Hz (audioHighHz). Correct one of them.`;
  return [[pathTo(path, 'encoderLowpassHz'), message]];
});

/** Pre-emphasis is told in microseconds, not in seconds or milliseconds. */
const preEmphasisInMicroseconds = fmStereoRule('pre-emphasis-in-microseconds', (system, path) => {
  const { preEmphasisMicroseconds } = system;
  const fault = preEmphasisMicroseconds === undefined ? null : preEmphasisFault(preEmphasisMicroseconds);
  return fault === null ? [] : [[pathTo(path, 'preEmphasisMicroseconds'), fault]];
});

/** What holds for the systems of a rig. */
export const systemRules: readonly Rule<Rig>[] = [
  audioBand,
  linkLimits,
  pilotAboveAudio,
  encoderLowpass,
  preEmphasisInMicroseconds,
];
