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

/** Whether an FM stereo link can have that frequency there. */
export const isLinkFrequency = (key: LinkFrequency, frequencyHz: number): boolean =>
  frequencyHz >= linkRangesHz[key].leastHz && frequencyHz <= linkRangesHz[key].mostHz;

/** Drops the last bits that a change of unit leaves: 0.000075 s is 75 µs. */
const inUnit = (value: number, unit: number): number => Number((value * unit).toPrecision(12));

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

/**
 * The pre-emphasis time constants there are: 50 µs (ITU-R BS.450), 75 µs (47 CFR 73.317); 25 µs and none in a few
 * links (from memory).
 */
export const knownPreEmphasesMicroseconds: readonly number[] = [0, 25, 50, 75];

/** The same in words, as a sentence ends. */
export const knownPreEmphasesText = '50 or 75, in few links 25 or 0';

/** 1 µs adds 0.06 dB at 19 kHz (ITU-R BS.450's curve): less than that is a slip, or none at all. */
const leastMicroseconds = 1;

/** What a time constant may come to in microseconds to be recognised in another unit. Common practice, no source. */
const recognisedMicroseconds = { least: 10, most: 150 };

const otherUnits = [
  { words: 'milliseconds', microseconds: 1e3 },
  { words: 'seconds', microseconds: 1e6 },
] as const;

/** Why a number cannot be a pre-emphasis in microseconds, and what to write; null where it can. */
export const preEmphasisFault = (told: number): string | null => {
  if (told === 0 || told >= leastMicroseconds) return null;
  for (const { words, microseconds } of otherUnits) {
    const meant = inUnit(told, microseconds);
    if (meant >= recognisedMicroseconds.least && meant <= recognisedMicroseconds.most) {
      return `Pre-emphasis is told in microseconds. ${told} is too little for that; that is ${meant} microseconds in ${words}: write ${meant}.`;
    }
  }
  return `Pre-emphasis is told in microseconds: 0 for none, or at least ${leastMicroseconds}, not ${told}. Usual are ${knownPreEmphasesText}.`;
};

/** The usual pre-emphasis that one so far from it was most likely meant for: a digit too many, or the point misplaced. */
export const tenfoldMeant = (microseconds: number): number | undefined =>
  knownPreEmphasesMicroseconds.find(
    (known) => known > 0 && (microseconds === known * 10 || microseconds * 10 === known),
  );
