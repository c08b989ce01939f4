/** A frequency that tells of an FM stereo link, by its key in a rig. */
export type LinkFrequency = 'audioLowHz' | 'audioHighHz' | 'pilotHz';

/**
 * What the frequencies of an FM stereo link can be. Broadcasting has audio from 50 Hz to 15 kHz and the pilot at
 * 19 kHz ± 2 Hz (47 CFR 73.322); the room round that is common practice, no source. What lies outside is a slip.
 */
export const linkRangesHz: Readonly<
  Record<LinkFrequency, { readonly leastHz: number; readonly mostHz: number }>
> = {
  audioLowHz: { leastHz: 5, mostHz: 300 },
  audioHighHz: { leastHz: 8000, mostHz: 18_000 },
  pilotHz: { leastHz: 16_000, mostHz: 22_000 },
};

const words: Readonly<Record<LinkFrequency, string>> = {
  audioLowHz: 'The audio of an FM stereo link begins',
  audioHighHz: 'The audio of an FM stereo link ends',
  pilotHz: 'The pilot of an FM stereo link lies',
};

export const isLinkFrequency = (key: LinkFrequency, frequencyHz: number): boolean =>
  frequencyHz >= linkRangesHz[key].leastHz && frequencyHz <= linkRangesHz[key].mostHz;

/** Drops the last bits that a change of unit leaves: 0.000075 s is 75 µs. */
export const inUnit = (value: number, unit: number): number => Number((value * unit).toPrecision(12));

/** What no FM stereo link has, and what to write where kHz stand for Hz; null for what one can have. */
export const linkFrequencyFault = (key: LinkFrequency, frequencyHz: number): string | null => {
  if (isLinkFrequency(key, frequencyHz)) return null;
  const { leastHz, mostHz } = linkRangesHz[key];
  const inHz = inUnit(frequencyHz, 1000);
  const mend = isLinkFrequency(key, inHz)
    ? `${frequencyHz} looks like kHz: write ${inHz}.`
    : "Take it from the transmitter's data sheet.";
  return `${words[key]} between ${leastHz} and ${mostHz} Hz, not at ${frequencyHz} Hz. ${mend}`;
};
